package quantity

import (
	"math"
	"strings"
	"testing"
)

// Every row of the page format's table of show, at ordinary values and at those where
// the form changes after rounding.
func TestShow(t *testing.T) {
	usd := Kind{Money: 1, Currency: "USD"}
	for _, c := range []struct {
		value, show, want string
	}{
		// steps: as many decimals as the step is written with
		{"4.951 ml", "1 ml", "5 ml"},
		{"4.951 ml", "0.5 ml", "5.0 ml"},
		{"4.951 ml", "0.1 ml", "5.0 ml"},
		{"4.951 ml", "0.10 ml", "5.00 ml"},
		{"4.951 ml", "0.01 ml", "4.95 ml"},
		{"4.951 ml", "0.25 ml", "5.00 ml"},
		{"4.951 ml", "1e-2 ml", "4.95 ml"},
		{"0.01234", "0.1 %", "1.2 %"},
		{"20.26 °C", "0.5 °C", "20.5 °C"},
		{"20.26 °C", "0.5 K", "20.5 °C"},
		{"20 °C", "1 °F", "68 °F"},
		{"20 °C", "1 Δ°F", "68 °F"},
		{"-5.26 °C", "0.5 °C", "-5.5 °C"},
		{"2.26 K", "0.5 °C", "2.5 K"},
		{"1 K", "0.1 °F", "1.8 Δ°F"},
		{"1.6", "1", "2"},
		{"1.006", "0.01", "1.01"},
		{"1234567 ml", "1 ml", "1234567 ml"},
		{"1234 ml", "10 ml", "1230 ml"},
		{"1235 ml", "10 ml", "1240 ml"},
		{"1234 ml", "0.1 l", "1.2 L"},
		{"30 ml", "1 fl_oz", "1 fl_oz"},
		{"20 g/l", "0.1 g/l", "20.0 g/L"},
		{"6.5 USD", "0.01 USD", "6.50 USD"},
		{"6.5 USD", "1 USD", "7 USD"},

		// with a sign before what is above zero
		{"0.26 stop", "+0.1 stop", "+0.3 stop"},
		{"-0.26 stop", "+0.1 stop", "-0.3 stop"},
		{"0.04 stop", "+0.1 stop", "0.0 stop"},
		{"0 stop", "+0.1 stop", "0.0 stop"},
		{"0.006", "+0.01", "+0.01"},
		{"1 2/3 stop", "+1/3 stop", "+1 2/3 stop"},
		{"75 s", "+15 s", "+1 min 15 s"},
		{"2 K", "+0.5 °C", "+2.0 K"},

		// a unit alone: digits as without show
		{"1234.5 ml", "l", "1.23 L"},
		{"29.5735295625 ml", "fl_oz", "1 fl_oz"},
		{"0.012345", "%", "1.23 %"},
		{"0.000012345", "ppm", "12.3 ppm"},
		{"20 °C", "°F", "68 °F"},
		{"2 K", "Δ°F", "3.6 Δ°F"},
		{"2 K", "°F", "3.6 Δ°F"},
		{"2 K", "°C", "2 K"},
		{"6.5 USD", "USD", "6.50 USD"},
		{"6.504 USD", "USD", "6.50 USD"},

		// times
		{"8.26789 s", "s", "8.27 s"},
		{"72.7 s", "s", "1 min 13 s"},
		{"600 s", "s", "10 min"},
		{"59.7 s", "1 s", "1 min"},
		{"59.4 s", "1 s", "59 s"},
		{"52.4 s", "15 s", "45 s"},
		{"52.5 s", "15 s", "1 min"},
		{"72.74 s", "0.1 s", "1 min 12.7 s"},
		{"59.96 s", "0.1 s", "1 min"},
		{"59.94 s", "0.1 s", "59.9 s"},
		{"3599.96 s", "0.1 s", "1 h"},
		{"9 min 16 s", "15 s", "9 min 15 s"},
		{"-90 s", "15 s", "-1 min 30 s"},
		{"-3 s", "15 s", "0 s"},
		{"9 min 15 s", "0.1 min", "9.3 min"},
		{"36 h", "day", "1.5 days"},
		{"8.04 ms", "0.1 ms", "8.0 ms"},
		{"90 min", "min", "90 min"},

		// stops
		{"0.34 stop", "1/3 stop", "1/3 stop"},
		{"1.66 stop", "1/3 stop", "1 2/3 stop"},
		{"-1.3 stop", "1/3 stop", "-1 1/3 stop"},
		{"-0.3 stop", "1/3 stop", "-1/3 stop"},
		{"0.1 stop", "1/3 stop", "0 stop"},
		{"-0.1 stop", "1/3 stop", "0 stop"},
		{"0.5 stop", "1/2 stop", "1/2 stop"},
		{"0.5 stop", "1/6 stop", "1/2 stop"},
		{"2.5 stop", "1/12 stop", "2 1/2 stop"},
		{"1.99 stop", "1/3 stop", "2 stop"},
		{"1.66 stop", "0.1 stop", "1.7 stop"},
		{"1.5 stop", "1/999999998 stop", "1 1/2 stop"},

		// dilutions
		{"1+100", "1+n", "1+100"},
		{"2+98", "1+n", "1+49"},
		{"0.0099", "1+n", "1+100"},
		{"0.3", "1+n", "1+2.33"},
		{"1", "1+n", "1+0"},
		{"0", "1+n", "0"},
		{"1.5", "1+n", "1.5"},

		// short times
		{"8 ms", "1/n s", "1/125 s"},
		{"0.0101 s", "1/n s", "1/99 s"},
		{"0.3999 s", "1/n s", "1/3 s"},
		{"0.4 s", "1/n s", "0.4 s"},
		{"0.5 s", "1/n s", "0.5 s"},
		{"2 s", "1/n s", "2.0 s"},

		// apertures
		{"8", "f/n", "f/8"},
		{"5.6", "f/n", "f/5.6"},
		{"5.657", "f/n", "f/5.7"},
		{"11.31", "f/n", "f/11"},

		// usual
		{"0.123 ml", "usual", "0.12 ml"},
		{"1 ml", "usual", "1.00 ml"},
		{"4.951 ml", "usual", "5.0 ml"},
		{"10 ml", "usual", "10.0 ml"},
		{"49.5 ml", "usual", "50 ml"},
		{"100 ml", "usual", "100 ml"},
		{"332 ml", "usual", "330 ml"},
		{"333 ml", "usual", "335 ml"},
		{"1 l", "usual", "1000 ml"},
		{"1234 ml", "usual", "1230 ml"},
		{"0.5 g", "usual", "0.50 g"},
		{"0.996 g", "usual", "1.00 g"},
		{"1 g", "usual", "1.0 g"},
		{"152.94 g", "usual", "152.9 g"},
		{"4 min 52 s", "usual", "4 min 50 s"},
		{"4 min 59 s", "usual", "5 min"},
		{"9 min 16 s", "usual", "9 min 15 s"},

		// half away from zero, and binary noise
		{"0.15", "0.1", "0.2"},
		{"-0.15", "0.1", "-0.2"},
		{"2.675", "0.01", "2.68"},
		{"1.005", "0.01", "1.01"},
		{"-2.5", "1", "-3"},
		{"0.285", "0.01", "0.29"},
		{"-0.04", "0.1", "0.0"},
		{"-0.0001 ml", "1 ml", "0 ml"},
	} {
		v, trouble := Parse(c.value)
		if trouble != nil {
			t.Fatalf("%q: %s", c.value, trouble.Message)
		}
		s, trouble := ParseShow(c.show, v.Kind)
		if trouble != nil {
			t.Errorf("show %q of %s: %s", c.show, c.value, trouble.Message)
			continue
		}
		if got := s.Format(v.Base); got.Text != c.want {
			t.Errorf("%s at show %q reads %q, want %q", c.value, c.show, got.Text, c.want)
		}
	}
	for _, c := range []struct {
		show string
		kind Kind
		code string
	}{
		{"1 g", Volume, "show-kind"},
		{"g", Volume, "show-kind"},
		{"ml", Number, "show-kind"},
		{"%", Volume, "show-kind"},
		{"1 ml", Number, "show-kind"},
		{"1", Volume, "show-kind"},
		{"1+n", Volume, "show-kind"},
		{"f/n", Time, "show-kind"},
		{"1/n s", Number, "show-kind"},
		{"EUR", usd, "show-kind"},
		{"1 ml", Yes, "show-nothing"},
		{"ml", Text, "show-nothing"},
		{"usual", Length, "show-usual"},
		{"usual", Number, "show-usual"},
		{"", Volume, "show-empty"},
		{"  ", Volume, "show-empty"},
		{"mll", Volume, "show-unknown"},
		{"nice", Volume, "show-unknown"},
		{"1+100", Number, "show-unknown"},
		{"1 min 30 s", Time, "show-unknown"},
		{"2/3 stop", Stops, "show-fraction"},
		{"1 1/3 stop", Stops, "show-fraction"},
		{"1/3 ml", Volume, "show-fraction"},
		{"1/125 s", Time, "show-fraction"},
		{"0 ml", Volume, "step-not-positive"},
		{"-1 ml", Volume, "step-not-positive"},
		{"0 °C", Scale, "step-not-positive"},
		{"-0.5 °C", Scale, "step-not-positive"},
		{"0,1 ml", Volume, "decimal-comma"},
		{"1ml", Volume, "blank-before-unit"},
		{"1e-20 ml", Volume, "show-too-fine"},
	} {
		s, trouble := ParseShow(c.show, c.kind)
		if trouble == nil {
			t.Errorf("show %q of %s was taken: %+v; want %s", c.show, c.kind.Name(), s, c.code)
			continue
		}
		if trouble.Code != c.code || trouble.Message == "" || trouble.Hint == "" || trouble.End > len(c.show) {
			t.Errorf("show %q of %s: %+v; want %s", c.show, c.kind.Name(), trouble, c.code)
		}
	}
}

// Without show: three significant digits, the whole part in full, no zeros at the end;
// times by size; money to its minor unit.
func TestDefaultShow(t *testing.T) {
	for _, c := range []struct{ value, want string }{
		{"4.9505 ml", "4.95 ml"},
		{"5.00 ml", "5 ml"},
		{"1235 ml", "1235 ml"},
		{"1234.6 ml", "1235 ml"},
		{"99.96 ml", "100 ml"},
		{"9.996 ml", "10 ml"},
		{"0.9996 ml", "1 ml"},
		{"0.0012345 ml", "0.00123 ml"},
		{"-4.9505 ml", "-4.95 ml"},
		{"0 ml", "0 ml"},
		{"-0 ml", "0 ml"},
		{"12.34 %", "0.123"},
		{"1+100", "0.0099"},
		{"6.5 USD", "6.50 USD"},
		{"6.505 USD", "6.51 USD"},
		{"650 JPY", "650 JPY"},
		{"1.2345 KWD", "1.235 KWD"},
		{"8.267 s", "8.27 s"},
		{"59.95 s", "1 min"},
		{"59.94 s", "59.9 s"},
		{"630 s", "10 min 30 s"},
		{"90.6 s", "1 min 31 s"},
		{"3900 s", "1 h 5 min"},
		{"47 h 59 min 59 s", "47 h 59 min 59 s"},
		{"172799.6 s", "2 days"},
		{"48 h", "2 days"},
		{"100 h", "4.17 days"},
		{"-630 s", "-10 min 30 s"},
		{"-100 h", "-4.17 days"},
		{"1 2/3 stop", "1.67 stop"},
		{"20.26 °C", "20.3 °C"},
		{"68.36 °F", "68.4 °F"},
		{"20 g/l", "20 g/L"},
		{"0.86 g/ml", "0.86 g/ml"},
		{"1234567 g", "1234567 g"},
	} {
		v, trouble := Parse(c.value)
		if trouble != nil {
			t.Fatalf("%q: %s", c.value, trouble.Message)
		}
		if got := DefaultShow(v.Kind, v.Unit).Format(v.Base).Text; got != c.want {
			t.Errorf("%s reads %q, want %q", c.value, got, c.want)
		}
	}
	if got := DefaultShow(Yes, Unit{}).Format(1).Text; got != "yes" {
		t.Errorf("true reads %q", got)
	}
	if got := DefaultShow(Yes, Unit{}).Format(0).Text; got != "no" {
		t.Errorf("false reads %q", got)
	}
	s := DefaultShow(Text, Unit{})
	s.Words = []string{"roll", "sheet"}
	if got := s.Format(1).Text; got != "sheet" {
		t.Errorf("the second choice reads %q", got)
	}
	if got := s.Format(7).Text; got != "" {
		t.Errorf("no choice reads %q", got)
	}
}

// The default units: ml, mm, m2, g, mol, K, stop, the currency, and these joined.
func TestDefaultUnit(t *testing.T) {
	for _, c := range []struct{ like, want string }{
		{"1 l", "ml"}, {"1 ft", "mm"}, {"1 sq_ft", "m²"}, {"1 lb", "g"}, {"1 mmol", "mol"}, {"1 Δ°F", "K"},
		{"1 stop", "stop"}, {"1 EUR", "EUR"}, {"1 g/l", "g/ml"}, {"1 ml/m2", "mm"}, {"1 cm/min", "mm/s"},
		{"1 /l", "/ml"}, {"1 /min", "/s"}, {"1 EUR/m3", "EUR/ml"}, {"1 mol/l", "mol/ml"}, {"1 °F", "°C"},
		{"1 psi", "kPa"}, {"1 kWh", "J"}, {"1 kW", "W"}, {"1 m/s2", "mm/s²"}, {"1 J/kg/K", "m²/K/s²"},
	} {
		v, _ := Parse(c.like)
		if got := v.Kind.Default().Text; got != c.want {
			t.Errorf("values like %s default to %q, want %q", c.like, got, c.want)
		}
		if v.Kind.Default().Kind != v.Kind {
			t.Errorf("the default unit of %s is of another kind", c.like)
		}
	}
}

// A given is shown in the unit, and in the form, of its own value.
func TestAsWritten(t *testing.T) {
	for _, c := range []struct{ own, other, want string }{
		{"500 ml", "1.5 l", "1500 ml"},
		{"2 l", "500 ml", "0.5 L"},
		{"20 °C", "68.5 °F", "20.27777778 °C"},
		{"68 °F", "20 °C", "68 °F"},
		{"1+100", "1+50", "1+50"},
		{"10 min 30 s", "90 s", "1 min 30 s"},
		{"10 min", "90 s", "1.5 min"},
		{"1/125 s", "4 ms", "1/250 s"},
		{"1/3 stop", "2/3 stop", "2/3 stop"},
		{"1 1/2 stop", "2 stop", "2 stop"},
		{"12.50 USD", "3 USD", "3.00 USD"},
		{"5 %", "0.025", "2.5 %"},
		{"8", "2.5", "2.5"},
		{"1.09", "1.123456", "1.123456"},
	} {
		own, _ := Parse(c.own)
		other, trouble := Parse(c.other)
		if trouble != nil {
			t.Fatal(trouble.Message)
		}
		if got := own.AsWritten().Format(other.Base).Text; got != c.want {
			t.Errorf("%s beside %s reads %q, want %q", c.other, c.own, got, c.want)
		}
	}
}

// The machine's number is unrounded, in the unit that is shown.
func TestShownNumber(t *testing.T) {
	for _, c := range []struct {
		value, show, unit string
		number            float64
	}{
		{"4.951 ml", "1 ml", "ml", 4.951},
		{"4.951 ml", "0.1 l", "L", 0.004951},
		{"9 min 16 s", "15 s", "s", 556},
		{"8.1 ms", "1/n s", "s", 0.0081},
		{"36 h", "day", "day", 1.5},
		{"0.0125", "0.1 %", "%", 1.25},
		{"1+100", "1+n", "", 1. / 101},
		{"1.66 stop", "1/3 stop", "stop", 1.66},
		{"20 °C", "1 °F", "°F", 68},
	} {
		v, _ := Parse(c.value)
		s, trouble := ParseShow(c.show, v.Kind)
		if trouble != nil {
			t.Fatal(trouble.Message)
		}
		got := s.Format(v.Base)
		if got.Unit != c.unit || !Equal(got.Number, c.number) {
			t.Errorf("%s at %s is %v %q, want %v %q", c.value, c.show, got.Number, got.Unit, c.number, c.unit)
		}
	}
}

// No zero has a sign, in any style.
func TestZeroHasNoSign(t *testing.T) {
	for _, show := range []string{"1 ml", "0.01 ml", "ml", "usual"} {
		checkZero(t, show, Volume)
	}
	for _, show := range []string{"s", "15 s", "0.1 s", "0.1 min", "day", "1/n s", "usual"} {
		checkZero(t, show, Time)
	}
	checkZero(t, "1/3 stop", Stops)
	checkZero(t, "0.1 %", Number)
	checkZero(t, "0.5 °C", Scale)
}

func checkZero(t *testing.T, show string, k Kind) {
	t.Helper()
	s, trouble := ParseShow(show, k)
	if trouble != nil {
		t.Fatal(trouble.Message)
	}
	for _, v := range []float64{0, math.Copysign(0, -1), -1e-18} {
		if got := s.Format(v).Text; strings.Contains(got, "-") {
			t.Errorf("%v at %s reads %q", v, show, got)
		}
	}
}
