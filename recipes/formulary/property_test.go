package formulary_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"labsite/recipes/formulary"
)

// worked is the value of a formula with numbers put in, in base units.
func worked(t *rapid.T, form string, args ...any) float64 {
	text := fmt.Sprintf(form, args...)
	w, list := formulary.Load().Work(text)
	if len(list) > 0 || w.Refused != "" {
		t.Fatalf("%s: %v%s", text, list, w.Refused)
	}
	return w.Base
}

func near(t *rapid.T, got, want float64, what string) {
	if math.Abs(got-want) > 1e-9*math.Max(math.Abs(want), 1e-6) {
		t.Fatalf("%s: %v, should be %v", what, got, want)
	}
}

// number draws a number that a formula can be written with, of few digits.
func number(t *rapid.T, name string, low, high float64) string {
	return fmt.Sprintf("%.6f", rapid.Float64Range(low, high).Draw(t, name))
}

// Rows rec-05 and rec-06: the correction and its inverse give the metered time back, the
// power 1 changes nothing, and a longer metered time never gets a shorter one.
// Source: algebra; a physical property.
func TestReciprocityProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := number(t, "a", 0.001, 1000), number(t, "b", 0.001, 1000)
		p := number(t, "power", 1, 2)
		x, y := worked(t, "reciprocity_time(%s s, %s, 1000 s)", a, p), worked(t, "reciprocity_time(%s s, %s, 1000 s)", b, p)
		near(t, worked(t, "indicated_time(reciprocity_time(%s s, %s, 1000 s), %s, 1000 s)", a, p, p), worked(t, "%s s", a), "back")
		near(t, worked(t, "reciprocity_time(%s s, 1, 1000 s)", a), worked(t, "%s s", a), "power 1")
		at, bt := worked(t, "%s s", a), worked(t, "%s s", b)
		if at < bt && x > y || x < at*(1-1e-12) {
			t.Fatalf("%s s gets %v, %s s gets %v", a, x, b, y)
		}
	})
}

// Exposure: value and time, density and stops, marks and what they stand for, burning in
// and holding back undo one another.
func TestExposureProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, ev := number(t, "f-number", 0.8, 500), number(t, "value", -8, 20)
		near(t, worked(t, "exposure_value(%s, time_for_exposure_value(%s stop, %s))", n, ev, n), worked(t, "%s stop", ev), "exposure value")
		near(t, worked(t, "aperture_for_value(2 * stops(%s))", n), worked(t, "%s", n), "aperture")
		d := number(t, "density", 0, 6)
		near(t, worked(t, "stops_to_density(density_to_stops(%s))", d), worked(t, "%s", d), "density")
		near(t, worked(t, "density(transmission(%s))", d), worked(t, "%s", d), "transmission")
		s := number(t, "speed", 1, 100000)
		marked := worked(t, "marked_film_speed(%s)", s)
		if off := math.Abs(math.Log2(marked / worked(t, "%s", s))); off > 0.5/3+0.08 { // a dial marks 6.3 as 6
			t.Fatalf("%s is marked as %v", s, marked)
		}
		near(t, worked(t, "marked_film_speed(%.6f)", marked), marked, "a mark stays")
		base, b := number(t, "base", 1, 200), number(t, "burn", 0, 4)
		total := worked(t, "%s s + burn_time(%s s, %s stop)", base, base, b)
		near(t, worked(t, "dodge_time(%.9f s, %s stop)", total, b), total-worked(t, "%s s", base), "dodging what was burnt in")
		third := rapid.IntRange(-18, 36).Draw(t, "third")
		near(t, worked(t, "true_shutter_time(ratio(-%d/3 stop + 0 stop) * 1 s)", max(third, 0)), math.Exp2(-float64(max(third, 0))/3), "an exact mark stays")
	})
}

// A strip's increments add up to its totals, whichever step it has.
func TestStripProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base, step := number(t, "base", 1, 60), number(t, "step", 0.05, 1)
		n := rapid.IntRange(1, 9).Draw(t, "patches")
		sum := 0.0
		for i := 1; i <= n; i++ {
			sum += worked(t, "strip_increment(%s s, %s stop, %d)", base, step, i)
			near(t, sum, worked(t, "strip_time(%s s, %s stop, %d)", base, step, i), "total")
		}
	})
}

// Time at a temperature: there and back is the same time, the factor found between two
// times is the one that made them, warmer is never longer, and a drift from a temperature
// to itself is not drift.
func TestTemperatureProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		time, a, b := number(t, "time", 60, 2000), number(t, "a", 15, 20), number(t, "b", 21.5, 30)
		f := number(t, "factor", 1.01, 1.2)
		there := worked(t, "time_at_temperature(%s s, %s °C, %s °C, %s, 15 °C, 30 °C)", time, a, b, f)
		if there > worked(t, "%s s", time) {
			t.Fatal("longer in a warmer bath")
		}
		near(t, worked(t, "time_at_temperature(%.12f s, %s °C, %s °C, %s, 15 °C, 30 °C)", there, b, a, f), worked(t, "%s s", time), "there and back")
		near(t, worked(t, "factor_per_kelvin_between(%s s, %s °C, %.12f s, %s °C)", time, a, there, b), worked(t, "%s", f), "factor")
		near(t, worked(t, "time_with_drift(%s s, %s °C, %s °C, %s °C, %s, 15 °C, 30 °C)", time, a, b, b, f), there, "no drift")
		drifted := worked(t, "time_with_drift(%s s, %s °C, %s °C, %s °C, %s, 15 °C, 30 °C)", time, a, a, b, f)
		if drifted < there || drifted > worked(t, "%s s", time) {
			t.Fatalf("a drift from %s to %s gives %v", a, b, drifted)
		}
		e := number(t, "energy", 10, 120)
		near(t, worked(t, "activation_energy(%s s / time_at_energy(%s s, %s °C, %s °C, %s kJ/mol, 15 °C, 30 °C), %s °C, %s °C)", time, time, a, b, e, a, b), worked(t, "%s kJ/mol", e), "energy")
	})
}

// Mixing: what was diluted is found again, two liquids mix to what was wanted, a salt
// swapped there and back weighs the same.
func TestMixingProperties(t *testing.T) {
	swaps := [][2]string{
		{"carbonate_anhydrous_as_monohydrate", "carbonate_monohydrate_as_anhydrous"}, {"carbonate_anhydrous_as_decahydrate", "carbonate_decahydrate_as_anhydrous"},
		{"thiosulfate_anhydrous_as_pentahydrate", "thiosulfate_pentahydrate_as_anhydrous"}, {"sulfite_anhydrous_as_heptahydrate", "sulfite_heptahydrate_as_anhydrous"},
		{"borax_decahydrate_as_pentahydrate", "borax_pentahydrate_as_decahydrate"}, {"metaborate_tetrahydrate_as_dihydrate", "metaborate_dihydrate_as_tetrahydrate"},
		{"sodium_bromide_as_potassium_bromide", "potassium_bromide_as_sodium_bromide"}, {"potassium_metabisulfite_as_sodium", "sodium_metabisulfite_as_potassium"},
	}
	rapid.Check(t, func(t *rapid.T) {
		v, parts := number(t, "volume", 1, 5000), number(t, "added", 0, 200)
		near(t, worked(t, "working_solution_from(concentrate_in(%s ml, dilution(1, %s)), dilution(1, %s))", v, parts, parts), worked(t, "%s ml", v), "working solution")
		weak, strong := number(t, "weak", 0.1, 40), number(t, "strong", 41, 100)
		near(t, worked(t, "solution_from(stock_for(%s ml, %s %%, %s %%), %s %%, %s %%)", v, weak, strong, strong, weak), worked(t, "%s ml", v), "stock")
		near(t, worked(t, "strength_after(stock_for(%s ml, %s %%, %s %%), %s %%, %s ml)", v, weak, strong, strong, v), worked(t, "%s %%", weak), "strength")
		between := number(t, "between", 40, 41)
		near(t, worked(t, "let one = first_of_two(%s ml, %s %%, %s %%, %s %%); mixed_of_two(one, %s %%, %s ml - one, %s %%)", v, between, weak, strong, weak, v, strong),
			worked(t, "%s %%", between), "two liquids")
		s := rapid.SampledFrom(swaps).Draw(t, "swap")
		near(t, worked(t, s[1]+"("+s[0]+"(%s g))", v), worked(t, "%s g", v), s[0])
		near(t, worked(t, "percentage_of_solution(mass_in_percentage_solution(%s ml, %s %%), %s ml)", v, weak, v), worked(t, "%s %%", weak), "percentage")
	})
}

// Washing and machines: more changes never leave more, and inverses undo one another.
func TestTankProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		carried, fresh := number(t, "carried", 1, 500), number(t, "fresh", 1, 5000)
		n := rapid.IntRange(1, 8).Draw(t, "changes")
		many := worked(t, "share_after_changes(%s ml, %s ml / %d, %d)", carried, fresh, n, n)
		one := worked(t, "share_after_changes(%s ml, %s ml, 1)", carried, fresh)
		flow := worked(t, "share_after_flow(%s ml/min, 1 min, %s ml)", fresh, carried)
		if many > one*(1+1e-9) || flow > many*(1+1e-9) {
			t.Fatalf("one change leaves %v, %d leave %v, a flow %v", one, n, many, flow)
		}
		near(t, worked(t, "share_after_volumes(volumes_to_share(%s / 5001))", fresh), worked(t, "%s / 5001", fresh), "volumes")
		near(t, worked(t, "dwell_time(%s mm, transport_speed(%s mm, %s s))", carried, carried, fresh), worked(t, "%s s", fresh), "dwell")
		margin := number(t, "margin", 0, 0.9)
		near(t, worked(t, "margin_of_mark_up(mark_up_of_margin(%s))", margin), worked(t, "%s", margin), "margin")
		near(t, worked(t, "price_at_mark_up(%s USD, mark_up_of_margin(%s)) / 1 USD", carried, margin), worked(t, "price_at_margin(%s USD, %s) / 1 USD", carried, margin), "price")
	})
}
