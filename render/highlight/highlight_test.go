package highlight

import (
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"
	"pgregory.net/rapid"

	"labsite/recipes/formula"
)

// The formula language gives chroma a lexer of its own.
var _ chroma.Lexer = formulaLexer{}

var tags = regexp.MustCompile(`</?span[^>]*>`)

// textOf is what a reader sees of a piece of HTML, with ordinary spaces.
func textOf(out string) string {
	return strings.ReplaceAll(html.UnescapeString(tags.ReplaceAllString(out, "")), "\u00a0", " ")
}

func TestCode(t *testing.T) {
	for _, c := range []struct{ language, code, want string }{
		{"go", "if x { // no\n", `<span class="code-word">if</span>`},
		{"Go", "x := 1.5 // half\n", `<span class="code-value">1.5</span>`},
		{"yaml", "title: \"A page\"\n", `<span class="code-text">&#34;A page&#34;</span>`},
		{"yaml", "# a note\n", `<span class="code-note"># a note`},
		{"json", `{"a": true}`, `<span class="code-word">true</span>`},
		{"html", "<b>x</b>", `&lt;`},
		{"formula", "round(exact, 0.1 ml)", `<span class="code-call">round</span><span class="code-sign">(</span>`},
		{"formula", "round(exact, 0.1 ml)", `<span class="code-value">0.1&nbsp;ml</span>`},
		{"formula", "exact: tank * strength\nwater: tank - 5 ml\n", `<span class="code-value">5&nbsp;ml</span>`},
		{"formula", "if bath > 22 °C { 8 min } else { 10 min 30 s }", `10&nbsp;min 30&nbsp;s`},
	} {
		got := Code(c.language, c.code)
		if !strings.Contains(got, c.want) {
			t.Errorf("%s: %q is not in %s", c.language, c.want, got)
		}
		if textOf(got) != c.code {
			t.Errorf("%s: the text %q became %q", c.language, c.code, textOf(got))
		}
	}
}

func TestUnknownLanguage(t *testing.T) {
	for _, language := range []string{"", " ", "no such language", "main.go", "*.go", "../x", "a/b"} {
		if got := Code(language, "x := 1\n"); got != "" {
			t.Errorf("%q: got %s, want nothing", language, got)
		}
	}
	if Code("go", strings.Repeat("x", most+1)) != "" {
		t.Error("a block beyond all bounds should have no colour")
	}
}

// panics is a lexer that panics.
type panics struct{ formulaLexer }

func (panics) Tokenise(*chroma.TokeniseOptions, string) (chroma.Iterator, error) { panic("no") }

// drops loses the second half of its text.
type drops struct{ formulaLexer }

func (drops) Tokenise(_ *chroma.TokeniseOptions, text string) (chroma.Iterator, error) {
	return chroma.Literator(chroma.Token{Type: chroma.Text, Value: text[:len(text)/2]}), nil
}

func TestBadLexersGiveNothing(t *testing.T) {
	for _, l := range []chroma.Lexer{panics{}, drops{}} {
		if tokens, ok := tokenise(l, "some code"); ok {
			t.Errorf("%T: got %v", l, tokens)
		}
	}
}

func TestFormula(t *testing.T) {
	f, list := formula.Parse("if rolls > 2 and bath < 22 °C { lookup(times.minutes, times.film, \"<one>\") } else { 10 min 30 s }", nil)
	if f == nil {
		t.Fatal(list)
	}
	got := Formula(f)
	for _, want := range []string{
		`<span class="code-word">if</span> rolls <span class="code-sign">&gt;</span> <span class="code-value">2</span> <span class="code-word">and</span>`,
		`<span class="code-value">22&nbsp;°C</span>`, `<span class="code-call">lookup</span>`,
		`<span class="code-text">&#34;&lt;one&gt;&#34;</span>`, `<span class="code-value">10&nbsp;min 30&nbsp;s</span>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in %s", want, got)
		}
	}
	if textOf(got) != f.Normal() {
		t.Errorf("the text became %q", textOf(got))
	}
}

func TestTextThatIsNoFormula(t *testing.T) {
	got := FormulaText(`500 ml * 1+100 <b>`)
	if want := `<span class="code-value">500&nbsp;ml</span> * `; !strings.HasPrefix(got, want) || strings.Contains(got, "<b>") {
		t.Errorf("got %s", got)
	}
}

// Whatever the text, none of it reaches the page as HTML, and all of it is there.
func TestTextIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		language := rapid.SampledFrom([]string{"go", "yaml", "html", "css", "javascript", "bash", "csv", "formula", "python", "diff"}).Draw(t, "language")
		code := rapid.StringOf(rapid.RuneFrom([]rune("<>&\"'`ab1 .:=+-*/(){}[]#°µ\n\t\\$é"))).Draw(t, "code")
		got := Code(language, code)
		if got == "" {
			return // not split into tokens
		}
		if rest := tags.ReplaceAllString(got, ""); strings.ContainsAny(rest, "<>") {
			t.Fatalf("HTML came through: %s", got)
		}
		if textOf(got) != code {
			t.Fatalf("%q became %q", code, textOf(got))
		}
	})
}

// Contrast of both schemes, by the formulas of WCAG 2.2 (relative luminance and
// contrast ratio); level AA asks for 4.5:1.
func TestContrast(t *testing.T) {
	if got := contrast(t, "#000000", "#ffffff"); got != 21 {
		t.Fatalf("black on white: %v, want 21 (WCAG 2.2, contrast ratio)", got)
	}
	for _, l := range looks {
		for _, g := range lightGrounds {
			if c := contrast(t, l.light, g); c < 4.5 {
				t.Errorf("%s %s on %s: %.2f", l.class, l.light, g, c)
			}
		}
		for _, g := range darkGrounds {
			if c := contrast(t, l.dark, g); c < 4.5 {
				t.Errorf("%s %s on %s: %.2f", l.class, l.dark, g, c)
			}
		}
	}
}

func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	la, lb := luminance(t, a), luminance(t, b)
	return (math.Max(la, lb) + .05) / (math.Min(la, lb) + .05)
}

func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	sum := 0.0
	for i, weight := range []float64{.2126, .7152, .0722} {
		n, err := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= .04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

func TestStyleHasEveryClass(t *testing.T) {
	style := Style()
	for _, part := range []string{"@media (prefers-color-scheme: dark)", "@media print"} {
		if !strings.Contains(style, part) {
			t.Errorf("no %s", part)
		}
	}
	for _, l := range looks {
		if strings.Count(style, "."+l.class) != 3 {
			t.Errorf(".%s should stand in both schemes and in print", l.class)
		}
	}
	for kind := range chroma.StandardTypes {
		class := classOf(kind)
		if class != "" && !strings.Contains(style, "."+class+" ") {
			t.Errorf("%s has the class %s, which the style does not set", kind, class)
		}
	}
}

func BenchmarkCode(b *testing.B) {
	code := strings.Repeat("title: \"A page\" # note\ngiven: {tank: 500 ml}\n", 40)
	b.ReportAllocs()
	for b.Loop() {
		Code("yaml", code)
	}
}

func BenchmarkFormula(b *testing.B) {
	f, _ := formula.Parse("time_at_temperature(base_time, 20 °C, bath, factor, 18 °C, 24 °C)", nil)
	b.ReportAllocs()
	for b.Loop() {
		Formula(f)
	}
}
