package theme

import (
	"context"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"

	"labsite/recipes/source"
)

// A template that would never end, or fill the memory, is an error of the theme. Those that are not refused when
// they are read are stopped; without a bound this test would not end.
func TestTemplatesComeToAnEnd(t *testing.T) {
	nested := func(n int, open string) string { return strings.Repeat(open, n) + strings.Repeat("{{end}}", n) }
	chain := "{{template \"c0\" .}}"
	for i := range 60 {
		chain += fmt.Sprintf("{{define \"c%d\"}}{{template \"c%d\" .}}{{end}}", i, i+1)
	}
	doubling := "{{template \"d0\" .}}"
	for i := range 40 {
		doubling += fmt.Sprintf("{{define \"d%d\"}}{{template \"d%d\" .}}{{template \"d%d\" .}}{{end}}", i, i+1, i+1)
	}
	for _, c := range []struct{ name, text, want string }{
		{"a large number, nothing written", "{{range 1000000000}}{{end}}", "1:9: error: this template was stopped, since it takes more steps"},
		{"numbers within numbers", "{{range 100000}}{{range 100000}}{{if false}}x{{end}}{{end}}{{end}}", "takes more steps"},
		{"a large number, much written", "{{range 100000}}{{range 100000}}" + strings.Repeat("x", 4000) + "{{end}}{{end}}", "writes more than 64 MiB"},
		{"itself", "<p>\n{{template \"imprint\" .}}", "2:12: error: this template calls itself: imprint → imprint"},
		{"a circle", "{{template \"a\" .}}{{define \"a\"}}{{if .}}{{template \"b\" .}}{{end}}{{end}}{{define \"b\"}}{{template \"a\" .}}{{end}}", "a → b → a"},
		{"deep blocks", nested(15000, "{{if .}}"), "more than 50 blocks are nested here"},
		{"deep parentheses", "{{" + strings.Repeat("(", 100000) + "1" + strings.Repeat(")", 100000) + "}}", "cannot be read"},
		{"deep parentheses that are read", nested(51, "{{if "+strings.Repeat("(", 2000)+"."+strings.Repeat(")", 2000)+"}}"), "more than 50 blocks"},
		{"deep ranges", nested(30, "{{range 1}}"), "more than 6 ranges are nested here"},
		{"a long chain", chain + "{{define \"c60\"}}x{{end}}", "more than 50 templates are nested here"},
		{"doubling", doubling + "{{define \"d40\"}}{{end}}", "takes more steps"},
		{"a text that doubles", "{{$x := \"xxxxxxxx\"}}{{range 60}}{{$x = printf \"%s%s\" $x $x}}{{end}}", "longer than 1 MiB"},
		{"a text that doubles, put together", "{{$x := \"xxxxxxxx\"}}{{range 60}}{{$x = print $x $x}}{{end}}", "longer than 1 MiB"},
		{"strokes that double", "{{$x := \"\\\\\"}}{{range 60}}{{$x = js $x}}{{end}}", "longer than 1 MiB"},
		{"a wide number", "{{printf \"%999999d\" 1}}", "at most three digits"},
		{"a value many times", "{{printf \"%[1]s%[1]s\" \"x\"}}", "no value is named by its place"},
	} {
		t.Run(c.name, func(t *testing.T) {
			set, list := LoadTemplates(context.Background(), themeOf("imprint.html", c.text), "our-theme")
			if set != nil || !strings.Contains(told(list), "our-theme/imprint.html:") || !strings.Contains(told(list), c.want) {
				t.Errorf("want %q in:\n%s", c.want, told(list))
			}
		})
	}
}

// Ordinary templates still work within the bounds.
func TestBoundedTemplatesDoTheirWork(t *testing.T) {
	text := `{{range $i := 3}}{{$i}}{{else}}none{{end}}{{range 0}}{{else}}none{{end}}|{{printf "%s %03d" "a" 7}}|{{print "a" 1}}|{{html "<"}}|{{range .Trail}}{{break}}{{end}}`
	set, list := LoadTemplates(context.Background(), themeOf("imprint.html", text), "our-theme")
	if set == nil {
		t.Fatal(told(list))
	}
	var b strings.Builder
	if err := set.set.ExecuteTemplate(&b, "imprint", Drawer{}); err != nil || b.String() != "012none|a 007|a1|&lt;|" {
		t.Errorf("%q %v", b.String(), err)
	}
}

// The built-in theme is far from the bounds on made-up data.
func TestTheBuiltInThemeIsFarFromItsBounds(t *testing.T) {
	set, list := LoadTemplates(context.Background(), nil, "")
	if set == nil {
		t.Fatal(told(list))
	}
	for _, x := range set.set.Templates() {
		if x.Tree == nil {
			continue
		}
		if at, what, _ := tooDeep(x.Tree.Root, deepestBlock/2, deepestRange/2); at != nil {
			t.Errorf("%s has %s within one another to half of what is allowed", x.Name(), what)
		}
	}
	for _, v := range topViews {
		sample := reflect.New(reflect.TypeOf(v.data))
		madeUp(sample.Elem(), true)
		a := set.allow(io.Discard, mostTrialSteps)
		if set.set.ExecuteTemplate(a, v.name, sample.Interface()) != nil || a.steps < mostTrialSteps*9/10 {
			t.Errorf("%s takes %d steps", v.name, mostTrialSteps-a.steps)
		}
	}
}

// ending is a context that ends once it has been asked so many times.
type ending struct {
	context.Context
	left int
}

func (e *ending) Err() error {
	if e.left--; e.left < 0 {
		return context.Canceled
	}
	return nil
}

// A template that is being filled stops soon after its context has ended.
func TestFillingStopsWithItsContext(t *testing.T) {
	set := &Templates{until: &ending{t.Context(), 3}}
	a := set.allow(io.Discard, mostSteps)
	steps := 0
	for ; ; steps++ {
		if _, err := a.Write(nil); err != nil {
			break
		}
	}
	if steps > 4*1024 {
		t.Errorf("%d steps were taken", steps)
	}
}

// A template that was stopped on one page is not begun on the others.
func TestAStoppedTemplateIsNotBegunAgain(t *testing.T) {
	set, list := LoadTemplates(context.Background(), nil, "")
	if set == nil {
		t.Fatal(told(list))
	}
	bad := source.ThemeTooMuch("it was").AtFile("our-theme/limits.html")
	set.spent.Store("limits", bad)
	if out, list := set.Limits([]Limit{{}}); out != "" || len(list) != 1 || list[0].Code != tooMuch {
		t.Errorf("%q %v", out, list)
	}
}
