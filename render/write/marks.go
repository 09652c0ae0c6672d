package write

import (
	"strconv"

	"labsite/recipes/prove"
	"labsite/render/work"
)

// mark gives the attributes by which the page's script finds a placement in the page's own texts.
func mark(b work.Bound) string {
	switch {
	case b.Kind == work.PlacesLiteral:
		return ` data-literal`
	case b.Kind == work.PlacesGiven && b.Placed > 0:
		// a given value stays even where all else is withdrawn
		return ` data-given-value="` + b.Given.Name + `" data-placed="` + strconv.Itoa(b.Placed-1) + `"`
	case b.Kind == work.PlacesGiven:
		return ` data-given-value="` + b.Given.Name + `"`
	case b.Placed > 0:
		return ` data-placed="` + strconv.Itoa(b.Placed-1) + `"`
	case b.Kind == work.PlacesFigure:
		return ` data-figure="` + b.Figure.Name + `"`
	}
	return ""
}

// markElsewhere does the same for placements in a text of a page drawn on, whose case is inside this
// page's. They never have the names of that page's values, which may be other values' names here.
func markElsewhere(s *work.Script, own, run *prove.Case) func(work.Bound) string {
	part := own.PartOf(run)
	return func(b work.Bound) string {
		if b.Kind == work.PlacesLiteral {
			return ` data-literal`
		}
		if s != nil && part != nil {
			if n := s.Elsewhere(part.Base, b); n > 0 {
				return ` data-placed="` + strconv.Itoa(n-1) + `"`
			}
		}
		return ` data-tested`
	}
}
