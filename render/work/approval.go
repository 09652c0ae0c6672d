package work

import (
	"cmp"
	"reflect"
	"slices"
	"time"

	"labsite/recipes/approval"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/script"
	"labsite/recipes/source"
	"labsite/render/content"
)

// Standard is what was approved of a page with document control, and how the page differs from it.
type Standard struct {
	// Record is the record of the page's own revision, Before that of the revision before it; nil
	// if there is no record, or it cannot be used.
	Record, Before *approval.Record
	// Differs is what differs from Record, Changed what the revision changed since Before:
	// numbers first.
	Differs, Changed []approval.Difference
}

// approval compares a page with the record of its revision. A difference is an error: the published
// page would say what nobody approved. In the preview it is only a report, since somebody may be
// writing the next revision.
func (d *Desk) approval(p *Page) {
	if p.Sheet == nil || p.Sheet.Control == nil || p.Sheet.Control.Number == "" || content.Outside(p.Path) != p.Path {
		return
	}
	k := p.Sheet.Control
	d.ask(p, Approvals, k.Number)
	s := &Standard{}
	p.Standard = s
	broken := false
	for _, revision := range d.Content.Revisions(k.Number) {
		if _, problem := d.Content.Record(k.Number, revision); problem.Code != "" && revision <= k.Revision {
			p.report(problem.At(k.Span))
			broken = broken || revision == k.Revision
		}
	}
	s.Record, _ = d.Content.Record(k.Number, k.Revision)
	if before, ok := d.Content.RevisionBefore(k.Number, k.Revision); ok {
		s.Before, _ = d.Content.Record(k.Number, before)
	}
	if s.Record == nil && !broken && k.Status == page.Approved && p.File.Path == content.Outside(p.File.Path) {
		p.report(source.Unrecorded(k.Number, k.Revision, p.File.Path, k.ApprovedBy).At(k.Span))
	}
	d.reportWaiting(p)
	if s.Record == nil && s.Before == nil || !p.Trusted() || p.List.Errors() > 0 || k.Status != page.Approved {
		return
	}
	now := d.Record(p, k.ApprovedBy, time.Time{})
	if now == nil {
		return
	}
	if s.Record != nil {
		s.Differs = d.Differences(s.Record, now, p)
		d.reportDifferences(p, s)
	}
	if s.Before != nil {
		s.Changed = d.Differences(s.Before, now, p)
	}
}

// reportWaiting reports a revision that is not yet in effect while no earlier one is in force, and notes that
// the page depends on the day.
func (d *Desk) reportWaiting(p *Page) {
	k := p.Sheet.Control
	if k.Status != page.Approved || k.Effective.IsZero() {
		return
	}
	if d.past(p, k.Effective.AddDate(0, 0, -1)) || p.Standard.Before != nil || d.Content.Drafts() {
		return
	}
	p.report(source.WaitsAlone(k.Number, k.Revision, k.Effective.Format(time.DateOnly)).At(k.Span))
}

// Differences compares two states of a page: what they print, and their labelled figures in all
// cases that a reader can set. The newer one is p, or a recorded revision where that is nil.
func (d *Desk) Differences(old, now *approval.Record, p *Page) []approval.Difference {
	c := approval.Compare(old, now)
	changed := differingSums(old, now)
	if len(changed) == 0 {
		return c.OtherDifferences()
	}
	was := d.sheetOf(old)
	var is *page.Sheet
	if p != nil {
		is = p.Sheet
	} else {
		is = d.sheetOf(now)
	}
	if was == nil || is == nil {
		return c.OtherDifferences()
	}
	for _, x := range prove.LargestChanges(d.ctx, was, is) {
		if i := slices.Index(changed, x.Figure.Name); i >= 0 {
			c.Moved(x.Figure.Name, x.Figure.Label, approval.Example{At: x.At, Before: x.Before, After: x.After, Moved: x.Moved, Cases: x.Cases})
			changed = slices.Delete(changed, i, i+1)
		}
	}
	// both states are worked out with the present bench formulas; if only those changed, the states
	// agree with each other, and only the recorded sums show the change
	if d.ctx.Err() == nil && !reflect.DeepEqual(old.Bench, now.Bench) {
		for _, o := range now.Over {
			if i := slices.IndexFunc(old.Over, func(x approval.Over) bool { return x.Name == o.Name }); i >= 0 && slices.Contains(changed, o.Name) {
				c.Moved(o.Name, o.Label, approval.Example{Before: spreadOf(old.Over[i]), After: spreadOf(o)})
			}
		}
	}
	return c.OtherDifferences()
}

// spreadOf gives the least and the greatest value of a figure over its cases.
func spreadOf(o approval.Over) string {
	if o.Least == o.Most {
		return cmp.Or(o.Least, "something else")
	}
	return o.Least + " to " + o.Most
}

// Earlier is a recorded revision of a page, for paper that was printed from it and for a run that
// began with it.
type Earlier struct {
	Sheet *page.Sheet
	// Script is the script of its formulas and of the values of its products, in the order of
	// Products.
	Script   []byte
	Products []string // their names, as a record has them
}

// Earlier works out a recorded revision; nil if that is no longer possible, or if a reader could set
// nothing on it.
func (d *Desk) Earlier(r *approval.Record) *Earlier {
	p := d.Content.Printed(r.Number, r.Revision)
	if p == nil {
		return nil
	}
	full := d.Resolved(p)
	if !full.Resolved || !full.Settable() {
		return nil
	}
	e := &Earlier{Sheet: full.Sheet}
	s := script.Page{Sheet: full.Sheet, Earlier: r.Revision}
	for _, m := range full.Sheet.Makes {
		for _, v := range m.Values() {
			if v.Node != nil && !full.Sheet.DependsOnToday(v.Node) {
				s.Placed = append(s.Placed, script.Placed{Node: v.Node, Show: v.Show})
				e.Products = append(e.Products, ProductNumber(m, v))
			}
		}
	}
	var err error
	if e.Script, err = s.Emit(); err != nil {
		return nil
	}
	return e
}

// ProductNumber names a value of a product in a record.
func ProductNumber(m *page.Product, v *page.ProductValue) string { return v.Key + " of " + m.Name }

// Products lists the numbers of what a page makes, in a case.
func Products(run *prove.Case) (out []Number) {
	for _, m := range run.Sheet.Makes {
		for _, v := range m.Values() {
			shown, _ := run.Product(v)
			out = append(out, Number{Name: ProductNumber(m, v), Label: ProductName(m) + ", " + v.Key, Shown: cmp.Or(shown.Text, Withheld)})
		}
	}
	return out
}

// sheetOf is the sheet of a recorded revision; nil if it can no longer be worked out.
func (d *Desk) sheetOf(r *approval.Record) *page.Sheet {
	p := d.Content.Printed(r.Number, r.Revision)
	if p == nil {
		return nil
	}
	if full := d.Resolved(p); full.Resolved {
		return full.Sheet
	}
	return nil
}

// differingSums lists the labelled figures whose sums over all cases differ.
func differingSums(old, now *approval.Record) (out []string) {
	was := map[string]approval.Over{}
	for _, o := range old.Over {
		was[o.Name] = o
	}
	for _, o := range now.Over {
		if old, had := was[o.Name]; had && old.Sum != o.Sum {
			out = append(out, o.Name)
		}
	}
	return out
}

// reportDifferences reports what differs from what was approved, each difference at its place.
func (d *Desk) reportDifferences(p *Page, s *Standard) {
	say := func(x source.Problem, at source.Span) {
		if d.Content.Drafts() {
			x.Severity = source.Report
		}
		p.report(x.At(at))
	}
	k := p.Sheet.Control
	if p.File.Path != content.Outside(p.File.Path) { // the page itself is read from its record
		if len(s.Differs) > 0 && len(approval.Numbers(s.Differs)) > 0 {
			n := approval.Numbers(s.Differs)[0]
			why := n.Name + " was " + n.Before + " and comes out as " + n.After
			if n.Over != nil && n.Over.Moved == 0 && n.Before == n.Over.Before {
				why = n.Name + " comes out otherwise at values that a reader can set"
			}
			say(source.NotAsRecorded(k.Number, k.Revision, why), k.Span)
		}
		return
	}
	tables := map[string]int{}
	for _, x := range s.Differs {
		if x.Kind == approval.OfCheck {
			continue // it prints no number of its own
		}
		if x.Table != "" {
			if tables[x.Table]++; tables[x.Table] > mostCellsTold {
				continue
			}
		}
		say(problemOf(x, k.Revision), p.placeOf(x))
	}
	for _, g := range p.Sheet.Grids {
		if n := tables[g.Name] - mostCellsTold; n > 0 {
			say(source.ApprovedCells(g.Name, n, k.Revision), g.Span)
		}
	}
}

// mostCellsTold is how many differing cells of a table are reported one by one.
const mostCellsTold = 6

// problemOf is the error of a difference from an approved revision.
func problemOf(x approval.Difference, revision int) source.Problem {
	what := map[approval.Kind]string{approval.OfLimit: "a limit", approval.OfCaution: "a caution", approval.OfStep: "a step", approval.OfText: "the text",
		approval.OfFormula: "the formula of " + x.Name, approval.OfRange: "what " + x.Name + " may be set to"}
	switch {
	case x.Kind != approval.OfNumber:
		return source.ApprovedElse(what[x.Kind], x.Before, revision, x.After)
	case x.Over != nil && x.Over.Moved == 0 && x.Before == x.Over.Before:
		return source.ApprovedSomewhere(x.Name, revision, x.Because())
	case x.Over != nil && x.Before == x.Over.Before && x.After == x.Over.After && x.Over.At != "":
		return source.ApprovedMoves(x.Name, x.Over.At, x.Before, revision, x.After, x.Over.Moved, x.Over.Cases, x.Because())
	}
	return source.ApprovedNumber(x.Name, x.Before, revision, x.After, x.Because())
}

// placeOf is where a difference is reported: at the figure, the table, or the page's number.
func (p *Page) placeOf(x approval.Difference) source.Span {
	sh := p.Sheet
	if f := sh.Figure(x.Name); f != nil {
		return f.Span
	}
	if g := sh.GivenNamed(x.Name); g != nil {
		return g.Span
	}
	for _, g := range sh.Grids {
		if g.Name == x.Table {
			return g.Span
		}
	}
	switch {
	case x.Kind == approval.OfLimit && len(sh.Limits) > 0:
		return sh.Limits[0].Span
	case x.Kind == approval.OfCaution && len(sh.Cautions) > 0:
		return sh.Cautions[0].Span
	case x.Kind == approval.OfStep && len(sh.Steps) > 0:
		return sh.Steps[0].Span
	}
	return sh.Control.Span
}
