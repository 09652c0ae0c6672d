package content

import (
	"bytes"
	"embed"
	"io/fs"
	"slices"
	"strings"
)

//go:embed .starter
var starter embed.FS

//go:embed bench developing exposure mixing printing
var shelf embed.FS

// Lab is a small lab to begin with: three pages and the settings, as they are laid down.
func Lab() fs.FS { return within("lab") }

// Shelf is every page of the demo with its data, without the front page, the settings and
// the records of approval, which are the demo's own.
func Shelf() fs.FS { return shelf }

// Front is the front page of a lab that takes pages off the shelf. Where TITLE is in it,
// the lab's name goes, as a value of YAML.
func Front() []byte {
	raw, err := starter.ReadFile(".starter/shelf/index.md")
	if err != nil {
		return nil // cannot be: it is embedded
	}
	return raw
}

// Pattern is a kind of page that a new one may begin as.
type Pattern struct {
	Name string
	Says string // what it is for, in a few words
}

// patterns are those of the files, in the order in which they are offered.
var patterns = []Pattern{
	{"guide", "for customers: values to set, amounts that follow"},
	{"procedure", "for staff: steps with a clock and a hold point"},
	{"mixing", "a bath or a stock: substances, weighing list, label"},
	{"process", "times looked up in a file of tests, corrected for temperature"},
	{"control", "a daily reading compared with its limits, with a chart"},
	{"log", "readings that are kept and listed"},
	{"register", "the rows of a file, and which of them are overdue"},
	{"prices", "what something costs, and what we ask for it"},
}

// Patterns lists the kinds of page that a new one may begin as.
func Patterns() []Pattern { return slices.Clone(patterns) }

// New gives the files of a page that begins as a pattern, by their names: the page as
// name.md, and the data files beside it. title is a value of YAML. There are none for a
// pattern that is not among Patterns.
func New(pattern, name string, title []byte) map[string][]byte {
	if !slices.ContainsFunc(patterns, func(p Pattern) bool { return p.Name == pattern }) {
		return nil
	}
	out := map[string][]byte{}
	pages := within("pages")
	for _, file := range matches(pages, pattern+".md", pattern+"-*.csv") {
		raw, err := fs.ReadFile(pages, file)
		if err != nil {
			return nil // cannot be: it was listed
		}
		if strings.HasSuffix(file, ".md") {
			raw = bytes.ReplaceAll(raw, []byte("NAME"), []byte(name))
			raw = bytes.Replace(raw, []byte("TITLE"), title, 1)
		}
		out[name+strings.TrimPrefix(file, pattern)] = raw
	}
	return out
}

func matches(in fs.FS, globs ...string) (out []string) {
	for _, glob := range globs {
		found, _ := fs.Glob(in, glob) // the globs above are right ones
		out = append(out, found...)
	}
	return out
}

func within(name string) fs.FS {
	sub, err := fs.Sub(starter, ".starter/"+name)
	if err != nil {
		return embed.FS{} // cannot be: the names are those above
	}
	return sub
}
