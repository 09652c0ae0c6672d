package formulary

import "strings"

// Words is the range in words: "from 18 °C to 24 °C", "above 0", "" if it is open.
func (r Range) Words() string {
	var out []string
	for _, end := range []struct{ word, value string }{{"from", r.From}, {"above", r.Above}, {"to", r.To}, {"below", r.Below}} {
		if end.value != "" {
			out = append(out, end.word+" "+end.value)
		}
	}
	return strings.Join(out, " ")
}
