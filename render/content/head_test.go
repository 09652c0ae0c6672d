package content

import (
	"io/fs"
	"os"
	"path"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Reading only a page's head gives the same as reading the whole page.
func TestHeadIsThatOfTheWholePage(t *testing.T) {
	texts := map[string]string{
		"plain":           "---\ntitle: A page: no\naudience: staff\n---\n",
		"simple":          "---\ntitle: A page\naudience: staff\norder: 3\ntopics: [a b, c]\nsummary: It says so.\n---\nText.\n",
		"quoted":          "---\ntitle: \"A: page\"\naudience: staff\nsummary: >\n  It says\n  so.\ntopics:\n  - a\n  - b\n---\n",
		"control":         "---\ntitle: A page\naudience: staff\ncontrol:\n  number: G-1\n  revision: 2\n  status: draft\n  owner: process lead\nfigures:\n  x: 1 ml\n---\n",
		"comment":         "---\n# first\ntitle: A page # not of it\naudience: staff\n\n  # more\norder: 1.5\n---\n",
		"twice":           "---\ntitle: A page\ntitle: B\naudience: staff\n---\n",
		"number":          "---\ntitle: 35 mm\naudience: staff\norder: 010\n---\n",
		"null":            "---\ntitle: null\naudience: staff\n---\n",
		"open":            "---\ntitle: A page\naudience: staff\n",
		"continued":       "---\ntitle: A page\n\n  that goes on\naudience: staff\n---\n",
		"unknown":         "---\ntitle: A page\naudience: staff\nfoo: bar\n---\n",
		"audience":        "---\ntitle: A page\naudience: everybody\n---\n",
		"key quoted":      "---\n\"title\": A page\naudience: staff\n---\n",
		"carriage return": "---\r\ntitle: A page\r\naudience: staff\r\n---\r\n",
		"draws":           "---\ntitle: A page\naudience: staff\ndraws_on:\n  mix: ../mix.md\n  cost: {page: cost.md, at: {tank: tank * 2}}\ngiven:\n  tank: 1 l\n---\n",
		"season":          "---\ntitle: A page\naudience: staff\nseason: [june, July]\n---\n",
		"anchor":          "---\ntitle: &a A page\naudience: staff\nsummary: *a\n---\n",
	}
	demo := os.DirFS("../../content")
	_ = walkPages(demo, func(p string, raw []byte) { texts[p] = string(raw) })
	if len(texts) < 30 {
		t.Fatalf("%d texts are too few", len(texts))
	}
	taken := 0
	for name, text := range texts {
		file, list := source.New(name, []byte(text))
		if len(list) > 0 {
			t.Fatal(list)
		}
		head, draws := readHead(file)
		if head == nil {
			continue
		}
		taken++
		whole, _ := page.Decode(file, nil)
		if whole == nil {
			t.Errorf("%s: a head was read of a page that cannot be", name)
			continue
		}
		of := func(sh *page.Sheet) string {
			text := cmp.Diff(nil, []any{sh.Title, sh.Summary, sh.Audience, sh.Topics, sh.Season, sh.Order, sh.HasOrder})
			if c := sh.Control; c != nil {
				text += cmp.Diff(nil, []any{c.Number, c.Owner, c.ApprovedBy, c.Revision, c.Status, c.Approved, c.Effective, c.Review, c.Changes})
				line, column := c.Span.File.Place(c.Span.Start)
				text += cmp.Diff(nil, []int{line, column})
			}
			return text
		}
		if !slices.Equal(draws, usesOf(whole)) {
			t.Errorf("%s draws on %q, and by its head on %q", name, usesOf(whole), draws)
		}
		if a, b := of(whole), of(head); a != b {
			t.Errorf("%s (- whole, + head):\n%s", name, cmp.Diff(a, b))
		}
	}
	if taken < 25 {
		t.Errorf("the heads of %d pages were read, too few to save any time", taken)
	}
	for _, name := range []string{"twice", "open", "audience", "anchor"} {
		file, _ := source.New(name, []byte(texts[name]))
		if head, _ := readHead(file); head != nil {
			t.Errorf("%s: a head out of the ordinary was read", name)
		}
	}
}

func walkPages(folder fs.FS, see func(p string, raw []byte)) error {
	return fs.WalkDir(folder, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(p) != ".md" {
			return err
		}
		raw, err := fs.ReadFile(folder, p)
		see(p, raw)
		return err
	})
}
