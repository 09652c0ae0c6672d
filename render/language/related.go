package language

import (
	"labsite/recipes/source"
)

// related lists the other places that a diagnostic is about, each with the path of its file where
// the address belongs; see addressed. Nothing else may use the site meanwhile.
func (l *lookup) related(d source.Diagnostic) (out []related) {
	for _, r := range d.Related() {
		x := related{location{URI: r.File}, r.Says}
		if r.Line == 0 {
			m, ok := l.drawing(r.File, r.Draws)
			if !ok {
				continue
			}
			x.Location.Range = rangeOf(l.reading(r.File).file, m.start, m.end)
		} else {
			text, ok := l.content.Text(r.File)
			f, _ := source.New(r.File, []byte(text))
			if !ok || r.Line > f.Lines() {
				continue
			}
			x.Location.Range = onLine(f, r)
		}
		out = append(out, x)
	}
	return out
}

// onLine is the range of a place given by line and column.
func onLine(f *source.File, r source.Related) textRange {
	line := f.Line(r.Line)
	start := byRunes(line, r.Column-1)
	end := len(line)
	if r.Width > 0 {
		end = start + byRunes(line[start:], r.Width)
	}
	return rangeOf(f, f.Offset(r.Line)+start, f.Offset(r.Line)+end)
}

// drawing is where a page says that it draws on another.
func (l *lookup) drawing(at, on string) (m mark, ok bool) {
	r := l.reading(at)
	if r == nil {
		return m, false
	}
	for _, m := range r.marks {
		if m.sort == use && m.def && l.drawn(at, m.name) == on {
			return m, true
		}
	}
	return m, false
}

// addressed replaces paths of files by their addresses.
func (s *server) addressed(d diagnostic) diagnostic {
	for i := range d.Related {
		d.Related[i].Location.URI = s.addressOf(d.Related[i].Location.URI)
	}
	return d
}
