package quantity

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// close allows the last bits of a float, nothing more.
func close(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 4e-16*math.Max(math.Abs(a), math.Abs(b))
}

// Every form of a quantity that the page format names, read into base units (cm, g, s,
// mol, K, stop, °C for a point).
func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		base float64
		form Form
		back string // Text; the text itself where empty
	}{
		{"500 ml", Volume, 500, Plain, ""},
		{"0.86 g/ml", Kind{Mass: 1, Length: -3}, 0.86, Plain, ""},
		{"65 ml/m2", Length, 65e-4, Plain, "65 ml/m²"},
		{"65 ml/m²", Length, 65e-4, Plain, ""},
		{"1/125 s", Time, 0.008, Fraction, ""},
		{"2.5e-3 l", Volume, 2.5, Plain, "2.5e-3 L"},
		{"2.5E+3 µl", Volume, 2.5, Plain, ""},
		{"12.50 USD", Kind{Money: 1, Currency: "USD"}, 12.5, Plain, ""},
		{"8", Number, 8, Plain, ""},
		{"0", Number, 0, Plain, ""},
		{"0.5", Number, 0.5, Plain, ""},
		{"-3 stop", Stops, -3, Plain, ""},
		{"2 %", Number, 0.02, Plain, ""},
		{"20 ppm", Number, 2e-5, Plain, ""},

		// durations
		{"10 min 30 s", Time, 630, Duration, ""},
		{"1 h 5 min", Time, 3900, Duration, ""},
		{"1 day 2 h 3 min 4.5 s", Time, 86400 + 7200 + 180 + 4.5, Duration, ""},
		{"2 days 1 h", Time, 2*86400 + 3600, Duration, "2 days 1 h"},
		{"1 h 90 s", Time, 3690, Duration, ""},
		{"-10 min 30 s", Time, -630, Duration, ""},
		{"1.5 min", Time, 90, Plain, ""},
		{"90 min", Time, 5400, Plain, ""},
		{"1 week", Time, 7 * 86400, Plain, ""},
		{"1 month", Time, 365.25 * 86400 / 12, Plain, ""},
		{"12 months", Time, 365.25 * 86400, Plain, ""},
		{"1 year", Time, 365.25 * 86400, Plain, ""},
		{"250 ms", Time, 0.25, Plain, ""},

		// whole and fraction
		{"1 2/3 stop", Stops, 5. / 3, Fraction, ""},
		{"1 2/3 stops", Stops, 5. / 3, Fraction, "1 2/3 stop"},
		{"-1 1/3 stop", Stops, -4. / 3, Fraction, ""},
		{"1/3 stop", Stops, 1. / 3, Fraction, ""},
		{"2 1/2 min", Time, 150, Fraction, ""},
		{"2 1/2", Number, 2.5, Fraction, ""},
		{"3/4", Number, 0.75, Fraction, ""},
		{"1/2 l/min", Kind{Length: 3, Time: -1}, 500. / 60, Fraction, "1/2 L/min"},

		// dilutions
		{"1+100", Number, 1. / 101, Dilution, ""},
		{"2+98", Number, 0.02, Dilution, ""},
		{"1 in 100", Number, 0.01, Dilution, ""},
		{"1+2.5", Number, 1 / 3.5, Dilution, ""},
		{"0.5+9.5", Number, 0.05, Dilution, ""},
		{"1+0", Number, 1, Dilution, ""},
		{"1 in 1", Number, 1, Dilution, ""},

		// temperatures: points and differences
		{"20 °C", Scale, 20, Plain, ""},
		{"68 °F", Scale, 20, Plain, ""},
		{"-5 °C", Scale, -5, Plain, ""},
		{"-40 °F", Scale, -40, Plain, ""},
		{"2 K", Degree, 2, Plain, ""},
		{"2 Δ°C", Degree, 2, Plain, ""},
		{"3.6 Δ°F", Degree, 2, Plain, ""},
		{"2 delta_C", Degree, 2, Plain, "2 Δ°C"},
		{"3.6 delta_F", Degree, 2, Plain, "3.6 Δ°F"},

		// units: spelling
		{"2 L", Volume, 2000, Plain, ""},
		{"2 l", Volume, 2000, Plain, "2 L"},
		{"5 mL", Volume, 5, Plain, "5 ml"},
		{"5 cL", Volume, 50, Plain, "5 cl"},
		{"5 dL", Volume, 500, Plain, "5 dl"},
		{"5 µL", Volume, 0.005, Plain, "5 µl"},
		{"5 ul", Volume, 0.005, Plain, "5 µl"},
		{"5 um", Length, 5e-4, Plain, "5 µm"},
		{"5 ug", Mass, 5e-6, Plain, "5 µg"},
		{"2 stops", Stops, 2, Plain, ""},
		{"8 inches", Length, 20.32, Plain, ""},
		{"2 cups", Volume, 473.176473, Plain, ""},
		{"2 grains", Mass, 0.12959782, Plain, ""},

		// joined units
		{"20 g/l", Kind{Mass: 1, Length: -3}, 0.02, Plain, "20 g/L"},
		{"1.2 cm/min", Kind{Length: 1, Time: -1}, 0.02, Plain, ""},
		{"4.186 kJ/kg/K", Kind{Length: 2, Time: -2, Degree: -1}, 41.86e6, Plain, ""},
		{"20 /l", Kind{Length: -3}, 0.02, Plain, "20 /L"},
		{"12 /min", Kind{Time: -1}, 0.2, Plain, ""},
		{"300 /inch", Kind{Length: -1}, 300 / 2.54, Plain, ""},
		{"9.81 m/s2", Kind{Length: 1, Time: -2}, 981, Plain, "9.81 m/s²"},
		{"2 m3", Volume, 2e6, Plain, "2 m³"},
		{"2 m³", Volume, 2e6, Plain, ""},
		{"3 cm3", Volume, 3, Plain, "3 cm³"},
		{"2 W*h", Energy, 7200 * 1e7, Plain, ""},
		{"2 kWh", Energy, 7.2e6 * 1e7, Plain, ""},
		{"4.50 EUR/m3", Kind{Money: 1, Length: -3, Currency: "EUR"}, 4.5e-6, Plain, "4.50 EUR/m³"},

		// spaces and look-alikes
		{"500\u00a0ml", Volume, 500, Plain, "500 ml"},
		{"500\u202fml", Volume, 500, Plain, "500 ml"},
		{"500\u2003ml", Volume, 500, Plain, "500 ml"},
		{"500\tml", Volume, 500, Plain, "500 ml"},
		{"  500   ml  ", Volume, 500, Plain, "500 ml"},
		{"10 min\n 30 s", Time, 630, Duration, "10 min 30 s"},
		{"5 μm", Length, 5e-4, Plain, "5 µm"},
		{"20 ºC", Scale, 20, Plain, "20 °C"},
		{"20 ℃", Scale, 20, Plain, "20 °C"},
		{"68 ℉", Scale, 20, Plain, "68 °F"},
		{"2 ∆°C", Degree, 2, Plain, "2 Δ°C"},
		{"−5 °C", Scale, -5, Plain, "-5 °C"},
	} {
		v, trouble := Parse(c.text)
		if trouble != nil {
			t.Errorf("Parse(%q): %s %s", c.text, trouble.Code, trouble.Message)
			continue
		}
		if c.back == "" {
			c.back = c.text
		}
		if v.Kind != c.kind || !close(v.Base, c.base) || v.Form != c.form || v.Text != c.back {
			t.Errorf("Parse(%q) = %s, %.17g, form %d, %q; want %s, %.17g, form %d, %q",
				c.text, v.Kind.Name(), v.Base, v.Form, v.Text, c.kind.Name(), c.base, c.form, c.back)
		}
	}
}

// Every refusal: its code, the text that it marks, and what its hint says to write.
func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ text, code, at, hint string }{
		{"0,5 ml", "decimal-comma", "0,5", "Write 0.5, with a point."},
		{"1,000 ml", "which-comma", "1,000", "Write 1.000 or 1000."},
		{"12,345 ml", "which-comma", "12,345", "Write 12.345 or 12345."},
		{"0,500 l", "decimal-comma", "0,500", "Write 0.500, with a point."},
		{"1234,500 ml", "decimal-comma", "1234,500", "Write 1234.500, with a point."},
		{"1,234.5 ml", "digit-groups", "1,234.5", "Write 1234.5."},
		{"1,234,567 ml", "digit-groups", "1,234,567", "Write 1234567."},
		{"1.000,5 ml", "digit-groups", "1.000,5", "Write 1000.5."},
		{"1.234.567 ml", "digit-groups", "1.234.567", "Write 1234567."},
		{"1,23,4 ml", "digit-groups", "1,23,4", "Write the number with a decimal point and no other separators."},
		{"1.5,5 ml", "digit-groups", "1.5,5", "Write the number with a decimal point and no other separators."},
		{"10:30", "clock-time", "10:30", "Write 10 min 30 s or 10 h 30 min."},
		{"9:05", "clock-time", "9:05", "Write 9 min 5 s or 9 h 5 min."},
		{"1:100", "bare-ratio", "1:100", "Write 1+100 for 1 part of one added to 100 parts of the other, or 1 in 100 for 1 part in 100 altogether."},
		{"1:50", "bare-ratio", "1:50", "Write 1+50"},
		{"500ml", "blank-before-unit", "500ml", "Write 500 ml."},
		{"-500ml", "blank-before-unit", "500ml", "Write 500 ml."},
		{"5%", "blank-before-unit", "5%", "Write 5 %."},
		{"20°C", "blank-before-unit", "20°C", "Write 20 °C."},
		{"20ºC", "blank-before-unit", "20ºC", "Write 20 °C."},
		{"1/125s", "blank-before-unit", "1/125s", "Write 1/125 s."},
		{"5 min 30s", "blank-before-unit", "30s", "Write 30 s."},
		{"500 mml", "unknown-unit", "mml", "Did you mean 500 ml or 500 mmol?"},
		{"500 ml/mm7x", "unknown-unit", "mm7x", ""},
		{"20 /foo", "unknown-unit", "foo", ""},
		{"5 ML", "unknown-unit", "ML", "Did you mean 5 ml?"},
		{"5 KG", "unknown-unit", "KG", "Did you mean 5 kg?"},
		{"5 Mg", "unknown-unit", "Mg", "Did you mean 5 mg?"},
		{"5 usd", "unknown-unit", "usd", "Did you mean 5 USD?"},
		{"5 PA", "unknown-unit", "PA", "Did you mean 5 Pa?"},
		{"30 sec", "unknown-unit", "sec", "Did you mean 30 s?"},
		{"20 C", "unknown-unit", "C", "Did you mean 20 °C?"},
		{"2 oz", "which-ounce", "oz", "Write 2 oz_av (28.35 g), 2 oz_ap (31.10 g), 2 fl_oz (US, 29.57 ml) or 2 imp_fl_oz (28.41 ml)."},
		{"2 g/oz", "which-ounce", "oz", "Write 2 g/oz_av (28.35 g), 2 g/oz_ap"},
		{"20 fl oz", "which-measure", "fl oz", "Write 20 fl_oz (US, 29.57 ml) or 20 imp_fl_oz (imperial, 28.41 ml)."},
		{"20 fl. oz. of it", "which-measure", "fl. oz.", "Write 20 fl_oz (US"},
		{"20 Fluid Ounces", "which-measure", "Fluid Ounces", "Write 20 fl_oz (US"},
		{"20 floz", "which-measure", "floz", "Write 20 fl_oz (US"},
		{"20 fl", "which-measure", "fl", "Write 20 fl_oz (US"},
		{"20 g/fl oz", "which-measure", "fl oz", "Write 20 g/fl_oz (US"},
		{"2 gallons", "which-measure", "gallons", "Write 2 gal (US, 3.785 l) or 2 imp_gal (imperial, 4.546 l)."},
		{"2 qt", "which-measure", "qt", "Write 2 quart (US, 946.4 ml) or 2 imp_quart (imperial, 1137 ml)."},
		{"2 pts", "which-measure", "pts", "Write 2 pint (US, 473.2 ml) or 2 imp_pint (imperial, 568.3 ml)."},
		{"20 US fl oz", "unknown-unit", "US fl oz", "Did you mean 20 fl_oz?"},
		{"20 imp. fl. oz.", "unknown-unit", "imp. fl. oz.", "Did you mean 20 imp_fl_oz?"},
		{"2 imperial pints", "unknown-unit", "imperial pints", "Did you mean 2 imp_pint?"},
		{"2 U.S. gallons", "unknown-unit", "U.S. gallons", "Did you mean 2 gal?"},
		{"1 sq m", "unknown-unit", "sq m", "Did you mean 1 m2?"},
		{"1 sq. in.", "unknown-unit", "sq. in.", "Did you mean 1 sq_inch?"},
		{"65 ml/square metre", "unknown-unit", "square metre", "Did you mean 65 ml/m2?"},
		{"5 cubic cm", "unknown-unit", "cubic cm", "Did you mean 5 cm3?"},
		{"68 degrees F", "unknown-unit", "degrees F", "Did you mean 68 °F?"},
		{"20 deg. C", "unknown-unit", "deg. C", "Did you mean 20 °C?"},
		{"20 degrees", "unknown-unit", "degrees", "Did you mean 20 °C or 20 °F?"},
		{"5 gr", "unknown-unit", "gr", "Did you mean 5 g or 5 grain?"},
		{"0.1 M", "unknown-unit", "M", "Did you mean 0.1 mol/l?"},
		{"2 quort", "unknown-unit", "quort", "Did you mean 2 quart?"},
		{"2 grian", "unknown-unit", "grian", "Did you mean 2 grain?"},
		{"8 mn", "unknown-unit", "mn", "Did you mean 8 min?"},
		{"8 cms", "unknown-unit", "cms", "Did you mean 8 cm?"},
		// a wrong offer is worse than none
		{"12 V", "unknown-unit", "V", "`labsite units` lists the units."},
		{"5 mi", "unknown-unit", "mi", "`labsite units` lists the units."},
		{"5 mil", "unknown-unit", "mil", "`labsite units` lists the units."},
		{"5 sq", "unknown-unit", "sq", "`labsite units` lists the units."},
		{"5 usec", "unknown-unit", "usec", "`labsite units` lists the units."},
		{"5 Hz", "unknown-unit", "Hz", "`labsite units` lists the units."},
		{"5 t", "unknown-unit", "t", "`labsite units` lists the units."},
		{"1 atm", "unknown-unit", "atm", "`labsite units` lists the units."},
		{"20 °C/min", "scale-joined", "°C/min", "Write 20 K/min."},
		{"3 J/°C", "scale-joined", "J/°C", "Write 3 J/K."},
		{"2 USD*EUR", "units-do-not-join", "USD*EUR", ""},
		{"2 stop*stop", "units-do-not-join", "stop*stop", ""},
		{"2 m9*m9", "units-do-not-join", "m9*m9", ""},
		{".5 ml", "number-point", ".5", "Write 0.5."},
		{"5. ml", "number-point", "5.", "Write 5."},
		{"007 ml", "leading-zeros", "007", "Write 7."},
		{"00.5 ml", "leading-zeros", "00.5", "Write 0.5."},
		{"01+100", "leading-zeros", "01", "Write 1."},
		{"1+0100", "leading-zeros", "0100", "Write 100."},
		{"1/03 stop", "leading-zeros", "03", "Write 3."},
		{"10 min 05 s", "leading-zeros", "05", "Write 5."},
		{"1_000 ml", "number-underscore", "1_000", "Write 1000."},
		{"0x1F", "hexadecimal", "0x1F", "Write 31."},
		{"1e100 ml", "number-too-long", "1e100", ""},
		{"1E0000700", "number-too-long", "1E0000700", ""},
		{"1e-99999999999999999999", "number-too-long", "1e-99999999999999999999", ""},
		{strings.Repeat("9", 41), "number-too-long", strings.Repeat("9", 41), ""},
		{"30 s 2 min", "text-after-value", "2 min", ""},
		{"2 min 1 h", "duration-order", "2 min 1 h", ""},
		{"2 min 3 min", "duration-order", "2 min 3 min", ""},
		{"1.5 h 10 min", "duration-whole", "1.5 h", ""},
		{"1 h 5.5 min", "duration-whole", "5.5 min", ""},
		{"1 h 60 min", "duration-below", "60 min", "After the h at most 59 min may follow"},
		{"1 day 24 h", "duration-below", "24 h", ""},
		{"10 min 60 s", "duration-below", "60 s", ""},
		{"10 min 60.5 s", "duration-below", "60.5 s", ""},
		{"5 min 30", "duration-unit", "30", "Write 30 s"},
		{"1/0 s", "fraction-by-zero", "1/0", ""},
		{"1 5/3 stop", "fraction-too-large", "1 5/3", ""},
		{"1 + 100", "dilution-blanks", "1 + 100", "Write 1+100."},
		{"1+2+100", "dilution-three-parts", "1+2+100", "Give each part a given value of its own"},
		{"0+0", "dilution-empty", "0+0", ""},
		{"2 in 1", "dilution-empty", "2 in 1", ""},
		{"", "number-missing", "", ""},
		{"   ", "number-missing", "", ""},
		{"ml", "not-a-number", "ml", ""},
		{"abc def", "not-a-number", "abc", ""},
		{"5 ml 3", "text-after-value", "3", ""},
		{"5 ml and more", "text-after-value", "and more", ""},
		{"2 × 3", "text-after-value", "× 3", ""},
		{"2×3", "text-after-value", "×3", ""},
		{"5 ml +1", "text-after-value", "+1", ""},
		{"5 ml/", "text-after-value", "/", ""},
	} {
		v, trouble := Parse(c.text)
		if trouble == nil {
			t.Errorf("Parse(%q) = %s; want %s", c.text, v.Text, c.code)
			continue
		}
		at := c.text[trouble.Start:trouble.End]
		if trouble.Code != c.code || at != c.at || !strings.Contains(trouble.Hint, c.hint) {
			t.Errorf("Parse(%q): %s at %q, hint %q; want %s at %q, hint %q", c.text, trouble.Code, at, trouble.Hint, c.code, c.at, c.hint)
		}
		if trouble.Message == "" || trouble.Hint == "" {
			t.Errorf("Parse(%q): message %q, hint %q", c.text, trouble.Message, trouble.Hint)
		}
	}
}

// Where only a difference makes sense, °C is K and °F is Δ°F.
func TestParseDifference(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		base float64
	}{
		{"0.5 °C", Degree, 0.5}, {"1 °F", Degree, 5. / 9}, {"0.5 K", Degree, 0.5}, {"1 Δ°F", Degree, 5. / 9},
		{"50 ml", Volume, 50}, {"15 s", Time, 15}, {"1/3 stop", Stops, 1. / 3}, {"1", Number, 1},
	} {
		v, trouble := ParseDifference(c.text)
		if trouble != nil || v.Kind != c.kind || !close(v.Base, c.base) {
			t.Errorf("ParseDifference(%q) = %s %v, %v", c.text, v.Kind.Name(), v.Base, trouble)
		}
	}
}

func TestParseRange(t *testing.T) {
	for _, c := range []struct {
		text         string
		from, to, by float64
		step         bool
	}{
		{"18 °C .. 24 °C", 18, 24, 0, false},
		{"18 °C .. 24 °C by 1 °C", 18, 24, 1, true},
		{"18 °C..24 °C by 0.5 K", 18, 24, 0.5, true},
		{"64.4 °F .. 24 °C by 1 °F", 18, 24, 5. / 9, true},
		{"1..8", 1, 8, 0, false},
		{"1 .. 8 by 2", 1, 8, 2, true},
		{"1.5..3.5", 1.5, 3.5, 0, false},
		{"1+100 .. 1+50", 1. / 101, 1. / 51, 0, false},
		{"500 ml .. 2 l by 50 ml", 500, 2000, 50, true},
		{"5 ml .. 5 ml", 5, 5, 0, false},
		{"-5 °C .. 5 °C", -5, 5, 0, false},
	} {
		r, trouble := ParseRange(c.text)
		if trouble != nil {
			t.Errorf("ParseRange(%q): %s %s", c.text, trouble.Code, trouble.Message)
			continue
		}
		if !close(r.From.Base, c.from) || !close(r.To.Base, c.to) || !close(r.By.Base, c.by) || r.HasStep != c.step {
			t.Errorf("ParseRange(%q) = %v .. %v by %v", c.text, r.From.Base, r.To.Base, r.By.Base)
		}
		if !IsRange(c.text) {
			t.Errorf("IsRange(%q) is false", c.text)
		}
	}
	for _, c := range []struct{ text, code, at string }{
		{"18 °C", "range-dots", ""},
		{"18 °C . 24 °C", "range-dots", "."},
		{"24 °C .. 18 °C", "range-order", "24 °C .. 18 °C"},
		{"18 °C .. 24 ml", "kinds-differ", "24 ml"},
		{"18 °C .. 24", "kinds-differ", "24"},
		{"18 °C .. 24 °C by 1 ml", "kinds-differ", "1 ml"},
		{"1 .. 8 by 0", "step-not-positive", "0"},
		{"1 .. 8 by -1", "step-not-positive", "-1"},
		{"1 .. 0,8", "decimal-comma", "0,8"},
		{"1 .. 8 or so", "unknown-unit", "or"},
		{"1 ml .. 8 ml or so", "text-after-value", "or so"},
	} {
		_, trouble := ParseRange(c.text)
		if trouble == nil || trouble.Code != c.code || c.text[trouble.Start:trouble.End] != c.at {
			t.Errorf("ParseRange(%q): got %+v; want %s at %q", c.text, trouble, c.code, c.at)
		}
	}
}

func TestParseExpected(t *testing.T) {
	for _, c := range []struct {
		text            string
		base, tolerance float64
		has, yesNo      bool
	}{
		{"5.0 ml", 5, 0, false, false},
		{"4.95 ml ± 0.01 ml", 4.95, 0.01, true, false},
		{"4.95 ml +- 0.01 ml", 4.95, 0.01, true, false},
		{"4.95 ml ± 10 µl", 4.95, 0.01, true, false},
		{"5 ml ± 1 %", 5, 0.05, true, false},
		{"-5 ml ± 1 %", -5, 0.05, true, false},
		{"5 % ± 1 %", 0.05, 0.01, true, false},
		{"0.05 ± 1 %", 0.05, 0.0005, true, false},
		{"20 °C ± 0.5 °C", 20, 0.5, true, false},
		{"68 °F ± 1 °F", 20, 5. / 9, true, false},
		{"68 °F ± 0.5 K", 20, 0.5, true, false},
		{"1+100 ± 0.0001", 1. / 101, 0.0001, true, false},
		{"10 min 30 s ± 15 s", 630, 15, true, false},
		{"f/8", 8, 0, false, false},
		{"f/5.6 ± 0.1", 5.6, 0.1, true, false},
		{"1 2/3 stop", 5. / 3, 0, false, false},
		{"1/125 s", 0.008, 0, false, false},
		{"yes", 1, 0, false, true}, {"true", 1, 0, false, true}, {"no", 0, 0, false, true}, {"false", 0, 0, false, true},
	} {
		e, trouble := ParseExpected(c.text)
		if trouble != nil {
			t.Errorf("ParseExpected(%q): %s %s", c.text, trouble.Code, trouble.Message)
			continue
		}
		if !close(e.Base, c.base) || !close(e.Tolerance, c.tolerance) || e.HasTolerance != c.has || e.YesNo != c.yesNo {
			t.Errorf("ParseExpected(%q) = %v ± %v, %v, %v", c.text, e.Base, e.Tolerance, e.HasTolerance, e.YesNo)
		}
	}
	for _, c := range []struct{ text, code, at string }{
		{"20 °C ± 1 %", "percent-of-temperature", "1 %"},
		{"5 ml ± 1 g", "kinds-differ", "1 g"},
		{"5 ml ± -1 ml", "tolerance-negative", "-1 ml"},
		{"5 ml ±", "number-missing", ""},
		{"maybe", "not-a-number", "maybe"},
		{"f/", "not-a-number", "f/"},
		{"f/0,5", "decimal-comma", "0,5"},
	} {
		_, trouble := ParseExpected(c.text)
		if trouble == nil || trouble.Code != c.code || c.text[trouble.Start:trouble.End] != c.at {
			t.Errorf("ParseExpected(%q): got %+v; want %s at %q", c.text, trouble, c.code, c.at)
		}
	}
}

// In a formula a quantity is read as far as it goes and no further.
func TestReadInFormula(t *testing.T) {
	for _, c := range []struct {
		text, literal string
		base          float64
	}{
		{"2 l/min", "2 l/min", 2000. / 60},
		{"5 ml/tank", "5 ml", 5},
		{"5 ml / 2 min", "5 ml", 5},
		{"3 m ** 2", "3 m", 300},
		{"1/125 s", "1/125 s", 0.008},
		{"1 / 125 s", "1", 1},
		{"1/125", "1", 1},
		{"10 min 30 s", "10 min 30 s", 630},
		{"10 min - 30 s", "10 min", 600},
		{"10 g / l", "10 g", 10},
		{"10 g/l*tank", "10 g/l", 0.01},
		{"10 g/l/min", "10 g/l/min", 0.01 / 60},
		{"5 ml)", "5 ml", 5},
		{"5 ml(x)", "5", 5},
		{"5 and 6", "5", 5},
		{"5 in x", "5", 5},
		{"5, 6", "5", 5},
		{"5,6", "5", 5},
		{"2 %", "2 %", 0.02},
		{"2 °C, 1", "2 °C", 2},
		{"1 2/3 stop*2", "1 2/3 stop", 5. / 3},
	} {
		v, end, trouble := ReadInFormula(c.text, 0)
		if trouble != nil || c.text[:end] != c.literal || !close(v.Base, c.base) {
			t.Errorf("ReadInFormula(%q) took %q, %v, %v; want %q, %v", c.text, c.text[:end], v.Base, trouble, c.literal, c.base)
		}
	}
	for _, c := range []struct{ text, code, hint string }{
		{"1+100", "dilution-in-formula", "dilution(1, 100)"},
		{"1 in 100", "dilution-in-formula", "dilution(1, 99)"},
		{"1+2+100", "dilution-three-parts", ""},
		{"5ml", "blank-before-unit", "5 ml"},
	} {
		_, _, trouble := ReadInFormula(c.text, 0)
		if trouble == nil || trouble.Code != c.code || !strings.Contains(trouble.Hint, c.hint) {
			t.Errorf("ReadInFormula(%q): %+v; want %s, %q", c.text, trouble, c.code, c.hint)
		}
	}
}

// Offsets lead back to the text as it was written.
func TestNormaliseBack(t *testing.T) {
	text := "5 μm\u202f+\u00a0−2 ℃"
	out, back := Normalise(text)
	if out != "5 µm + -2 °C" {
		t.Fatalf("Normalise gave %q", out)
	}
	var got []string
	for i, r := range out {
		if r != ' ' {
			got = append(got, text[back[i]:back[i+len(string(r))]])
		}
	}
	want := []string{"5", "μ", "m", "+", "−", "2", "℃", ""}
	// both characters that ℃ becomes have its place
	if diff := cmp.Diff(want[:6], got[:6]); diff != "" {
		t.Error(diff)
	}
	if back[len(out)] != len(text) {
		t.Errorf("the end leads to %d, not %d", back[len(out)], len(text))
	}
	if plainText, back := Normalise("tank / 101\n+ 1 ml"); plainText != "tank / 101\n+ 1 ml" || back != nil {
		t.Error("a plain text moved")
	}
}
