package build

import (
	"fmt"
	"strings"
	"testing"
)

// One fact with two values is reported, whether its pages have its label, its substance or its
// source in common. What may differ is not.
func TestDisagreeing(t *testing.T) {
	value := func(label, value, source string) string {
		return fmt.Sprintf("{label: %q, value: %s, source: %q, owner: process lead}", label, value, source)
	}
	for name, c := range map[string]struct {
		one, other string
		want       string // a code, or "" where nothing is to be told
	}{
		"one label":                 {value("Time in the fixer", "4 min", "measured here 2026-09-14"), value("time in the fixer", "5 min", "measured here 2026-09-20"), "fact-two-values"},
		"one label, alike":          {value("Time in the fixer", "4 min", "measured here 2026-09-14"), value("Time in the fixer", "240 s", "measured here 2026-09-20"), "fact-kept-twice"},
		"another kind":              {value("Fixer", "4 min", "measured here 2026-09-14"), value("Fixer", "4 ml", "measured here 2026-09-14"), ""},
		"one substance":             {value("Density of triethanolamine", "1.12 g/ml", "measured here 2026-09-14"), value("Triethanolamine, its density", "1.13 g/ml", "from memory"), "fact-two-values"},
		"two substances":            {value("Density of triethanolamine", "1.12 g/ml", "measured here 2026-09-14"), value("Density of acetic acid", "1.05 g/ml", "measured here 2026-09-14"), ""},
		"two things of a substance": {value("Density of triethanolamine", "1.12 g/ml", "measured here 2026-09-14"), value("Triethanolamine in the syrup", "0.9 g/ml", "measured here 2026-09-14"), ""},
		"one published source":      {value("Area of a roll", "0.05161 m2", "US Army manual TM 11-2323"), value("Film on one roll", "0.052 m2", "US Army manual TM 11-2323"), "fact-two-values"},
		"two things of one source":  {value("Area of a roll", "0.05161 m2", "US Army manual TM 11-2323"), value("Sheet, large", "0.0516 m2", "US Army manual TM 11-2323"), ""},
		"measured on one day":       {value("Area of a roll", "0.05161 m2", "measured here 2026-09-14"), value("Film on one roll", "0.052 m2", "measured here 2026-09-14"), ""},
	} {
		t.Run(name, func(t *testing.T) {
			page := func(title, given string) string {
				return "---\ntitle: " + title + "\naudience: staff\ngiven:\n  fact: " + given + "\n  other: {value: 2, from: 1, to: 9}\nfigures:\n  twice: {label: Twice, formula: fact * other}\n---\n"
			}
			s, list := checked(t, labOf(t, map[string]string{"one.md": page("One", c.one), "other.md": page("Other", c.other)}))
			if list.Errors() > 0 {
				t.Fatal(told(list))
			}
			found := s.Disagreeing()
			codes := map[string]int{}
			for _, d := range found {
				codes[d.Code]++
			}
			want := map[string]int{"fact-two-values": 2, "fact-kept-twice": 1}[c.want]
			if len(found) != want || codes[c.want] != want {
				t.Errorf("%v is told:\n%s", codes, told(found))
			}
			if want == 2 && !strings.Contains(told(found), "other.md") {
				t.Error("the other place is not named")
			}
		})
	}
}
