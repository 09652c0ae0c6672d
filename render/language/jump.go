package language

func (s *server) definition(p placeParams) (any, error) {
	out := []location{}
	s.onSymbol(p, func(l *lookup, sym symbol) {
		switch {
		case sym.sort == file:
			out = append(out, location{URI: s.addressOf(sym.file)})
		case sym.sort == function:
			if e, is := l.content.Formulas.Find(sym.name); is && e.Own {
				span := e.Span()
				out = append(out, location{s.addressOf(span.File.Path), rangeOf(span.File, span.Start, span.End)})
			}
		default:
			for _, x := range l.spots(sym) {
				if x.def {
					out = append(out, s.location(x))
				}
			}
		}
	})
	return out, nil
}

func (s *server) references(p referenceParams) (any, error) {
	out := []location{}
	s.onSymbol(p.placeParams, func(l *lookup, sym symbol) {
		for _, x := range l.spots(sym) {
			if !x.def || p.Context.IncludeDeclaration {
				out = append(out, s.location(x))
			}
		}
	})
	return out, nil
}

// onSymbol calls do with the symbol at a place of an open file, if there is one.
func (s *server) onSymbol(p placeParams, do func(l *lookup, sym symbol)) {
	d := s.documentAt(p.TextDocument.URI)
	if d == nil {
		return
	}
	s.look(func(l *lookup) {
		f := d.fileOf()
		if sym, _, ok := l.symbolAt(f, offsetOf(f, p.Position)); ok {
			do(l, sym)
		}
	})
}
