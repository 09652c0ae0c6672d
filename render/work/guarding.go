package work

import (
	"context"

	"labsite/recipes/formula"
	"labsite/recipes/formulary"
	"labsite/recipes/guard"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
)

// Guarding changes a page on purpose and finds how many of the changes its checks notice. It works on
// a copy of the page, so the one on the desk stays as it is. ok is false if the page is not worked
// out, or ctx ends.
func (d *Desk) Guarding(ctx context.Context, p *content.Page) (r guard.Report, ok bool) {
	own, ok := d.Copy(p)
	if !ok {
		return r, false
	}
	d.Make(p).guarded(func() { r, ok = guard.Sheet(ctx, own) })
	return r, ok
}

// Copy makes a second sheet of a page for the caller alone, if the page has no errors. The pages that
// it draws on are those of the desk, and must not be changed. The copy asks the desk for nothing, so
// that both can be worked on at the same time.
func (d *Desk) Copy(p *content.Page) (*page.Sheet, bool) {
	full := d.Make(p)
	if full.Proof == nil || !full.Resolved || full.List.Errors() > 0 {
		return nil, false
	}
	quiet := silent{library{d, full}, d.Content.Formulas}
	own, list := page.Decode(full.File, quiet)
	if own == nil || list.Errors() > 0 {
		return nil, false
	}
	world := page.World{Page: func(path string) (*page.Sheet, source.Problem, bool) { return d.drawn(full, path) }, Trades: quiet}
	return own, own.ResolveIn(world).Errors() == 0
}

// silent is a library that does not note what is asked for: a formula that was changed on purpose may
// call a bench formula on which the page itself does not depend.
type silent struct {
	library
	formulas *formulary.Set
}

func (k silent) Trade(name string) (*formula.Trade, bool) { return k.formulas.Trade(name) }

func (k silent) Names() []string { return k.formulas.Names() }
