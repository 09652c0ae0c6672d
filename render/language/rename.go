package language

import (
	"slices"

	"github.com/creachadair/jrpc2"

	"labsite/recipes/source"
)

func (s *server) prepareRename(p placeParams) (any, error) {
	var out any
	if d := s.documentAt(p.TextDocument.URI); d != nil {
		s.look(func(l *lookup) {
			f := d.fileOf()
			if sym, m, ok := l.symbolAt(f, offsetOf(f, p.Position)); ok && s.mayRename(sym, f, m) {
				out = rangeOf(f, m.start, m.end)
			}
		})
	}
	return out, nil
}

func renamable(s symbol) bool { return s.sort != function && s.sort != file && s.file != "" }

// rename gives something another name wherever it is named. It is tried on the site first, and
// refused if it would cause an error.
func (s *server) rename(p renameParams) (any, error) {
	d := s.documentAt(p.TextDocument.URI)
	if d == nil {
		return nil, nil
	}
	var edits map[*source.File][]spot
	var path any
	var wrong error
	s.look(func(l *lookup) {
		f := d.fileOf()
		sym, m, ok := l.symbolAt(f, offsetOf(f, p.Position))
		switch {
		case !ok || !s.mayRename(sym, f, m):
		case sym.sort == file:
			path, wrong = s.renamePath(l, d.path, sym, p.NewName)
		default:
			edits = map[*source.File][]spot{}
			for _, x := range l.spots(sym) {
				edits[x.file] = append(edits[x.file], x)
			}
		}
	})
	if path != nil || wrong != nil {
		return path, wrong
	}
	if edits == nil {
		return nil, jrpc2.Errorf(codeFailed, "there is nothing here that can be renamed")
	}
	out := workspaceEdit{map[string][]textEdit{}}
	texts := map[string][]byte{}
	for f, spots := range edits {
		slices.SortFunc(spots, func(a, b spot) int { return a.start - b.start })
		spots = slices.Compact(spots)
		var list []textEdit
		for _, x := range spots {
			list = append(list, textEdit{rangeOf(f, x.start, x.end), p.NewName})
		}
		text := f.Text
		for _, x := range slices.Backward(spots) {
			text = text[:x.start] + p.NewName + text[x.end:]
		}
		out.Changes[s.addressOf(f.Path)], texts[f.Path] = list, []byte(text)
	}
	if why := s.tried(texts); why != "" {
		return nil, jrpc2.Errorf(codeFailed, "%s", why)
	}
	return out, nil
}

// tried tells what new error some texts would cause, "" for none. It leaves the site as it was.
func (s *server) tried(texts map[string][]byte) (why string) {
	known := map[string]bool{}
	each := func(see func(d source.Diagnostic)) {
		for at := range texts {
			list, _ := s.site.PageDiagnostics(at)
			for _, d := range list {
				if d.Severity == source.Error {
					see(d)
				}
			}
		}
	}
	before := 0
	each(func(d source.Diagnostic) { known[d.File+d.Code+d.Message] = true; before++ })
	now := map[string][]byte{}
	for at := range texts {
		now[at] = nil
		if d := s.open[at]; d != nil {
			now[at] = []byte(d.text)
		}
	}
	s.site.Write(texts)
	after := 0
	each(func(d source.Diagnostic) {
		if after++; !known[d.File+d.Code+d.Message] && why == "" {
			why = d.File + ": " + d.Message + ". " + d.Hint
		}
	})
	s.site.Write(now)
	if after <= before {
		return ""
	}
	return why
}
