package formulary_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/formulary"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func base(t *testing.T, formula string) float64 {
	t.Helper()
	w, list := formulary.Load().Work(formula)
	if len(list) > 0 || w.Refused != "" {
		t.Fatalf("%s: %v%s", formula, list, w.Refused)
	}
	return w.Base
}

func shown(t *testing.T, formula, show string) string {
	t.Helper()
	w, list := formulary.Load().Work(formula)
	if len(list) > 0 || w.Refused != "" {
		t.Fatalf("%s: %v%s", formula, list, w.Refused)
	}
	s, trouble := quantity.ParseShow(show, w.Kind)
	if trouble != nil {
		t.Fatalf("%s: %s", show, trouble.Problem.Message)
	}
	return s.Format(w.Base).Text
}

func refusedFor(t *testing.T, formula string) string {
	t.Helper()
	w, list := formulary.Load().Work(formula)
	if len(list) > 0 {
		t.Fatalf("%s: %v", formula, list)
	}
	return w.Refused
}

func code(t *testing.T, formula string) string {
	t.Helper()
	_, list := formulary.Load().Work(formula)
	if len(list) == 0 {
		return ""
	}
	return list[0].Code
}

func notWhen(t *testing.T, name, words string) {
	t.Helper()
	e, ok := formulary.Load().Find(name)
	if !ok || !strings.Contains(strings.Join(e.NotWhen, " "), words) {
		t.Errorf("%s does not say %q", name, words)
	}
}

// kept names the test of another package that guards against a trap, and words that are in it.
type kept struct{ file, test, words string }

// The traps of the trade, each with what the program does about it. Three that do not concern
// formulas name the test that guards against them. One more, the life of a full bottle taken for
// that of a half-full one, is guarded against by the words of the pages alone: no test covers it.
var traps = []struct {
	name string
	test func(t *testing.T)
	kept kept
}{
	{name: "1:100 is guessed", test: func(t *testing.T) {
		if c := code(t, "concentrate_in(1 l, 1:100)"); c != "bare-ratio" {
			t.Error(c)
		}
		if got := base(t, "concentrate_in(1 l, dilution(1, 3)) / concentrate_in(1 l, dilution(1, 4))"); math.Abs(got-1.25) > 1e-9 {
			t.Error(got) // one part in four against one part added to four: 25 %
		}
	}},
	{name: "a difference converted with +32", test: func(t *testing.T) {
		if got := shown(t, "25 °C - 20 °C", "0.1 Δ°F"); got != "9.0 Δ°F" {
			t.Error(got)
		}
	}},
	{name: "times averaged across dilutions", test: func(t *testing.T) {
		notWhen(t, "time_for_contrast", "dilutions")
		// a lookup gives each dilution its own row, and refuses one between two of them
		times := folder{"times.csv": "strength,minutes [min]\n1+50,8\n1+100,12\n"}
		keys := "data: {times: times.csv}\ngiven:\n  strength: {value: 1+100, from: 1+100, to: 1+50}\nfigures:\n  time: "
		s, _, list := pageIn(t, times, keys+"lookup(times.minutes, times.strength, strength)\n")
		if list.Errors() > 0 {
			t.Fatal(list)
		}
		c := prove.NewCase(s)
		c.Set(s.GivenNamed("strength"), 1.0/76)
		if c.Work(); !c.Refused() {
			t.Error("a time for 1+75, which nobody tested")
		}
		// two dilutions tested at one temperature are not points to draw a line through
		times["times.csv"] = "bath [°C],strength,minutes [min]\n20,1+50,8\n20,1+100,12\n24,1+50,6\n"
		_, _, list = pageIn(t, times, "data: {times: times.csv}\ngiven:\n  bath: {value: 22 °C, from: 20 °C, to: 24 °C}\nfigures:\n  time: interpolate(times.minutes, times.bath, bath)\n")
		if list.Errors() != 1 || list[0].Code != source.RowsWithOneKey("", 1, 2).Code {
			t.Error(list)
		}
	}},
	{name: "reciprocity extended beyond its test", test: func(t *testing.T) {
		if r := refusedFor(t, "reciprocity_time(101 s, 1.31, 100 s)"); r != "Indicated time: nobody tested so long a time with this film." {
			t.Error(r)
		}
		if got := shown(t, "stops(reciprocity_time(100 s, 1.31, 100 s) / reciprocity_time_added(100 s, 0.1 s, 1.62, 100 s))", "0.1 stop"); got != "0.6 stop" {
			t.Error(got) // two published models of one film
		}
	}},
	{name: "reciprocity before filters and bellows", test: func(t *testing.T) {
		right, wrong := shown(t, "long_exposure(8 s, 4, 150 mm, 150 mm, 1.31, 100 s)", "1 s"), shown(t, "through_filter(reciprocity_time(8 s, 1.31, 100 s), 4)", "1 s")
		if right != "1 min 34 s" || wrong != "1 min 1 s" {
			t.Error(right, wrong)
		}
		notWhen(t, "reciprocity_time", "this comes last")
		// the tested window is that of the time after filter and bellows
		if refusedFor(t, "long_exposure(8 s, 4, 300 mm, 150 mm, 1.31, 100 s)") == "" {
			t.Error("128 s were not tested")
		}
	}},
	{name: "two-bath and two-agent developers corrected like others", test: func(t *testing.T) {
		for _, name := range []string{"time_at_temperature", "time_with_drift", "time_at_energy"} {
			notWhen(t, name, "two baths")
			notWhen(t, name, "two agents")
		}
	}},
	{name: "results below five minutes", test: func(t *testing.T) {
		s, p, list := pageOf(t, strings.Replace(develop[:strings.Index(develop, "checks:")], "11 min,", "6 min,", 1)+
			"limits:\n  - {when: time < 5 min, notice: Times under five minutes tend to develop unevenly.}\n")
		if list.Errors() > 0 || p == nil {
			t.Fatal(list)
		}
		c := prove.NewCase(s)
		c.Set(s.GivenNamed("bath"), 24)
		c.Work()
		if len(c.Holding) != 1 || c.Refused() {
			t.Error("no notice at 4 min 15 s")
		}
	}},
	{name: "0.87 ml from a cylinder", test: func(t *testing.T) {
		if got := base(t, "measuring_error(0.87 ml, 1 ml)"); got < 0.5 {
			t.Error(got)
		}
		if got := shown(t, "concentrate_in(88 ml, dilution(1, 100))", "usual"); got != "0.87 ml" {
			t.Error(got)
		}
	}},
	{name: "a covered tank taken for enough", test: func(t *testing.T) {
		if got := base(t, "rolls_in_solution(300 ml, dilution(1, 100), 5 ml)"); got != 0 {
			t.Error(got)
		}
		if c := code(t, "rolls_in_solution(300 ml, dilution(1, 100))"); c != "argument-count" {
			t.Error("the least concentrate has a default", c)
		}
	}},
	{name: "evaporation replaced with replenisher", test: func(t *testing.T) {
		e, _ := formulary.Load().Find("evaporation_top_up")
		if !strings.Contains(e.Sentence, "water") {
			t.Error(e.Sentence)
		}
		notWhen(t, "evaporation_top_up", "leak")
	}},
	{name: "a red or dim screen called safe", kept: kept{"cmd/labsite/browser_process_test.go", "TestBrowserProcess", "It is no safelight"}},
	{name: "an ounce of no type", test: func(t *testing.T) {
		_, list := formulary.Load().Work("2 oz * 3")
		if len(list) != 1 || list[0].Code != "which-ounce" {
			t.Fatal(list)
		}
		for _, unit := range []string{"oz_av", "oz_ap", "fl_oz", "imp_fl_oz"} {
			if !strings.Contains(list[0].Hint, unit) {
				t.Error(unit)
			}
		}
	}},
	{name: "crystalline sulfite at twice the weight", test: func(t *testing.T) {
		if got := shown(t, "sulfite_anhydrous_as_heptahydrate(100 g)", "1 g"); got != "200 g" {
			t.Error(got)
		}
		notWhen(t, "sulfite_anhydrous_as_heptahydrate", "ask")
		for _, e := range formulary.Load().All() {
			if strings.HasPrefix(e.Name, "sulfite") && len(e.NotWhen) == 0 {
				t.Error(e.Name)
			}
		}
	}},
	{name: "print time from the area alone", test: func(t *testing.T) {
		byRule, byArea := base(t, "time_at_size(16 s, 200 mm / 56 mm, 300 mm / 56 mm)"), 16*1.5*1.5
		if math.Abs(byRule-30.9) > 0.05 || byArea < byRule+5 {
			t.Error(byRule, byArea)
		}
	}},
	{name: "linear strip steps", test: func(t *testing.T) {
		if a, b := shown(t, "added_in_stops(5 s, 5 s)", "0.01 stop"), shown(t, "added_in_stops(25 s, 5 s)", "0.01 stop"); a != "1.00 stop" || b != "0.26 stop" {
			t.Error(a, b)
		}
	}},
	{name: "totals entered as increments", test: func(t *testing.T) {
		notWhen(t, "strip_time", "strip_increment")
		notWhen(t, "strip_increment", "strip_time")
	}},
	{name: "burning in 50 % taken for half a stop", test: func(t *testing.T) {
		if got := shown(t, "deviation_in_stops(50 %)", "0.01 stop"); got != "0.58 stop" {
			t.Error(got)
		}
		if c := code(t, "burn_time(16 s, 50 %)"); c != "wrong-kind" {
			t.Error(c)
		}
		notWhen(t, "burn_time", "percent")
	}},
	{name: "1/125 s as 8.000 ms", test: func(t *testing.T) {
		if got := shown(t, "true_shutter_time(1/125 s)", "0.01 ms"); got != "7.81 ms" {
			t.Error(got)
		}
		if got := shown(t, "shutter_error(1/128 s, 1/125 s)", "0.001 stop"); got != "0.000 stop" {
			t.Error(got)
		}
	}},
	{name: "a clear film taken for fixed", test: func(t *testing.T) {
		if refusedFor(t, "fixing_time(40 s, 1)") == "" || base(t, "fixing_time(40 s, 2)") < 80 {
			t.Error("fixed in one clearing time")
		}
		if base(t, "fixer_is_spent(60 s, 30 s) ? 1 : 0") != 1 {
			t.Error("a fixer that takes twice as long is spent")
		}
	}},
	{name: "washing by flow alone", test: func(t *testing.T) {
		notWhen(t, "share_after_half_times", "flow alone")
		notWhen(t, "share_after_flow", "holds on")
		notWhen(t, "share_after_changes", "fibre-base")
	}},
	{name: "a stained negative in the visual channel", test: func(t *testing.T) {
		if c := code(t, "stain_density(1.18, 0.98)"); c != "argument-count" {
			t.Error("both channels, each with its base, are needed", c)
		}
		notWhen(t, "stain_density", "calibration")
	}},
	{name: "replenishment per foot used per metre", test: func(t *testing.T) {
		if got := shown(t, "15 ml/sq_ft", "1 ml/m2"); got != "161 ml/m²" {
			t.Error(got)
		}
		if a, b := base(t, "replenishment(1 m2, 15 ml/sq_ft)"), base(t, "replenishment(1 m2, 161.4587 ml/m2)"); math.Abs(a-b) > 0.001 {
			t.Error(a, b)
		}
		for _, wrong := range []string{"15 ml/ft", "15 ml", "15"} {
			if c := code(t, "replenishment(1 m2, "+wrong+")"); c != "wrong-kind" {
				t.Error(wrong, c)
			}
		}
	}},
	{name: "filtration copied between enlargers", test: func(t *testing.T) {
		notWhen(t, "neutral_in_pack", "another enlarger")
		notWhen(t, "time_for_pack", "another kind of filter")
	}},
	{name: "mark-up used as margin", test: func(t *testing.T) {
		m, k := shown(t, "price_at_margin(4.45 USD, 55 %)", "USD"), shown(t, "price_at_mark_up(4.45 USD, 55 %)", "USD")
		if m != "9.89 USD" || k != "6.90 USD" {
			t.Error(m, k)
		}
		notWhen(t, "price_at_margin", "mark-up")
		notWhen(t, "price_at_mark_up", "margin")
	}},
	{name: "rounding before summing", test: func(t *testing.T) {
		// only results that are whole by nature are rounded: whole things, a fixing time, marks
		whole := " rolls_in_solution agitation_cycles marked_film_speed speed_in_degrees fixing_time capacity_left films_to_turn_over " +
			"rolls_from_bottle time_for_runs reorder_point pixels_for true_shutter_time true_f_number "
		for _, e := range formulary.Load().All() {
			rounds := strings.Contains(e.Formula, "round") || strings.Contains(e.Formula, "floor") || strings.Contains(e.Formula, "ceil")
			if rounds != strings.Contains(whole, " "+e.Name+" ") {
				t.Errorf("%s rounds: %v", e.Name, rounds)
			}
		}
	}},
	{name: "a missing value taken for nothing", test: func(t *testing.T) {
		for _, e := range formulary.Load().All() {
			if c := code(t, e.Name+"()"); c != "argument-count" {
				t.Errorf("%s(): %s", e.Name, c)
			}
		}
		_, _, list := pageOf(t, "given:\n  least: {label: Least, source: from memory, owner: process lead}\nfigures:\n  x: working_solution_for_rolls(1, least, 0.01)\n")
		if list.Errors() == 0 || list[0].Code != "missing-key" {
			t.Error(list)
		}
	}},
	{name: "68 without a unit", test: func(t *testing.T) {
		if c := code(t, "hot_water_for(1 l, 68, 12 °C, 45 °C)"); c != "wrong-kind" {
			t.Error(c)
		}
		s, _, list := pageOf(t, develop)
		if len(list) > 0 {
			t.Fatal(list)
		}
		if _, trouble := s.GivenNamed("bath").Set("68"); trouble == nil || !strings.Contains(trouble.Problem.Hint, "°C") || !strings.Contains(trouble.Problem.Hint, "°F") {
			t.Error(trouble)
		}
	}},
	{name: "the page recalculates and its card does not", kept: kept{"cmd/labsite/browser_hand_test.go", "TestBrowserHand", "The code leads to these values."}},
	{name: "acid meets sulfite, thiosulfate or bleach", kept: kept{"recipes/hazard/block_test.go", "TestWhatMustNotMeet", `"acid-sulfite"`}},
}

func TestTraps(t *testing.T) {
	if len(traps) != 29 {
		t.Fatalf("%d traps of 29", len(traps))
	}
	for _, trap := range traps {
		t.Run(trap.name, func(t *testing.T) {
			if trap.test == nil {
				raw, err := os.ReadFile(filepath.Join("../..", trap.kept.file))
				if err != nil {
					t.Fatal(err)
				}
				for _, part := range []string{"func " + trap.kept.test + "(", trap.kept.words} {
					if !strings.Contains(string(raw), part) {
						t.Errorf("%s no longer guards against it: there is no %s", trap.kept.file, part)
					}
				}
				return
			}
			trap.test(t)
		})
	}
}
