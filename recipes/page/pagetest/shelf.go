// Package pagetest gives tests of pages their data files and front matter without a disk.
package pagetest

import (
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// WithKeys puts keys into a page with a title and an audience.
func WithKeys(keys string) string {
	return "---\ntitle: T\naudience: staff\n" + strings.Trim(keys, "\n") + "\n---\nBody.\n"
}

// Shelf is a library of data files in memory: text by name.
type Shelf map[string]string

func (s Shelf) Table(path string) (*page.Table, bool) {
	text, ok := s[path]
	if !ok {
		return nil, false
	}
	f, list := source.New(path, []byte(text))
	table, more := page.ReadTable(f)
	if list.Errors()+more.Errors() > 0 {
		return nil, true
	}
	return table, true
}

func (s Shelf) Files() []string {
	var out []string
	for name := range s {
		out = append(out, name)
	}
	return out
}
