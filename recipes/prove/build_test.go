package prove

import (
	"context"

	"labsite/recipes/formulary"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// build reads, resolves and proves a page that uses no other.
func build(text string) (*page.Sheet, *Proof, source.List) {
	return buildWith(text, nil, page.World{})
}

func buildWith(text string, library page.Library, world page.World) (*page.Sheet, *Proof, source.List) {
	if world.Trades == nil {
		world.Trades = formulary.Load()
	}
	f, list := source.New("page.md", []byte(text))
	s, more := page.Decode(f, library)
	list = append(list, more...)
	if s == nil {
		return nil, nil, list
	}
	list = append(list, s.ResolveIn(world)...)
	if list.Errors() > 0 {
		return s, nil, list
	}
	p, more := Sheet(context.Background(), s)
	return s, p, append(list, more...)
}
