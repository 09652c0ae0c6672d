package quantity

import (
	"math"
	"testing"
	"unicode/utf8"
)

// Nothing that somebody types makes the reader panic, is read as anything but a finite number, or
// is marked outside the text; what is read can be shown, and what is shown can be read.
func FuzzQuantity(f *testing.F) {
	for _, text := range []string{"500 ml", "0.86 g/ml", "1/125 s", "10 min 30 s", "1 2/3 stop", "1+100", "1 in 100", "20 °C", "3.6 Δ°F",
		"20 /l", "18 °C .. 24 °C by 1 °C", "4.95 ml ± 0.01 ml", "5 ml +- 1 %", "f/8", "yes", "0,5 ml", "10:30", "1:100", "500ml", "2 oz",
		"1+2+100", ".5 ml", "007 ml", "1_000", "0x1F", "5 min 30", "2×3", "20 °C/min", "1/n s", "1+n", "usual", "1/999999999 stop",
		"1e99 km9", "1E0000700", "−5 ℃", "5 \xff ml", "1/3 stop", "12.50 USD"} {
		f.Add(text)
	}
	kinds := []Kind{Number, Time, Volume, Stops, Scale, Degree, Any, {Money: 1, Currency: "USD"}}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			return
		}
		inside := func(trouble *Trouble) {
			if trouble.Start < 0 || trouble.End < trouble.Start || trouble.End > len(text) {
				t.Fatalf("%q: marked from %d to %d", text, trouble.Start, trouble.End)
			}
			if trouble.Code == "" || trouble.Message == "" || !utf8.ValidString(trouble.Message+trouble.Hint) && utf8.ValidString(text) {
				t.Fatalf("%q: %+v", text, trouble)
			}
		}
		finite := func(v float64) {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%q is read as %v", text, v)
			}
		}
		if v, trouble := Parse(text); trouble != nil {
			inside(trouble)
		} else {
			finite(v.Base)
			for _, s := range []Show{v.AsWritten(), DefaultShow(v.Kind, v.Unit)} {
				_ = s.Format(v.Base).Text
				_ = s.Format(-v.Base * 0.37).Text
			}
			again, trouble := Parse(v.Text)
			if trouble != nil || again.Kind != v.Kind || !Equal(again.Base, v.Base) {
				t.Fatalf("%q is %q, which is read as %v of %s, %v", text, v.Text, again.Base, again.Kind.Name(), trouble)
			}
		}
		if _, trouble := ParseDifference(text); trouble != nil {
			inside(trouble)
		}
		if r, trouble := ParseRange(text); trouble != nil {
			inside(trouble)
		} else if Less(r.To.Base, r.From.Base) {
			t.Fatalf("%q runs from %v to %v", text, r.From.Base, r.To.Base)
		}
		if e, trouble := ParseExpected(text); trouble != nil {
			inside(trouble)
		} else {
			finite(e.Base)
			finite(e.Tolerance)
		}
		for _, k := range kinds {
			s, trouble := ParseShow(text, k)
			if trouble != nil {
				inside(trouble)
				continue
			}
			for _, v := range []float64{0, 1, -1.25, 59.96, 1e9, 1e-9} {
				_ = s.Format(v).Text
			}
		}
		norm, back := Normalise(text)
		if back != nil && (len(back) != len(norm)+1 || back[len(norm)] != len(text)) {
			t.Fatalf("%q: %d places for %d bytes", text, len(back), len(norm))
		}
		for at := range norm {
			if isDigit(norm[at]) {
				if _, end, trouble := ReadInFormula(norm, at); trouble == nil && (end <= at || end > len(norm)) {
					t.Fatalf("%q at %d ends at %d", norm, at, end)
				}
			}
			if at > 100 {
				break
			}
		}
	})
}
