package site

import (
	"context"
	"testing"
)

// The preview advises what a check does.
func TestAdviceIsOne(t *testing.T) {
	dir := labOf(t, map[string]string{
		"index.md": "---\ntitle: Home\naudience: customers\ngiven: {tank: 5 l, rolls: {value: 4, source: from memory}}\nfigures:\n  each: {label: Each, formula: tank / rolls}\n  all: {label: All, formula: tank}\nchecks:\n  - {expect: {all: 5 l}, source: from memory}\n---\n",
		"wrong.md": "---\ntitle: Wrong\naudience: customers\nfigures:\n  each: {label: Each, formula: tank}\n---\n",
	})
	loaded, _ := Load(context.Background(), dir, Options{Today: aDay})
	opened, _ := Open(context.Background(), dir, Options{Today: aDay})
	defer opened.Close()
	for page, want := range map[string]int{"index.md": 2, "wrong.md": 0} {
		topic, _ := loaded.Find(page)
		opened.ready(opened.byPath[page])
		a, b := topic.Advice(), opened.Advice(page)
		if told(a) != told(b) || len(a) != want {
			t.Errorf("%s: a check says\n%s\nthe preview\n%s", page, told(a), told(b))
		}
	}
}
