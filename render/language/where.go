package language

import (
	"cmp"
	"path"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/source"
	"labsite/render/content"
)

// Found is something that pages name, and every place that does.
type Found struct {
	// Name is its name where it is declared, What the sort of thing in words.
	Name, What string
	// Of is the page or the data file that it belongs to, by path; "" if it belongs to none.
	Of string
	// Places are in the order of file and line, after the one where it is declared.
	Places []Place
}

// Place is one place where something is named; Declares says that it is declared there.
type Place struct {
	source.Span
	Declares bool
}

// Search is the result of asking where a name is used.
type Search struct {
	Found []Found
	// Unread lists pages whose front matter cannot be read, by path, so that what they name is
	// unknown.
	Unread []string
	// Near is the known name that is spelled most like a name that was not found; "" for none.
	Near string
}

// Where finds what a name stands for in a folder, and where it is used: a given value, a figure, a
// caution, a table or a chart of any page; a column; a page or another file, by its path or its
// file name; a bench formula or a function; a substance. The page, the data file, or a page's name
// for it may come first, with a dot: mix.concentrate. Where only reads the texts of pages and works
// nothing out.
func Where(c *content.Content, name string) Search {
	w := &where{l: &lookup{content: c, read: map[string]*reading{}}, seen: map[symbol]bool{}}
	w.files(name)
	w.programs(name)
	w.pages(name)
	out := Search{Unread: w.unread}
	for _, s := range w.found {
		out.Found = append(out.Found, w.told(s))
	}
	if len(out.Found) == 0 {
		out.Near = source.Nearest(name, w.names)
	}
	return out
}

type where struct {
	l      *lookup
	found  []symbol
	seen   map[symbol]bool
	names  []string
	unread []string
}

func (w *where) add(s symbol) {
	if !w.seen[s] {
		w.seen[s] = true
		w.found = append(w.found, s)
	}
}

// files finds pages and other files by their path, or by their file name alone.
func (w *where) files(name string) {
	clean := path.Clean(name)
	for _, at := range w.l.content.Names() {
		if at == clean || at == clean+".md" || path.Base(at) == clean || path.Base(at) == clean+".md" {
			w.add(symbol{file: at, sort: file})
		}
		w.names = append(w.names, path.Base(at))
	}
}

// programs finds bench formulas, functions and substances.
func (w *where) programs(name string) {
	_, own := w.l.content.Formulas.Find(name)
	if own || slices.Contains(formula.Functions(), name) {
		w.add(symbol{sort: function, name: name})
	}
	if s, _ := w.l.content.Substances.Find(name); s != nil {
		w.add(symbol{sort: substance, name: s.Name})
	}
	w.names = append(append(w.names, w.l.content.Formulas.Names()...), formula.Functions()...)
}

// pages finds what pages and the heads of data files declare.
func (w *where) pages(name string) {
	of, last := "", name
	if i := strings.LastIndexByte(name, '.'); i > 0 {
		of, last = name[:i], name[i+1:]
	}
	for _, p := range w.l.content.Pages {
		r := w.l.reading(p.Path)
		if r == nil || r.front == nil {
			w.unread = append(w.unread, p.Path)
			continue
		}
		for _, m := range r.marks {
			if m.def {
				w.names = append(w.names, m.name)
			}
			s, ok := w.l.symbol(p.Path, m)
			switch {
			case !ok:
			case m.def && m.name == name, of != "" && m.of == of && m.name == last, of != "" && m.def && m.name == last && mayBeFile(p.Path, of):
				w.add(s)
			}
		}
	}
	for _, at := range w.l.content.Names() {
		if path.Ext(at) != ".csv" {
			continue
		}
		for _, c := range w.l.columns(at) {
			w.names = append(w.names, c)
			if c == name || of != "" && c == last && mayBeFile(at, of) {
				w.add(symbol{file: at, sort: column, name: c})
			}
		}
	}
}

// mayBeFile reports whether a name that somebody types may mean a file.
func mayBeFile(at, name string) bool {
	bare := strings.TrimSuffix(at, path.Ext(at))
	return slices.Contains([]string{at, bare, path.Base(at), path.Base(bare)}, path.Clean(name))
}

// columns are the names in the head of a data file.
func (l *lookup) columns(at string) (out []string) {
	if text, ok := l.content.Text(at); ok {
		f, _ := source.New(at, []byte(text))
		for _, h := range headings(f) {
			out = append(out, h.name)
		}
	}
	return out
}

// told describes a symbol and lists its places.
func (w *where) told(s symbol) Found {
	out := Found{Name: s.name, What: w.l.sortOf(s), Of: s.file}
	if s.sort == file {
		out.Name, out.Of = s.file, ""
	}
	for _, x := range append(w.l.spots(s), w.l.more(s)...) {
		out.Places = append(out.Places, Place{x.file.Span(x.start, x.end), x.def})
	}
	slices.SortFunc(out.Places, func(a, b Place) int {
		return cmp.Or(-compareBool(a.Declares, b.Declares), cmp.Compare(a.File.Path, b.File.Path), cmp.Compare(a.Start, b.Start), cmp.Compare(a.End, b.End))
	})
	out.Places = slices.CompactFunc(out.Places, func(a, b Place) bool {
		return a.File.Path == b.File.Path && a.Start == b.Start && a.End == b.End
	})
	return out
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// more lists the places of a symbol that spots leaves out, since an editor shows something else
// there: where a page uses its own name for a page or a data file, and the lab's entry of a bench
// formula.
func (l *lookup) more(s symbol) (out []spot) {
	if e, ok := l.content.Formulas.Find(s.name); ok && s.sort == function && e.Own {
		span := e.Span()
		return []spot{{span.File, span.Start, span.End, true}}
	}
	if s.sort != file {
		return nil
	}
	l.eachNaming(s, func(r *reading, m mark) {
		if m.sort == use && l.drawn(r.file.Path, m.name) == s.file || m.sort == dataFile && l.dataOf(r.file.Path, m.name) == s.file {
			out = append(out, spot{r.file, m.start, m.end, false})
		}
	})
	return out
}

// sortOf says in words what a symbol is.
func (l *lookup) sortOf(s symbol) string {
	switch s.sort {
	case value:
		if r := l.reading(s.file); r != nil && r.names("given", s.name) {
			return "given value"
		}
		return "figure"
	case use:
		return "name of a page that is drawn on"
	case dataFile:
		return "name of a data file"
	case column:
		if s.of != "" {
			return "column that is added to " + s.of
		}
		return "column"
	case caution:
		return "caution"
	case block:
		if r := l.reading(s.file); r != nil && r.names("charts", s.name) {
			return "chart"
		}
		return "table"
	case function:
		if _, ok := l.content.Formulas.Find(s.name); ok {
			return "bench formula"
		}
		return "function"
	case substance:
		return "substance"
	}
	if l.content.Page(s.file) != nil {
		return "page"
	}
	return "file"
}
