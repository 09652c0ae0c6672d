package quantity

import (
	"strings"
	"testing"
)

// Marks ⟦…⟧ are around what is found, and after | is how a page writes it.
var typedExamples = []string{
	"Keep it at ⟦20 C|20 °C⟧, or ⟦68F|68 °F⟧.",
	"About ⟦20 degrees C|20 °C⟧, ⟦68 deg. F|68 °F⟧, ⟦18 degrees Celsius|18 °C⟧, ⟦21 degrees|21 °C⟧.",
	"At ⟦20 ° C|20 °C⟧ and at ⟦20°C|20 °C⟧.",
	"Wait ⟦3 minutes|3 min⟧, then ⟦1.5 hours|1.5 h⟧ and ⟦30 secs|30 s⟧.",
	"⟦2 litres|2 l⟧ of water, ⟦50 millilitres|50 ml⟧ of stock, ⟦5cc|5 ml⟧, ⟦0,5 litres|0.5 l⟧.",
	"⟦10 grams|10 g⟧ in ⟦500ml|500 ml⟧; ⟦2 oz|⟧ more; ⟦5 per cent|5 %⟧ of ⟦1,000 litres|⟧.",
	"A ⟦500-ml|500 ml⟧ tank, a ⟦30-second|30 s⟧ rinse, ⟦35-mm|35 mm⟧ film.",
	"Mixed ⟦1:20|1+20⟧ or ⟦1:1|1+1⟧, ⟦2:98|2+98⟧, ⟦1+100|1+100⟧, ⟦1 + 20|1+20⟧, ⟦1 in 50|1 in 50⟧.",
	"From 2 to ⟦3 minutes|3 min⟧; 18–⟦20 C|20 °C⟧; ⟦-5 C|-5 °C⟧.",
}

// Nothing is found in these.
var notTyped = []string{
	"On 2026-09-14 at 10:30, or 9:05; see page 12 of P-001, revision 3.",
	"ISO 6:1993, ISO 516:2019, ISO 78-2:1999, ISO 14524-1:2009, a time of 1:20:30.",
	"Turn it 90 degrees. Take 2 C-type prints, 3 F-stops, 4 films, 20 Canisters.",
	"Half a stop, every two minutes, under five minutes: words are left alone.",
	"24 exposures on 120 film, 8 by 10, the 2 in the tank, 5 d later, C-41, RA-4C, v1-20 C.",
	"3:2 and 16:9 and 4:5 are shapes. 1:0, 0:20, 1:2000, 1:20.5 and x1:20 are something else.",
	"1 + 20 ml is a sum", // Find finds the 20 ml in it
	"",
}

func TestTyped(t *testing.T) {
	for _, marked := range typedExamples {
		plain := ""
		var want []string
		for rest := marked; ; {
			before, after, ok := strings.Cut(rest, "⟦")
			plain += before
			if !ok {
				break
			}
			inside, after, _ := strings.Cut(after, "⟧")
			want = append(want, inside)
			text, _, _ := strings.Cut(inside, "|")
			plain, rest = plain+text, after
		}
		var got []string
		for _, f := range Typed(plain) {
			if plain[f.Start:f.End] != f.Text {
				t.Errorf("%q: %+v is not at its place", plain, f)
			}
			got = append(got, f.Text+"|"+f.Written)
		}
		if strings.Join(got, "⟧ ⟦") != strings.Join(want, "⟧ ⟦") {
			t.Errorf("%q:\ngot  ⟦%s⟧\nwant ⟦%s⟧", plain, strings.Join(got, "⟧ ⟦"), strings.Join(want, "⟧ ⟦"))
		}
		for _, f := range Typed(plain) {
			if _, trouble := Parse(f.Written); f.Written != "" && trouble != nil {
				t.Errorf("%q is offered as %q, which no page takes: %s", f.Text, f.Written, trouble.Message)
			}
		}
	}
	for _, text := range notTyped {
		for _, f := range Typed(text) {
			if f.Text != "20 ml" {
				t.Errorf("%q: %q is found", text, f.Text)
			}
		}
	}
}

// What Find finds, Typed finds as well, and neither leaves the text.
func FuzzTyped(f *testing.F) {
	for _, text := range append(typedExamples, notTyped...) {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		end := 0
		for _, x := range Typed(text) {
			if x.Start < end || x.End <= x.Start || x.End > len(text) || text[x.Start:x.End] != x.Text {
				t.Fatalf("%q: %+v after %d", text, x, end)
			}
			end = x.End
		}
	})
}
