package theme

import (
	"bytes"
	"context"
	"html/template"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"labsite/themes"
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

const plainDrawing = `<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>`

// themeOf is a lab's theme folder of these files, by name.
func themeOf(files ...string) fs.FS {
	theme := fstest.MapFS{}
	for i := 0; i < len(files); i += 2 {
		theme[files[i]] = &fstest.MapFile{Data: []byte(files[i+1])}
	}
	return theme
}

func TestOwnFileReplacesBuiltIn(t *testing.T) {
	set, list := LoadTemplates(context.Background(), themeOf(
		"imprint.html", "</main><footer>{{.SiteName}}: {{template \"hours\"}}</footer></body></html>",
		"hours.html", "open from nine",
		"lab.css", "p { margin: 0 }",
		"weir.svg", plainDrawing,
		".DS_Store", "junk",
	), "our-theme")
	if len(list) > 0 {
		t.Fatal(told(list))
	}
	out := string(must[[]byte](t)(set.Instruction(guide(t, set))))
	if !strings.HasSuffix(out, "<footer>Brindle Weir Film Lab: open from nine</footer></body></html>") {
		t.Errorf("the lab's own imprint is not on the page: %s", out[len(out)-200:])
	}
	assets := set.Assets()
	css := string(assets["lab.css"])
	if !strings.HasPrefix(css, "p { margin: 0 }") || !strings.Contains(css, ".safety-word") {
		t.Error("the lab's own style sheet should come first and the safety rules after it")
	}
	if string(assets["weir.svg"]) != plainDrawing {
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
	for _, name := range []string{"safety.css", ".DS_Store", "imprint.html", "themes.go"} {
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
		{"misspelt field", "instruction.html", "{{template \"letterhead\" .}}\n<h1>{{.Titel}}</h1></main></body></html>",
			[]string{"our-theme/instruction.html:2:7: error: Instruction has no .Titel", "  2 | <h1>{{.Titel}}</h1>", "Did you mean .Title?"}},
		{"misspelt field in a rare branch", "control.html", "{{range .Changes}}\n{{.Txet}}{{end}}",
			[]string{"our-theme/control.html:2:3: error: Change has no .Txet", "Did you mean .Text?"}},
		{"unknown function", "instruction.html", "<p>\n{{lenn .Title}}</p>",
			[]string{"our-theme/instruction.html:2:3: error: templates have no function called lenn", "Did you mean len?"}},
		{"unclosed action", "instruction.html", "<p>\n{{if .Title}}</p>",
			[]string{"our-theme/instruction.html:2:", "error: this template cannot be read", "missing {{end}}"}},
		{"unknown template", "instruction.html", "<p>\n{{template \"leterhead\" .}}</p>",
			[]string{"our-theme/instruction.html:2:12: error: there is no template called leterhead", "Did you mean letterhead?"}},
		{"value that may be empty", "instruction.html", "<p>{{.Control.Number}}</p>",
			[]string{"our-theme/instruction.html:1:", ".Number is used on something that is empty here", "{{with}}"}},
		{"value in an unsafe place", "instruction.html", "<p>\n<a href={{if .Title}}\"{{end}}>{{.Title}}</a>",
			[]string{"our-theme/instruction.html:", "cannot be made safe"}},
		{"not UTF-8", "instruction.html", "<p>\xff</p>",
			[]string{"our-theme/instruction.html:1:4: error: this file is not UTF-8 text"}},
		{"safety rules replaced", "safety.css", "",
			[]string{"our-theme/safety.css:1:1: error: safety.css cannot be replaced"}},
		{"template of an earlier name", "section.html", "<p>",
			[]string{"our-theme/section.html:1:1: error: section.html is now called drawer.html", "Rename the file."}},
		{"script of an earlier name", "search.js", "",
			[]string{"our-theme/search.js:1:1: error: search.js is now called find.js"}},
		{"field of an earlier name", "drawer.html", "{{range .Pages}}{{.Title}}{{end}}",
			[]string{"our-theme/drawer.html:1:9: error: Drawer has no .Pages", "Did you mean .Filed?"}},
		{"field of an earlier name in a list", "cabinet.html", "{{range .}}{{range .Pages}}{{.Title}}{{end}}{{end}}",
			[]string{"Entry has no .Pages", "Did you mean .OnTop?"}},
		{"earlier name of a template in another", "front.html", "{{template \"nav\" .}}",
			[]string{"there is no template called nav", "Did you mean drawer-names?"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			set, list := LoadTemplates(context.Background(), themeOf(c.file, c.text), "our-theme")
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

// A former name in a lab's theme is an error that gives the present name, and all present names exist.
func TestRenamedFilesAreThere(t *testing.T) {
	for old, now := range renamedFiles {
		_, list := LoadTemplates(context.Background(), themeOf(old, ""), "our-theme")
		if !strings.Contains(told(list), old+" is now called "+now) {
			t.Errorf("%s: %s", old, told(list))
		}
		if _, err := themes.Files.Open(now); err != nil {
			t.Error(err)
		}
	}
	for old, names := range renamedFields {
		for _, now := range names {
			if !slices.ContainsFunc(topViews, func(v topView) bool { return slices.Contains(fieldsOf(reflect.TypeOf(v.data).Name()), now) }) && !slices.Contains(fieldsOf("Entry"), now) {
				t.Errorf("%s is said to be called %s now, which no view has", old, now)
			}
		}
	}
}

func TestMisspeltFileIsReported(t *testing.T) {
	set, list := LoadTemplates(context.Background(), themeOf("drawr.html", "<p>"), "our-theme")
	if set == nil {
		t.Fatal("a file that nothing uses should stop nothing")
	}
	if got := told(list); !strings.Contains(got, "nothing uses the template drawr") || !strings.Contains(got, "Did you mean drawer?") {
		t.Error(got)
	}
}

func TestThemeFolderThatIsNotThere(t *testing.T) {
	_, list := LoadTemplates(context.Background(), os.DirFS(filepath.Join(t.TempDir(), "none")), "our-theme")
	if !strings.Contains(told(list), "our-theme:1:1: error: the theme folder cannot be read") {
		t.Error(told(list))
	}
}

// A theme may restyle safety messages, but neither drop them nor put a number above them.
func TestThemeCannotHideSafety(t *testing.T) {
	const after = "{{.Cautions}}{{.Notice}}</main></body></html>"
	for _, c := range []struct{ name, text, want string }{
		{"dropped", `{{template "letterhead" .}}{{.Figures}}</main></body></html>`, "leaves out the cautions"},
		{"below the figures", `{{template "letterhead" .}}{{.Figures}}` + after, "puts the cautions below the first number"},
		{"below the text", `{{template "letterhead" .}}{{.Body}}` + after, "puts the cautions below the first number"},
		{"in a comment's place", `{{template "letterhead" .}}{{if .Preview}}{{.Cautions}}{{end}}{{.Notice}}</main></body></html>`, "leaves out the cautions"},
		{"hazards dropped", `{{template "letterhead" .}}{{.Cautions}}{{.Figures}}` + after, "leaves out the hazards"},
		{"hazards below the figures", `{{template "letterhead" .}}{{.Cautions}}{{.Figures}}{{.Hazards}}` + after, "puts the hazards below the first number"},
		{"notice dropped", `{{template "letterhead" .}}{{.Cautions}}{{.Figures}}</main></body></html>`, "leaves out the standing notice"},
	} {
		t.Run(c.name, func(t *testing.T) {
			set, list := LoadTemplates(context.Background(), themeOf("instruction.html", c.text), "our-theme")
			if set == nil {
				t.Fatal(told(list))
			}
			p := guide(t, set)
			if !strings.Contains(c.want, "hazards") {
				p.Hazards, p.Aftercare = "", ""
			}
			out, list := set.Instruction(p)
			if out != nil || !strings.Contains(told(list), "our-theme/instruction.html") || !strings.Contains(told(list), c.want) {
				t.Errorf("want %q in: %s", c.want, told(list))
			}
		})
	}
	for _, text := range []string{
		`{{range .}}<p>{{.Word}}</p>{{end}}`,
		`{{range .}}<p>{{.Text}}</p>{{end}}`,
		`{{range $i, $c := .}}{{if eq $i 0}}<p>{{.Word}} {{.Text}}</p>{{end}}{{end}}`,
	} {
		set, list := LoadTemplates(context.Background(), themeOf("cautions.html", text), "our-theme")
		if set == nil {
			t.Fatal(told(list))
		}
		if html, list := set.Cautions(fixtureCautions); html != "" || !strings.Contains(told(list), "leaves out the safety message") {
			t.Errorf("%s should be refused, got %s", text, told(list))
		}
	}
}

// A strength inside a safety message does not count as a number.
func TestNumberInsideCautionIsAllowed(t *testing.T) {
	set := loaded(t)
	p := guide(t, set)
	p.Cautions = must[template.HTML](t)(set.Cautions([]Caution{{Word: "DANGER", Text: "Acid of " + q("80 %") + " burns."}, {Word: "WARNING", Text: "Above " + q("24 °C") + " it fumes."}}))
	must[[]byte](t)(set.Instruction(p))
}

func TestPageOrder(t *testing.T) {
	set := loaded(t)
	p := guide(t, set)
	p.Hazards = `<section class="hazards"><h2>Hazards</h2></section>`
	out := string(must[[]byte](t)(set.Instruction(p)))
	at := 0
	for _, want := range []string{"<h1>", `class="control-line"`, string(p.Hazards), string(p.Cautions),
		string(p.Given()), string(p.Figures()), `class="summary"`, `id="Have-ready"`, `class="text"`, string(p.Arithmetic()), string(p.Checks()), `id="Control"`, string(p.Notice)} {
		i := strings.Index(out[at:], want)
		if i < 0 {
			t.Fatalf("missing, or not in its place: %.60s", want)
		}
		at += i + len(want)
	}
}

// Pages have nothing inline, and nothing from another site.
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
	want := must[[]byte](t)(set.Instruction(p))
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			if got, list := set.Instruction(p); len(list) > 0 || !bytes.Equal(got, want) {
				t.Error("two pages filled at once differ")
			}
		})
	}
	group.Wait()
}

// BenchmarkPage measures filling one page with parts that are already made, as in a build.
func BenchmarkPage(b *testing.B) {
	set := loaded(b)
	p := guide(b, set)
	b.ReportAllocs()
	for b.Loop() {
		if _, list := set.Instruction(p); len(list) > 0 {
			b.Fatal(told(list))
		}
	}
}

// BenchmarkPageWithParts measures filling one page and all of its parts.
func BenchmarkPageWithParts(b *testing.B) {
	set := loaded(b)
	p := guide(b, set)
	given, figures, arithmetic, checks := fixtureGiven(), fixtureFigures(), fixtureArithmetic(), fixtureChecks()
	b.ReportAllocs()
	for b.Loop() {
		p.Cautions, _ = set.Cautions(fixtureCautions)
		p.Panel[0].HTML, _ = set.Given(given)
		p.Panel[1].HTML, _ = set.Figures(figures)
		p.Basis[0].HTML, _ = set.Arithmetic(arithmetic)
		p.Basis[1].HTML, _ = set.Checks(checks)
		if _, list := set.Instruction(p); len(list) > 0 {
			b.Fatal(told(list))
		}
	}
}

// BenchmarkLoadTemplates measures loading the built-in theme.
func BenchmarkLoadTemplates(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		loaded(b)
	}
}

// The built-in theme passes the trial on made-up data that a lab's own theme gets when it is loaded.
func TestBuiltInThemeIsWhole(t *testing.T) {
	if list := loaded(t).try(); len(list) > 0 {
		t.Error(told(list))
	}
}
