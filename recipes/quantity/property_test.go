package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// someUnit draws a unit: a single one, or one that a page could join.
func someUnit() *rapid.Generator[Unit] {
	var texts []string
	for _, e := range Entries() {
		if e.Kind.Money == 0 || e.Name == "USD" || e.Name == "JPY" || e.Name == "KWD" {
			texts = append(texts, e.Name)
		}
	}
	texts = append(texts, "g/l", "ml/m2", "cm/min", "kJ/kg/K", "/l", "/min", "oz_av/gal", "USD/m3", "mol/l", "m2", "m3", "mm2",
		"ml*h", "stop/min", "m4", "kg*m/s2")
	return rapid.Map(rapid.SampledFrom(texts), must)
}

// decimal draws a number as somebody writes it, of a size that a bench could meet.
func decimal() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		digits := rapid.IntRange(0, 999_999).Draw(t, "digits")
		point := rapid.IntRange(0, 5).Draw(t, "point")
		text := big.NewRat(int64(digits), 1).SetFrac64(int64(digits), int64(math.Pow10(point))).FloatString(point)
		if rapid.Bool().Draw(t, "minus") && digits > 0 {
			text = "-" + text
		}
		return text
	})
}

// A written number is read back exactly, in its unit.
func TestWrittenIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u, n := someUnit().Draw(t, "unit"), decimal().Draw(t, "number")
		text := n + " " + InNumber(n, u.Text)
		v, trouble := Parse(text)
		if trouble != nil {
			t.Fatalf("%q: %s", text, trouble.Message)
		}
		if v.Kind != u.Kind || v.Text != text {
			t.Fatalf("%q became %q of %s", text, v.Text, v.Kind.Name())
		}
		r, _ := new(big.Rat).SetString(n)
		exact, _ := new(big.Rat).Add(new(big.Rat).Mul(r, u.exact), u.zero).Float64()
		if v.Base != exact {
			t.Fatalf("%q is %.17g, exactly %.17g", text, v.Base, exact)
		}
	})
}

// someShow draws a way of showing values of the unit's kind.
func someShow(t *rapid.T, u Unit) Show {
	shows := []string{u.Text}
	for _, step := range []string{"1", "0.5", "0.1", "0.01", "0.25", "5", "1e-3"} {
		shows = append(shows, step+" "+u.Text)
	}
	switch u.Kind {
	case Number:
		shows = []string{"1", "0.01", "%", "0.1 %", "1+n", "f/n"}
	case Time:
		shows = append(shows, "s", "15 s", "0.1 s", "1/n s", "usual", "0.1 min", "day")
	case Stops:
		shows = append(shows, "1/3 stop", "1/2 stop", "1/12 stop", "1/7 stop")
	case Volume, Mass:
		shows = append(shows, "usual")
	case Degree:
		shows = append(shows, "0.5 °C", "1 °F")
	case Scale:
		shows = append(shows, "0.5 K", "1 Δ°F")
	}
	if rapid.Bool().Draw(t, "default") {
		return DefaultShow(u.Kind, u)
	}
	text := rapid.SampledFrom(shows).Draw(t, "show")
	s, trouble := ParseShow(text, u.Kind)
	if trouble != nil {
		t.Fatalf("show %q: %s", text, trouble.Message)
	}
	return s
}

// What is shown is read back, and shows the same again.
func TestShownIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := someUnit().Draw(t, "unit")
		s := someShow(t, u)
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "value")
		if rapid.Bool().Draw(t, "small") {
			v /= 1e6
		}
		base := u.Base(v)
		if s.Style == OneOver || s.Style == Added || s.Style == Engraved {
			base = math.Abs(base) + 1e-8 // nobody dilutes to smaller parts
		}
		shown := s.Format(base)
		if strings.Contains(shown.Text, "-0 ") || strings.HasSuffix(shown.Text, "-0") || strings.Contains(shown.Text, "  ") {
			t.Fatalf("%v %s reads %q", v, u.Text, shown.Text)
		}
		back, trouble := ParseExpected(shown.Text)
		if trouble != nil {
			t.Fatalf("%q is not read back: %s", shown.Text, trouble.Message)
		}
		if back.Kind != u.Kind {
			t.Fatalf("%q is read back as %s, not %s", shown.Text, back.Kind.Name(), u.Kind.Name())
		}
		// rounding twice changes nothing, in every form but the usual bands: rounding can
		// carry a value into another band
		if again := s.Format(back.Base); again.Text != shown.Text && s.Style != Usual {
			t.Fatalf("%v %s reads %q, which reads %q", v, u.Text, shown.Text, again.Text)
		}
	})
}

// Shown with a step, a value is off by half a step at most.
func TestStepsAreNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := someUnit().Draw(t, "unit")
		text := rapid.SampledFrom([]string{"1", "0.1", "0.5", "0.05", "2", "15"}).Draw(t, "step")
		label := text
		if u.Text != "" {
			label += " " + u.Text
		}
		s, trouble := ParseShow(label, u.Kind)
		if trouble != nil {
			t.Fatalf("%q: %s", label, trouble.Message)
		}
		if s.Style != Steps {
			return
		}
		v := rapid.Float64Range(-1e5, 1e5).Draw(t, "value")
		back, trouble := ParseExpected(s.Format(u.Base(v)).Text)
		if trouble != nil {
			t.Fatal(trouble.Message)
		}
		if off := math.Abs(u.Of(back.Base) - v); off > s.Step/2+1e-9*math.Max(1, math.Abs(v)) {
			t.Fatalf("%v %s is shown %v off", v, u.Text, off)
		}
	})
}

// Conversion there and back gives the same value but for the last bits, and keeps order.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := someUnit().Draw(t, "unit")
		a, b := rapid.Float64Range(-1e9, 1e9).Filter(normal).Draw(t, "a"), rapid.Float64Range(-1e9, 1e9).Draw(t, "b")
		if got := u.Of(u.Base(a)); math.Abs(got-a) > 1e-15*4*math.Abs(a)+math.Abs(u.Zero/u.Factor)*1e-15*4 {
			t.Fatalf("%v %s came back as %v", a, u.Text, got)
		}
		if (a < b) != (u.Base(a) < u.Base(b)) && math.Abs(a-b) > 1e-12*math.Max(math.Abs(a), math.Abs(b))+1e-9 {
			t.Fatalf("%v and %v %s change their order", a, b, u.Text)
		}
	})
}

// normal leaves out numbers so small that a float has no full precision for them.
func normal(v float64) bool { return v == 0 || math.Abs(v) > 1e-280 }

// A sum is the same whatever unit its parts are written in.
func TestSumInAnyUnit(t *testing.T) {
	for _, k := range []Kind{Volume, Mass, Time, Length, Area, Pressure, Energy, Power, Amount, Degree} {
		var names []string
		for _, e := range units.entries {
			if e.Kind == k {
				names = append(names, e.Name)
			}
		}
		if len(names) < 2 {
			t.Fatalf("%s has no two units", k.Name())
		}
		rapid.Check(t, func(t *rapid.T) {
			a, b := must(rapid.SampledFrom(names).Draw(t, "a")), must(rapid.SampledFrom(names).Draw(t, "b"))
			x, y := rapid.Float64Range(0, 1e6).Draw(t, "x"), rapid.Float64Range(0, 1e6).Draw(t, "y")
			sum := a.Base(x) + b.Base(y)
			for _, name := range names {
				u := must(name)
				if in := u.Of(a.Base(x)) + u.Of(b.Base(y)); !Equal(u.Base(in), sum) {
					t.Fatalf("%v %s + %v %s by way of %s is %v, not %v", x, a.Text, y, b.Text, name, u.Base(in), sum)
				}
			}
		})
	}
}

// Equal, less and less-or-equal agree with one another, whatever the noise.
func TestComparisons(t *testing.T) {
	for _, c := range []struct {
		a, b  float64
		equal bool
	}{
		{0.1 + 0.2, 0.3, true}, {1, 1 + 1e-10, true}, {1, 1 + 2e-9, false}, {1e9, 1e9 + 0.5, true}, {1e9, 1e9 + 2, false},
		{0, 1e-12, true}, {0, 1.1e-12, false}, {-1e-12, 0, true}, {0, 0, true}, {1e-13, 2e-13, true}, {5, -5, false},
		{1e-6, 1e-6 + 1e-14, true}, {100, 100 * (1 + 1e-9), true},
	} {
		if Equal(c.a, c.b) != c.equal || Equal(c.b, c.a) != c.equal {
			t.Errorf("%v and %v: equal should be %v", c.a, c.b, c.equal)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-1e6, 1e6).Draw(t, "a")
		b := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Just(a), rapid.Just(a*(1+1e-10)), rapid.Just(a+5e-13)).Draw(t, "b")
		one := 0
		for _, holds := range []bool{Less(a, b), Equal(a, b), Less(b, a)} {
			if holds {
				one++
			}
		}
		if one != 1 {
			t.Fatalf("%v and %v: %d of less, equal, more hold", a, b, one)
		}
		if LessOrEqual(a, b) == Less(b, a) {
			t.Fatalf("%v and %v: less or equal is not the opposite of more", a, b)
		}
	})
}

func TestWholeNumbersNearNoise(t *testing.T) {
	three := 15. / 3 * (1 - 1e-12)
	for _, c := range []struct {
		q, nearest, below, above float64
	}{
		{0.15 / 0.1, 2, 1, 2}, {three, 5, 5, 5}, {5 + 1e-10, 5, 5, 5}, {5 - 1e-10, 5, 5, 5}, {2.5 - 1e-10, 3, 2, 3},
		{-2.5 + 1e-10, -3, -3, -2}, {2.5 - 1e-8, 2, 2, 3}, {0.5, 1, 0, 1}, {-0.5, -1, -1, 0}, {2.3, 2, 2, 3}, {-2.3, -2, -3, -2},
	} {
		if got := fmt.Sprint(Nearest(c.q), Below(c.q), Above(c.q)+0); got != fmt.Sprint(c.nearest, c.below, c.above) {
			t.Errorf("%v: %s, want %v %v %v", c.q, got, c.nearest, c.below, c.above)
		}
	}
}

// Kinds multiply as their powers add.
func TestKinds(t *testing.T) {
	some := rapid.Custom(func(t *rapid.T) Kind { return someUnit().Draw(t, "unit").Kind })
	rapid.Check(t, func(t *rapid.T) {
		a, b := some.Draw(t, "a"), some.Draw(t, "b")
		ab, ok := a.Times(b)
		ba, ok2 := b.Times(a)
		if ok != ok2 || ab != ba && ok {
			t.Fatalf("%v times %v is not %v times %v", a, b, b, a)
		}
		if !ok {
			return
		}
		if back, ok := ab.Over(b); !ok || back != a {
			t.Fatalf("%s times %s over %s is %s", a.Name(), b.Name(), b.Name(), back.Name())
		}
		if square, ok := a.Power(2); ok {
			if root, ok := square.Root(); !ok || root != a {
				t.Fatalf("the root of the square of %s is %s", a.Name(), root.Name())
			}
		}
		if inverse, ok := a.Power(-1); ok {
			if one, _ := inverse.Times(a); one != Number {
				t.Fatalf("%s over itself is %s", a.Name(), one.Name())
			}
		}
	})
	usd, eur := must("USD").Kind, must("EUR").Kind
	for _, c := range []struct {
		name string
		a, b Kind
	}{
		{"two currencies", usd, eur}, {"stops", Stops, Stops}, {"points", Scale, Number}, {"points", Number, Scale},
		{"yes/no", Yes, Number}, {"texts", Number, Text}, {"a tenth power", Kind{Length: 9}, Length},
	} {
		if k, ok := c.a.Times(c.b); ok {
			t.Errorf("%s multiply to %s", c.name, k.Name())
		}
	}
	if k, ok := Stops.Over(Stops); !ok || k != Number {
		t.Error("stops over stops are no number")
	}
	if k, ok := Any.Times(Scale); !ok || k != Any {
		t.Error("an unknown kind should fit everywhere")
	}
	if _, ok := Volume.Root(); ok {
		t.Error("a volume has a square root")
	}
}
