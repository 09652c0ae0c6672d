package language

import (
	"net/url"
	"path"
	"slices"
	"strings"

	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/work"
)

// symbol is what a mark names, the same for all pages that name it.
type symbol struct {
	file string // the page or data file it belongs to, "" for what belongs to the program
	sort sort
	of   string // for a column that a page adds: the page's name for its data file
	name string
}

// lookup answers questions about symbols while nobody else uses the site.
type lookup struct {
	content *content.Content
	desk    *work.Desk
	read    map[string]*reading
}

// look calls do with a lookup, while nobody else uses the site.
func (s *server) look(do func(l *lookup)) {
	s.site.Look(func(c *content.Content, d *work.Desk) { do(&lookup{c, d, map[string]*reading{}}) })
}

// reading reads a page once; nil if there is none or its text cannot be read.
func (l *lookup) reading(at string) *reading {
	if r, is := l.read[at]; is {
		return r
	}
	var r *reading
	if p := l.content.Page(at); p != nil && len(p.Said) == 0 {
		if text, ok := l.content.PageText(p); ok {
			r = read(text)
		}
	}
	l.read[at] = r
	return r
}

// drawn is the path of a page that another draws on, dataOf that of a data file; "" if unknown.
func (l *lookup) drawn(at, name string) string {
	p, r := l.content.Page(at), l.reading(at)
	if p == nil || r == nil || r.uses[name] == "" {
		return ""
	}
	full, _, _ := p.Find(r.uses[name])
	return full
}

func (l *lookup) dataOf(at, name string) string {
	r := l.reading(at)
	if r == nil || r.data[name] == "" {
		return ""
	}
	return l.dataFile(at, r.data[name])
}

// dataFile is the path of a data file, from what a page writes: beside the page, and for a bare
// name in the folders above as well, the nearest first. It is "" if there is none.
func (l *lookup) dataFile(at, written string) string {
	for folder := path.Dir(at); ; folder = path.Dir(folder) {
		if full := path.Join(folder, written); l.content.HasFile(full) {
			return full
		}
		if folder == "." || strings.Contains(written, "/") {
			return ""
		}
	}
}

// fileAt is the path of a page or another file, from what a page writes; "" if there is none.
func (l *lookup) fileAt(at, written string) string {
	if p := l.content.Page(at); p != nil {
		if full, _, ok := p.Find(written); ok && (l.content.Page(full) != nil || l.content.HasFile(full)) {
			return full
		}
	}
	return l.dataFile(at, written)
}

// adds reports whether a page adds a column to a data file.
func (r *reading) adds(data, name string) bool {
	return slices.ContainsFunc(r.marks, func(m mark) bool { return m.sort == column && m.def && m.of == data && m.name == name })
}

// symbol says what a mark of a page names; ok is false if that is no symbol.
func (l *lookup) symbol(at string, m mark) (s symbol, ok bool) {
	s = symbol{at, m.sort, "", m.name}
	switch m.sort {
	case value:
		if m.of != "" {
			s.file = l.drawn(at, m.of)
		}
	case column:
		if l.reading(at).adds(m.of, m.name) {
			s.of = m.of
		} else {
			s.file = l.dataOf(at, m.of)
		}
	case function:
		s.file = ""
		return s, true
	case file:
		s.file, s.name = l.fileAt(at, m.name), ""
	case substance:
		found, _ := l.content.Substances.Find(m.name)
		if found == nil {
			return s, false
		}
		return symbol{sort: substance, name: found.Name}, true
	case keyName, amount:
		return s, false
	}
	return s, s.file != ""
}

// spot is a place in a file of the lab.
type spot struct {
	file       *source.File
	start, end int
	def        bool
}

// spots lists every place that names a symbol, over all pages and data files.
func (l *lookup) spots(s symbol) (out []spot) {
	l.eachNaming(s, func(r *reading, m mark) {
		if m.sort != s.sort || m.name != s.name && s.sort != file && s.sort != substance {
			return
		}
		if found, ok := l.symbol(r.file.Path, m); ok && found == s {
			out = append(out, spot{r.file, m.start, m.end, m.def})
		}
	})
	if s.sort == column && s.of == "" {
		if head, ok := l.heading(s); ok {
			out = append(out, head)
		}
	}
	return out
}

// eachNaming calls do with every mark of the pages that may name a symbol.
func (l *lookup) eachNaming(s symbol, do func(r *reading, m mark)) {
	for _, p := range l.content.Pages {
		if !l.mayName(p, s) {
			continue
		}
		if r := l.reading(p.Path); r != nil {
			for _, m := range r.marks {
				do(r, m)
			}
		}
	}
}

// mayName rules out pages that cannot name a symbol, without parsing them.
func (l *lookup) mayName(p *content.Page, s symbol) bool {
	if p.Path == s.file {
		return true
	}
	if s.sort == value && !slices.Contains(p.Draws, s.file) {
		return false
	}
	text, ok := l.content.PageText(p)
	switch {
	case !ok:
		return false
	case s.sort == file:
		return strings.Contains(text.Text, path.Base(s.file)) || strings.Contains(text.Text, url.PathEscape(path.Base(s.file)))
	case s.sort == function, s.sort == column, s.sort == value:
		return strings.Contains(text.Text, s.name)
	case s.sort == substance:
		return strings.Contains(text.Text, "substances:") || strings.Contains(text.Text, "contains:")
	}
	return false
}

// heading is where the first row of a data file names a column.
func (l *lookup) heading(s symbol) (spot, bool) {
	text, ok := l.content.Text(s.file)
	if !ok {
		return spot{}, false
	}
	f, _ := source.New(s.file, []byte(text))
	for _, h := range headings(f) {
		if h.name == s.name {
			return spot{f, h.start, h.end, true}, true
		}
	}
	return spot{}, false
}

// headings are the columns that the first row of a data file names.
func headings(f *source.File) (out []mark) {
	at := 0
	for cell := range strings.SplitSeq(f.Line(1), ",") {
		name, _, _ := strings.Cut(cell, "[")
		name = strings.Trim(name, " \t\"")
		start := at + strings.Index(cell, name)
		out = append(out, mark{sort: column, name: name, start: start, end: start + len(name), def: true})
		at += len(cell) + 1
	}
	return out
}

// symbolAt finds what is at an offset of an open file, a page or a data file.
func (l *lookup) symbolAt(f *source.File, offset int) (s symbol, m mark, ok bool) {
	if !strings.HasSuffix(f.Path, ".md") {
		if path.Ext(f.Path) == ".csv" {
			for _, h := range headings(f) {
				if h.start <= offset && offset <= h.end {
					return symbol{f.Path, column, "", h.name}, h, true
				}
			}
		}
		return s, m, false
	}
	r := l.reading(f.Path)
	if r == nil {
		return s, m, false
	}
	if m, ok = r.markAt(offset); !ok {
		return s, m, false
	}
	s, ok = l.symbol(f.Path, m)
	return s, m, ok
}

func (s *server) location(x spot) location {
	return location{s.addressOf(x.file.Path), rangeOf(x.file, x.start, x.end)}
}

// fileOf is an open file's text as the program reads a file.
func (d *document) fileOf() *source.File {
	f, _ := source.New(d.path, []byte(d.text))
	return f
}
