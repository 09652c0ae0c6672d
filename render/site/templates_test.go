package site

import (
	"bytes"
	"html/template"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
)

// TestFixturePages fills every template and writes the pages to a folder: a
// temporary one, or the one that LABSITE_PAGES_TO names, to be looked at.
func TestFixturePages(t *testing.T) {
	folder := os.Getenv("LABSITE_PAGES_TO")
	if folder == "" {
		folder = t.TempDir()
	}
	for name, raw := range fixturePages(t, loaded(t)) {
		file := filepath.Join(folder, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, raw, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// themeOf is a lab's theme folder of these files, by name.
func themeOf(files ...string) fs.FS {
	theme := fstest.MapFS{}
	for i := 0; i < len(files); i += 2 {
		theme[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
	}
	return theme
}

func TestOwnFileReplacesBuiltIn(t *testing.T) {
	set, list := LoadTemplates(themeOf(
		"foot.html", "</main><footer>{{.SiteName}}: {{template \"hours\"}}</footer></body></html>",
		"hours.html", "open from nine",
		"lab.css", "p { margin: 0 }",
		"weir.svg", "<svg/>",
		".DS_Store", "junk",
	), "our-theme")
	if len(list) > 0 {
		t.Fatal(told(list))
	}
	out := string(must[[]byte](t)(set.Page(guide(t, set))))
	if !strings.HasSuffix(out, "<footer>Brindle Weir Film Lab: open from nine</footer></body></html>") {
		t.Errorf("the lab's own foot is not on the page: %s", out[len(out)-200:])
	}
	assets := set.Assets()
	css := string(assets["lab.css"])
	if !strings.HasPrefix(css, "p { margin: 0 }") || !strings.Contains(css, ".safety-word") {
		t.Error("the lab's own style sheet should come first and the safety rules after it")
	}
	if string(assets["weir.svg"]) != "<svg/>" {
		t.Error("a picture of the theme is not among its files")
	}
	for _, name := range []string{"card.css", "labels.css"} {
		if !strings.Contains(string(assets[name]), ".safety-word") {
			t.Errorf("%s is without the safety rules", name)
		}
	}
	for _, rule := range []string{".chart-drawing", ".code-word"} {
		if i := strings.Index(css, rule); i < 0 || i > strings.Index(css, ".safety-word") {
			t.Errorf("the rules for %s should stand in lab.css, above the safety rules", rule)
		}
	}
	for _, name := range []string{"safety.css", ".DS_Store", "foot.html", "themes.go"} {
		if assets[name] != nil {
			t.Errorf("%s should not be published", name)
		}
	}
}

func TestThemeErrors(t *testing.T) {
	for _, c := range []struct {
		name, file, text string
		want             []string
	}{
		{"misspelt field", "page.html", "{{template \"head\" .}}\n<h1>{{.Titel}}</h1></main></body></html>",
			[]string{"our-theme/page.html:2:7: error: Page has no .Titel", "  2 | <h1>{{.Titel}}</h1>", "Did you mean .Title?"}},
		{"misspelt field in a rare branch", "control.html", "{{range .Changes}}\n{{.Txet}}{{end}}",
			[]string{"our-theme/control.html:2:3: error: Change has no .Txet", "Did you mean .Text?"}},
		{"unknown function", "page.html", "<p>\n{{lenn .Title}}</p>",
			[]string{"our-theme/page.html:2:3: error: templates have no function called lenn", "Did you mean len?"}},
		{"unclosed action", "page.html", "<p>\n{{if .Title}}</p>",
			[]string{"our-theme/page.html:2:", "error: this template cannot be read", "missing {{end}}"}},
		{"unknown template", "page.html", "<p>\n{{template \"haed\" .}}</p>",
			[]string{"our-theme/page.html:2:12: error: there is no template called haed", "Did you mean head?"}},
		{"value that may be empty", "page.html", "<p>{{.Control.Number}}</p>",
			[]string{"our-theme/page.html:1:", ".Number is asked of something that is empty here", "{{with}}"}},
		{"value in an unsafe place", "page.html", "<p>\n<a href={{if .Title}}\"{{end}}>{{.Title}}</a>",
			[]string{"our-theme/page.html:", "cannot be made safe"}},
		{"not UTF-8", "page.html", "<p>\xff</p>",
			[]string{"our-theme/page.html:1:4: error: this file is not UTF-8 text"}},
		{"safety rules replaced", "safety.css", "",
			[]string{"our-theme/safety.css:1:1: error: safety.css cannot be replaced"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			set, list := LoadTemplates(themeOf(c.file, c.text), "our-theme")
			if set != nil {
				t.Error("the templates should not load")
			}
			for _, want := range c.want {
				if !strings.Contains(told(list), want) {
					t.Errorf("want %q in:\n%s", want, told(list))
				}
			}
		})
	}
}

func TestMisspeltFileIsReported(t *testing.T) {
	set, list := LoadTemplates(themeOf("pgae.html", "<p>"), "our-theme")
	if set == nil {
		t.Fatal("a file that nothing uses should stop nothing")
	}
	if got := told(list); !strings.Contains(got, "nothing uses the template pgae") || !strings.Contains(got, "Did you mean page?") {
		t.Error(got)
	}
}

func TestThemeFolderThatIsNotThere(t *testing.T) {
	_, list := LoadTemplates(os.DirFS(filepath.Join(t.TempDir(), "none")), "our-theme")
	if !strings.Contains(told(list), "our-theme:1:1: error: the theme folder cannot be read") {
		t.Error(told(list))
	}
}

// A theme may restyle safety messages, but neither drop them nor let a number
// stand above them.
func TestThemeCannotHideSafety(t *testing.T) {
	const after = "{{.Cautions}}{{.Notice}}</main></body></html>"
	for _, c := range []struct{ name, text, want string }{
		{"dropped", `{{template "head" .}}{{.Figures}}</main></body></html>`, "leaves out the cautions"},
		{"below the figures", `{{template "head" .}}{{.Figures}}` + after, "puts the cautions below the first number"},
		{"below the text", `{{template "head" .}}{{.Body}}` + after, "puts the cautions below the first number"},
		{"in a comment's place", `{{template "head" .}}{{if .Preview}}{{.Cautions}}{{end}}{{.Notice}}</main></body></html>`, "leaves out the cautions"},
		{"hazards dropped", `{{template "head" .}}{{.Cautions}}{{.Figures}}` + after, "leaves out the hazards"},
		{"hazards below the figures", `{{template "head" .}}{{.Cautions}}{{.Figures}}{{.Hazards}}` + after, "puts the hazards below the first number"},
		{"notice dropped", `{{template "head" .}}{{.Cautions}}{{.Figures}}</main></body></html>`, "leaves out the standing notice"},
	} {
		t.Run(c.name, func(t *testing.T) {
			set, list := LoadTemplates(themeOf("page.html", c.text), "our-theme")
			if set == nil {
				t.Fatal(told(list))
			}
			p := guide(t, set)
			if !strings.Contains(c.want, "hazards") {
				p.Hazards = ""
			}
			out, list := set.Page(p)
			if out != nil || !strings.Contains(told(list), "our-theme/page.html") || !strings.Contains(told(list), c.want) {
				t.Errorf("want %q in: %s", c.want, told(list))
			}
		})
	}
	for _, text := range []string{
		`{{range .}}<p>{{.Word}}</p>{{end}}`,
		`{{range .}}<p>{{.Text}}</p>{{end}}`,
		`{{range $i, $c := .}}{{if eq $i 0}}<p>{{.Word}} {{.Text}}</p>{{end}}{{end}}`,
	} {
		set, list := LoadTemplates(themeOf("cautions.html", text), "our-theme")
		if set == nil {
			t.Fatal(told(list))
		}
		if html, list := set.Cautions(fixtureCautions); html != "" || !strings.Contains(told(list), "leaves out the safety message") {
			t.Errorf("%s should be refused, got %s", text, told(list))
		}
	}
}

// A strength inside a safety message is no number of the recipe.
func TestNumberInsideCautionIsAllowed(t *testing.T) {
	set := loaded(t)
	p := guide(t, set)
	p.Cautions = must[template.HTML](t)(set.Cautions([]Caution{{Word: "DANGER", Text: "Acid of " + q("80 %") + " burns."}, {Word: "WARNING", Text: "Above " + q("24 °C") + " it fumes."}}))
	must[[]byte](t)(set.Page(p))
}

func TestPageOrder(t *testing.T) {
	set := loaded(t)
	p := guide(t, set)
	p.Hazards = `<section class="hazards"><h2>Hazards</h2></section>`
	out := string(must[[]byte](t)(set.Page(p)))
	at := 0
	for _, want := range []string{"<h1>", `class="summary"`, `class="control-line"`, string(p.Hazards), string(p.Cautions),
		string(p.Given), string(p.Figures), `id="Have-ready"`, `class="text"`, string(p.Arithmetic), string(p.Checks), `id="Control"`, string(p.Notice)} {
		i := strings.Index(out[at:], want)
		if i < 0 {
			t.Fatalf("missing, or not in its place: %.60s", want)
		}
		at += i + len(want)
	}
}

// What a page must not need: anything inline, and anything from elsewhere.
func TestPagesKeepTheirPolicy(t *testing.T) {
	foreign := regexp.MustCompile(`(?i)\sstyle=|<style|\son[a-z]+=|<script[^>]*>[^<]|(?:src|href)="(?:https?:)?//`)
	canonical := regexp.MustCompile(`<link rel="canonical"[^>]*>`)
	for name, raw := range fixturePages(t, loaded(t)) {
		text := canonical.ReplaceAllString(string(raw), "")
		if found := foreign.FindString(text); found != "" {
			t.Errorf("%s holds %q", name, found)
		}
		if strings.HasSuffix(name, ".css") && regexp.MustCompile(`url\(|@import`).MatchString(text) {
			t.Errorf("%s fetches something", name)
		}
		if strings.HasSuffix(name, ".html") && regexp.MustCompile(`[ \t]\n`).MatchString(text) {
			t.Errorf("%s has blanks at the end of a line", name)
		}
	}
}

func TestRefusalStandsInPlaceOfNumbers(t *testing.T) {
	set := loaded(t)
	html := must[template.HTML](t)(set.Figures(Figures{
		Limits: []Limit{{Kind: "refused", Text: "Use a larger tank."}},
		Rows:   fixtureFigures().Rows,
	}))
	if strings.Contains(string(html), numberMark) || !strings.Contains(string(html), "Use a larger tank.") {
		t.Errorf("a refusal should leave its reason and no number: %s", html)
	}
}

func TestTemplatesAreSafeForConcurrentUse(t *testing.T) {
	set := loaded(t)
	p := guide(t, set)
	want := must[[]byte](t)(set.Page(p))
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			if got, list := set.Page(p); len(list) > 0 || !bytes.Equal(got, want) {
				t.Error("two pages filled at once differ")
			}
		})
	}
	group.Wait()
}

// BenchmarkPage is one page with parts that are made already, as the site's
// builder has them.
func BenchmarkPage(b *testing.B) {
	set := loaded(b)
	p := guide(b, set)
	b.ReportAllocs()
	for b.Loop() {
		if _, list := set.Page(p); len(list) > 0 {
			b.Fatal(told(list))
		}
	}
}

// BenchmarkPageWithParts is one page and all of its parts.
func BenchmarkPageWithParts(b *testing.B) {
	set := loaded(b)
	p := guide(b, set)
	given, figures, arithmetic, checks := fixtureGiven(), fixtureFigures(), fixtureArithmetic(), fixtureChecks()
	b.ReportAllocs()
	for b.Loop() {
		p.Cautions, _ = set.Cautions(fixtureCautions)
		p.Given, _ = set.Given(given)
		p.Figures, _ = set.Figures(figures)
		p.Arithmetic, _ = set.Arithmetic(arithmetic)
		p.Checks, _ = set.Checks(checks)
		if _, list := set.Page(p); len(list) > 0 {
			b.Fatal(told(list))
		}
	}
}

// BenchmarkLoadTemplates is loading the built-in theme, with its trial.
func BenchmarkLoadTemplates(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		loaded(b)
	}
}
