package build

import (
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/page"
)

const (
	staffsPage = "---\ntitle: Own\naudience: staff\n---\n\nA word of ours.\n"
	plainPage  = "---\ntitle: Home\naudience: customers\n---\n\nText.\n"
	plainShape = `<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>`
)

// Everything in a theme's folder is published, so a folder with anything else in it is refused.
func TestThemeFolder(t *testing.T) {
	for _, c := range []struct {
		name, theme string
		files       map[string]string
		want        []string // codes and the place of each error, as file:line:code
		says        string
	}{
		{"a folder of pages", "bench", nil, []string{"labsite.yaml:2:theme-pages"}, "bench holds pages (bench/own.md)"},
		{"written with ./", "./bench", nil, []string{"labsite.yaml:2:theme-pages"}, ""},
		{"written with a slash", "bench/", nil, []string{"labsite.yaml:2:theme-pages"}, ""},
		{"pages further in", "guides", map[string]string{"guides/a/b/c.md": plainPage}, []string{"labsite.yaml:2:theme-pages"}, "guides/a/b/c.md"},
		{"a page that is passed by for its name", "look", map[string]string{"look/own.MD": staffsPage}, []string{"labsite.yaml:2:theme-pages", "look/own.MD:1:name-meant"}, "look/own.MD"},
		{"the top", `"."`, nil, []string{"labsite.yaml:2:theme-top"}, "such as theme: look"},
		{"the top, by a detour", "bench/../.", nil, []string{"labsite.yaml:2:theme-top"}, ""},
		{"the top, by a slash", "./", nil, []string{"labsite.yaml:2:theme-top"}, ""},
		{"the folder above", `".."`, nil, []string{"labsite.yaml:2:path-outside"}, ""},
		{"beside the content", "../look", nil, []string{"labsite.yaml:2:path-outside"}, ""},
		{"outside, by a detour", "look/../../look", nil, []string{"labsite.yaml:2:path-outside"}, ""},
		{"from the root", "/etc", nil, []string{"labsite.yaml:2:path-outside"}, ""},
		{"another case", "Bench", nil, []string{"labsite.yaml:2:theme-nowhere"}, "Did you mean bench?"},
		{"another case further up", "Looks/plain", map[string]string{"looks/plain/lab.css": "p {}"}, []string{"labsite.yaml:2:theme-nowhere"}, "Did you mean looks?"},
		{"not there", "nowhere", nil, []string{"labsite.yaml:2:theme-nowhere"}, "nowhere"},
		{"a file", "index.md", nil, []string{"labsite.yaml:2:theme-no-folder"}, ""},
		{"a link to a folder of pages", "look", map[string]string{"look": "-> bench"}, []string{"look:1:link-to-folder", "labsite.yaml:2:theme-linked"}, ""},
		{"a link out of the content", "look", map[string]string{"look": "-> /etc"}, []string{"look:1:link-outside", "labsite.yaml:2:theme-linked"}, ""},
		{"behind a link", "looks/plain", map[string]string{"looks": "-> bench", "bench/plain/lab.css": "p {}"}, []string{"looks:1:link-to-folder", "labsite.yaml:2:theme-linked"}, ""},
		{"a hidden folder", ".look", map[string]string{".look/lab.css": "p {}"}, []string{"labsite.yaml:2:theme-hidden"}, ""},
		{"data, settings and text", "look", map[string]string{"look/costs.csv": "a\n1\n", "look/own.yaml": "a: 1\n", "look/notes.txt": "ours", "look/lab.css": "p {}"},
			[]string{"look/costs.csv:1:theme-holds", "look/notes.txt:1:theme-holds", "look/own.yaml:1:theme-holds"}, "templates, styles, scripts, pictures and fonts"},
		{"an ending in capitals", "look", map[string]string{"look/more.HTML": "<p>", "look/noending": "x"},
			[]string{"look/more.HTML:1:theme-holds", "look/noending:1:theme-holds"}, "in lower case"},
		{"a folder in it", "look", map[string]string{"look/parts/imprint.html": "x"}, []string{"look/parts:1:theme-subfolder"}, ""},
		{"a file that is a link", "look", map[string]string{"look/lab.css": "-> ../bench/own.md"}, []string{"look/lab.css:1:theme-file-linked"}, ""},
		{"a file that is large", "look", map[string]string{"look/wide.css": strings.Repeat("p {}\n", 1<<20)}, []string{"look/wide.css:1:file-too-large"}, "the limit is 4.0 MiB"},
		{"many files", "look", manyFiles(201), []string{"labsite.yaml:2:theme-many"}, "more than 200"},
		{"a picture that runs a script", "look", map[string]string{"look/mark.svg": strings.Replace(plainShape, "/>", "><script>1</script></svg>", 1)}, []string{"look/mark.svg:1:picture-unsafe"}, "script"},
		{"one that does so further down", "look", map[string]string{"look/mark.svg": strings.Replace(plainShape, "/>", ">\n<g>\n<script/></g></svg>", 1)}, []string{"look/mark.svg:3:picture-unsafe"}, "  3 | <script/>"},
		{"a picture that is none", "look", map[string]string{"look/mark.png": "<html>", "look/type.woff2": "<html>"}, []string{"look/mark.png:1:file-no-form", "look/type.woff2:1:file-no-form"}, ""},
		{"a theme", "look", map[string]string{"look/mark.svg": plainShape, "look/imprint.html": "</main></body></html>", "look/lab.css": "p {}", "look/.own": "hidden"}, nil, ""},
		{"a theme two folders down", "./looks/../looks/plain/", map[string]string{"looks/plain/lab.css": "p {}"}, nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"index.md": plainPage, "bench/own.md": staffsPage, "labsite.yaml": "name: Lab\ntheme: " + c.theme + "\n"}
			for p, text := range c.files {
				files[p] = text
			}
			dir, _ := editableLab(t, files)
			_, list := checked(t, dir)
			var got []string
			for _, d := range list {
				got = append(got, fmt.Sprintf("%s:%d:%s", d.File, d.Line, d.Code))
			}
			want := map[string]bool{}
			for _, w := range c.want {
				want[w] = true
			}
			same := len(got) == len(want)
			for _, g := range got {
				same = same && want[g]
			}
			if !same || !strings.Contains(told(list), c.says) {
				t.Fatalf("reported %q, want %q with %q:\n%s", got, c.want, c.says, told(list))
			}
			if len(c.want) > 0 {
				return
			}
			out := published(t, dir, page.Customers)
			if !strings.HasPrefix(string(out["lab.css"]), "p {}") {
				t.Error("the style of the theme is not used")
			}
			for name := range out {
				if strings.Contains(name, "own") {
					t.Errorf("%s is published", name)
				}
			}
		})
	}
}

func manyFiles(n int) map[string]string {
	files := map[string]string{}
	for i := range n {
		files[fmt.Sprintf("look/a%d.css", i)] = "p {}"
	}
	return files
}

// A theme appears, is spoiled by a page, and is correct again; each time the followed site reports
// the same as one read afresh.
func TestThemeFolderIsFollowed(t *testing.T) {
	dir, write := editableLab(t, map[string]string{"index.md": plainPage, "labsite.yaml": "theme: look\n"})
	s, list := Follow(t.Context(), dir, Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	for _, step := range []struct{ path, text, told string }{
		{"", "", "there is no folder look"},
		{"look/lab.css", "p { color: red }\n", ""},
		{"look/own.md", staffsPage, "look holds pages (look/own.md)"},
		{"look/own.md", "", ""},
		{"look/costs.csv", "a\n1\n", "costs.csv is not a file that a theme may have"},
		{"look/costs.csv", "", ""},
		{"labsite.yaml", "name: Lab\n\ntheme: .\n", "the content folder itself"},
		{"labsite.yaml", "\ntheme: look\n", ""},
	} {
		if step.path != "" {
			write(step.path, step.text)
			s.Update([]string{step.path})
		}
		s.Settle(t.Context())
		_, list := checked(t, dir)
		if got, want := told(s.Diagnostics()), told(list); got != want || !strings.Contains(got, step.told) || step.told == "" && got != "" {
			t.Errorf("after %s is %q: reported:\n%swant\n%s", step.path, step.text, got, want)
		}
		if list.Errors() == 0 {
			a, _ := s.Answer(page.Customers, "lab.css", false)
			if !strings.HasPrefix(string(a.Bytes), "p { color: red }") {
				t.Errorf("after %s is %q the theme is not used", step.path, step.text)
			}
		}
	}
}
