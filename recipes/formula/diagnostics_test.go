package formula

import (
	"os"
	"strings"
	"testing"
)

// The formulas of testdata/diagnostics.txt, each with the marks that it must get: under
// the offending part, with the code and a part of the message or the hint.
func TestDiagnostics(t *testing.T) {
	raw, err := os.ReadFile("testdata/diagnostics.txt")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(raw), "\n")
	count := 0
	for i := 0; i < len(lines); i++ {
		text := lines[i]
		if text == "" || strings.HasPrefix(text, "##") {
			continue
		}
		line := i + 1
		var want []string
		for i+1 < len(lines) && strings.HasPrefix(strings.TrimLeft(lines[i+1], " "), "^") {
			i++
			want = append(want, lines[i])
		}
		count++
		_, list := infer(text)
		if len(want) == 0 {
			t.Errorf("line %d: %s: no mark is expected", line, text)
		}
		for k, d := range list {
			_, mark := d.Excerpt()
			if d.Message == "" {
				t.Errorf("line %d: %s: an empty message", line, text)
			}
			if k >= len(want) {
				t.Errorf("line %d: not expected:\n%s\n%s %s: %s %s", line, text, mark, d.Code, d.Message, d.Hint)
				continue
			}
			trimmed := strings.TrimLeft(want[k], " ")
			width := len(trimmed) - len(strings.TrimLeft(trimmed, "^"))
			wantMark := want[k][:len(want[k])-len(trimmed)+width]
			code, part, _ := strings.Cut(strings.TrimSpace(trimmed[width:]), ": ")
			if mark != wantMark || d.Code != code || !strings.Contains(d.Message+" "+d.Hint, part) {
				t.Errorf("line %d: got\n%s\n%s %s: %s %s\nwant\n%s", line, text, mark, d.Code, d.Message, d.Hint, want[k])
			}
		}
		for _, w := range want[min(len(list), len(want)):] {
			t.Errorf("line %d: missing\n%s\n%s", line, text, w)
		}
	}
	if count < 100 {
		t.Errorf("only %d formulas", count)
	}
}
