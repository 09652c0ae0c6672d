package build

import (
	"testing"

	"labsite/recipes/page"
	"labsite/render/content"
)

// The preview gives the same advice as a check.
func TestAdviceIsTheSameEverywhere(t *testing.T) {
	dir := labOf(t, map[string]string{
		"index.md": "---\ntitle: Home\naudience: customers\ngiven: {tank: 5 l, rolls: {value: 4, source: from memory}}\nfigures:\n  each: {label: Each, formula: tank / rolls}\n  all: {label: All, formula: tank}\nchecks:\n  - {expect: {all: 5 l}, source: from memory}\n---\n",
		"wrong.md": "---\ntitle: Wrong\naudience: customers\nfigures:\n  each: {label: Each, formula: tank}\n---\n",
	})
	s, _ := checked(t, dir)
	opened, _ := Follow(t.Context(), dir, Options{Day: aDay})
	defer opened.Close()
	for path, want := range map[string]int{"index.md": 2, "wrong.md": 0} {
		p, _ := s.Find(path)
		opened.Answer(page.Customers, content.URLPath(p.Address()), true)
		a, b := s.Memory.Stale(path).Advice, opened.Advice(path)
		if told(a) != told(b) || len(a) != want {
			t.Errorf("%s: a check says\n%s\nthe preview\n%s", path, told(a), told(b))
		}
	}
}
