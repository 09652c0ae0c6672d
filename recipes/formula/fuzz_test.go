package formula

import (
	"bufio"
	"math"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"labsite/recipes/source"
)

// No formula makes the reader panic; a problem is reported at a place inside it; a formula that is
// read gives a finite value or a fault.
func FuzzFormula(f *testing.F) {
	for _, text := range []string{"tank / 101 + 0.5 ml", `if film == "roll" and not (bath > -5 °C) { 8 min } else { 10 min }`,
		"let x = rolls * 0.052 m2; x * 65 ml/m2", "lookup(times.minutes, times.film, film, times.bath, bath)",
		"interpolate_log(times.y, times.x, rolls)", "s / 1/3 stop", "time - 10 min 30 s", "-2 ** 2", "mean(bath, 20 °C)", "mix.syrup * 2 %",
		"round(5 μl, 1 µl)", "y ? 10 : 30", "1 < 2 < 3", "a ?: b", "5 ml (x)", `"a"b`, "map(tank, # + 1)", "not a == b"} {
		f.Add(text)
	}
	if file, err := os.Open("testdata/diagnostics.txt"); err == nil {
		for lines := bufio.NewScanner(file); lines.Scan(); {
			if text := lines.Text(); text != "" && !strings.HasPrefix(text, "##") && !strings.HasPrefix(strings.TrimSpace(text), "^") {
				f.Add(text)
			}
		}
		file.Close()
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4*MostCharacters {
			return
		}
		file, trouble := source.New("f", []byte(text))
		if len(trouble) > 0 {
			return
		}
		tell := func(list source.List) {
			for _, d := range list {
				if d.Code == "" || d.Message == "" || d.Line < 1 || d.Line > file.Lines() || d.Column < 1 ||
					d.Column > utf8.RuneCountInString(file.Line(d.Line))+1 || !utf8.ValidString(d.Message+d.Hint) {
					t.Fatalf("%q: %+v", text, d)
				}
				_ = d.String()
			}
		}
		parsed, list := Parse(file.Text, file.Span)
		tell(list)
		if parsed == nil {
			if list.Errors() == 0 {
				t.Fatalf("%q is not read, and nothing is reported", text)
			}
			return
		}
		_ = parsed.References()
		_ = parsed.With(func(r Reference) (string, bool) { return r.Name, true })
		parsed.Alone()
		scope := newScope()
		n, list := Infer(parsed, scope)
		tell(list)
		if n == nil {
			if list.Errors() == 0 && !strings.Contains(text, "z") {
				t.Fatalf("%q has no kind, and nothing is reported", text)
			}
			return
		}
		if list.Errors() > 0 {
			t.Fatalf("%q has a kind in spite of %s", text, list)
		}
		n.FirstUnit()
		n.Ownership()
		count := 0
		n.Walk(func(*Node) bool { count++; return true })
		if count > 4*MostNodes {
			t.Fatalf("%q has %d parts", text, count)
		}
		frame := Frame{V: make([]float64, scope.slots)}
		for _, fill := range []float64{0, 1, -1.5, 1e6, 1e-9} {
			frame.Reset()
			for i := range frame.V {
				frame.V[i] = fill
			}
			v := n.Eval(&frame)
			if frame.Fault == None && (math.IsNaN(v) || math.IsInf(v, 0)) {
				t.Fatalf("%q is %v without a fault", text, v)
			}
			if frame.Fault != None && frame.At == nil {
				t.Fatalf("%q fails nowhere", text)
			}
		}
	})
}
