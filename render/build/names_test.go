package build

import (
	"strings"
	"testing"

	"labsite/recipes/page"
)

const namedPage = "---\ntitle: Page\naudience: customers\n---\n\nText.\n"

// A published name works on any disk and in any address, or is reported.
func TestNamesOfPublishedFiles(t *testing.T) {
	for name, code := range map[string]string{
		"CON.md": "name-of-device", "aux.md": "name-of-device", "nul.tar.md": "name-of-device", "a/Com1/b.md": "name-of-device", "console.md": "",
		"a .md": "", "a. /b.md": "name-ends", " a.md": "name-ends", "a./b.md": "name-ends",
		`a".md`: "name-sign", "a<.md": "name-sign", "a>.md": "name-sign", "a\u202eb.md": "name-sign", "a\x1bb.md": "name-sign", "a\u0085.md": "name-sign",
		strings.Repeat("é", 100) + ".md": "name-too-long", strings.Repeat("a", 197) + ".md": "",
		"é.md": "", "e\u0301.md": "", "größe und maß.md": "",
	} {
		files := map[string]string{"index.md": namedPage, name: namedPage}
		_, list := checked(t, labOf(t, files))
		if found := told(list); code == "" && list.Errors() > 0 || code != "" && (len(list) == 0 || list[0].Code != code) {
			t.Errorf("%q: want %q: %s", name, code, found)
		}
	}
}

// Two names that some disk takes for one are refused on every disk.
func TestNamesThatADiskConfuses(t *testing.T) {
	for what, x := range map[string]struct {
		names []string
		code  string
	}{
		"accents":            {[]string{"\u00e9.md", "e\u0301.md"}, "same-address"},
		"capitals":           {[]string{"A.md", "a.md"}, "same-address"},
		"folders":            {[]string{"A/b.md", "a/c.md"}, "same-folder"},
		"folders in folders": {[]string{"x/\u00e9/b.md", "x/e\u0301/c.md"}, "same-folder"},
		"one folder":         {[]string{"x/a/b.md", "x/c.md", "a/b.md"}, ""},
	} {
		files := map[string]string{"index.md": namedPage}
		for _, name := range x.names {
			files[name] = namedPage
		}
		_, list := checked(t, labOf(t, files))
		found := x.code == "" && list.Errors() == 0
		for _, d := range list {
			found = found || d.Code == x.code
		}
		if !found {
			t.Errorf("%s: want %q: %s", what, x.code, told(list))
		}
	}
}

// The same goes for the name of a linked file, but not for one that nothing links to.
func TestNamesOfLinkedFiles(t *testing.T) {
	files := map[string]string{"index.md": namedPage + "\n[a](<prices\u200f.csv>)\n", "prices\u200f.csv": "a\n1\n", "con.csv": "a\n1\n"}
	if _, list := checked(t, labOf(t, files)); len(list) != 1 || list[0].Code != "name-sign" {
		t.Error(told(list))
	}
}

// A theme's file under the name of one that the site makes is reported, not silently overwritten.
func TestThemeWithAFileOfTheSite(t *testing.T) {
	for _, name := range []string{"offline-worker.js", "find-words.js"} {
		files := map[string]string{"index.md": namedPage, "labsite.yaml": "theme: look\n", "look/" + name: "self.x = 1;\n"}
		s, list := Open(t.Context(), labOf(t, files), Options{Day: aDay})
		if s == nil {
			t.Fatal(told(list))
		}
		list, err := s.Publish(t.Context(), page.Customers, &folder{files: map[string][]byte{}})
		if s.Close(); err != nil || !strings.Contains(told(list), name) || list.Errors() == 0 {
			t.Errorf("%s: %v %s", name, err, told(list))
		}
	}
}
