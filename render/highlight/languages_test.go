package highlight

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/lexers"
)

// classes returns the class of each byte of a text.
func classes(t *testing.T, lexer chroma.Lexer, text string) []string {
	t.Helper()
	tokens, ok := tokenise(lexer, text)
	if !ok {
		t.Fatalf("not taken apart: %q", text)
	}
	var out []string
	for _, token := range tokens {
		for range len(token.Value) {
			out = append(out, classOf(token.Type))
		}
	}
	return out
}

// Each language is compared with the library's own lexer on the sample: at least four bytes in five
// have the same class.
func TestLanguages(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range languages {
		t.Run(l.names[0], func(t *testing.T) {
			for _, name := range l.names {
				if seen[name] {
					t.Errorf("%s is named twice", name)
				}
				seen[name] = true
				if got := Code(name, l.sample); textOf(got) != l.sample {
					t.Errorf("%s: the text became %q", name, textOf(got))
				}
			}
			own, theirs := classes(t, l.lexer(), l.sample), classes(t, lexers.Get(l.names[0]), l.sample)
			var differ []string
			for i := range own {
				if own[i] != theirs[i] && strings.TrimSpace(l.sample[i:i+1]) != "" {
					differ = append(differ, fmt.Sprintf("%q is %q and not %q", l.sample[i], own[i], theirs[i]))
				}
			}
			if len(differ)*5 > len(own) {
				t.Errorf("of %d bytes %d differ: %s", len(own), len(differ), strings.Join(differ, "; "))
			}
		})
	}
}

// A block text ends at a line that is not indented more than its key.
func TestTextOverSeveralLines(t *testing.T) {
	got := Code("yaml", "given:\n  note: |\n    first: 1\n\n    second\n  next: 2\n")
	for _, want := range []string{`first: 1`, `<span class="code-word">next</span>`, `<span class="code-value">2</span>`} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in %s", want, got)
		}
	}
}

// The README names every language that is coloured.
func TestReadmeNamesTheLanguages(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, named, _ := strings.Cut(string(b), "A fence that names its language is coloured:")
	named, _, _ = strings.Cut(named, ";")
	for _, l := range append(languages, &language{names: []string{formulaName}}) {
		if !strings.Contains(named, "`"+l.names[0]+"`") {
			t.Errorf("the README does not name %s", l.names[0])
		}
	}
}
