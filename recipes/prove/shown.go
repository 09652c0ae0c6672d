package prove

import (
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Shown works a sheet out at its own values and at its checks, and tries no other cases: for a page
// whose formula is proved elsewhere, as a bench formula is.
func Shown(s *page.Sheet) (*Proof, source.List) {
	p := &Proof{Own: BlankCase(s), examples: OwnCase(s)}
	var list source.List
	if p.examples.Refused() {
		list = append(list, source.RefusedAtOwn(p.examples.Why()).At(p.examples.Refusals[0].Span))
	}
	for _, f := range p.examples.Failed {
		list = append(list, p.failure(f, ownValues)...)
	}
	for _, c := range s.Checks {
		list = append(list, expected(s, c, p)...)
	}
	return p, list
}
