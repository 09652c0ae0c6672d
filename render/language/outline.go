package language

import (
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source/tree"
)

// documentSymbol lists what a page declares, and its headings.
func (s *server) documentSymbol(p documentParams) (any, error) {
	out := []documentSymbol{}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil || !strings.HasSuffix(d.path, ".md") {
		return out, nil
	}
	f := d.fileOf()
	r := read(f)
	if r.front != nil {
		for i, k := range r.front.Keys {
			item := r.front.Items[i]
			x := documentSymbol{Name: k.Text, Kind: symbolField, Range: rangeOf(f, k.Span.Start, ending(item, k.Span.End)), SelectionRange: rangeOf(f, k.Span.Start, k.Span.End)}
			if e := page.Front().Key(k.Text); e != nil && item.Shape == tree.Mapping && e.Key("any") != nil && e.Key("any").Names == tree.NewName {
				x.Kind = symbolObject
				for j, name := range item.Keys {
					x.Children = append(x.Children, documentSymbol{Name: name.Text, Kind: symbolVariable,
						Range: rangeOf(f, name.Span.Start, ending(item.Items[j], name.Span.End)), SelectionRange: rangeOf(f, name.Span.Start, name.Span.End)})
				}
			}
			out = append(out, x)
		}
	}
	for _, h := range r.heads {
		at := rangeOf(f, h.Span.Start, h.Span.End)
		out = append(out, documentSymbol{Name: strings.TrimSpace(h.Text), Kind: symbolString, Range: at, SelectionRange: at})
	}
	return out, nil
}

// ending is where a value ends, with everything inside it.
func ending(v *tree.Value, least int) int {
	if v == nil {
		return least
	}
	least = max(least, v.Span.End)
	for _, item := range v.Items {
		least = ending(item, least)
	}
	return least
}

// mostSymbols bounds the results of a search over the folder.
const mostSymbols = 200

// workspaceSymbol finds given values, figures, tables and the like over all pages, and pages by
// their titles.
func (s *server) workspaceSymbol(p symbolParams) (any, error) {
	out := []workspaceSymbol{}
	query := strings.ToLower(strings.TrimSpace(p.Query))
	s.look(func(l *lookup) {
		for _, x := range l.content.Pages {
			if len(out) >= mostSymbols {
				return
			}
			if strings.Contains(strings.ToLower(x.Title()), query) {
				out = append(out, workspaceSymbol{Name: x.Title(), Kind: symbolFile, Location: location{URI: s.addressOf(x.Path)}, ContainerName: x.Path})
			}
			text, ok := l.content.PageText(x)
			if query == "" || !ok || !strings.Contains(strings.ToLower(text.Text), query) {
				continue
			}
			r := l.reading(x.Path)
			if r == nil {
				continue // its diagnostics say what is wrong with its text
			}
			for _, m := range r.marks {
				if m.def && strings.Contains(strings.ToLower(m.name), query) {
					out = append(out, workspaceSymbol{Name: m.name, Kind: symbolVariable, Location: s.location(spot{r.file, m.start, m.end, true}), ContainerName: x.Path})
				}
			}
		}
	})
	return out, nil
}

// foldingRange lists what can be folded: keys of the front matter and sections of the body.
func (s *server) foldingRange(p documentParams) (any, error) {
	out := []foldingRange{}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil || !strings.HasSuffix(d.path, ".md") {
		return out, nil
	}
	f := d.fileOf()
	r := read(f)
	add := func(start, end int, kind string) {
		if a, b := placeOf(f, start).Line, placeOf(f, end).Line; b > a {
			out = append(out, foldingRange{a, b, kind})
		}
	}
	if r.front != nil {
		add(0, r.body-1, "region")
		for i, k := range r.front.Keys {
			add(k.Span.Start, ending(r.front.Items[i], k.Span.End), "")
		}
	}
	for i, h := range r.heads {
		end := len(strings.TrimRight(f.Text, "\n"))
		for _, next := range r.heads[i+1:] {
			if next.Level <= h.Level {
				end = len(strings.TrimRight(f.Text[:next.Span.Start], "\n"))
				break
			}
		}
		add(h.Span.Start, end, "")
	}
	return out, nil
}
