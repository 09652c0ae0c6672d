package page

import (
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// MostCells is how many cells a table may have.
const MostCells = 400

// Grid is a table of figures over one or two given values, or a weighing list.
type Grid struct {
	Name    string
	Caption Prose
	Rows    *Run
	Columns *Run
	Cells   []*Figure
	// List and Blanks make it a weighing list instead.
	List   []*Figure
	Blanks []string
	// Of makes it the rows of a data file instead.
	Of   *RowTable
	Span source.Span
}

// Run is a given and the values that it runs through.
type Run struct {
	Given  *Given
	Values []quantity.Value
}

func (d *decoder) tables(v *value) {
	d.named(v, "tables", "a table", func(k, item *value) {
		g := &Grid{Name: k.Text, Span: k.Span}
		d.sheet.Grids = append(d.sheet.Grids, g)
		d.later = append(d.later, func() { d.grid(g, item) })
	})
}

func (d *decoder) grid(g *Grid, v *value) {
	d.known(v, underFront("tables", "x"))
	g.Caption = d.caption(v, g.Span)
	if of := v.Get("of"); of != nil {
		d.rowTable(g, v, of)
		return
	}
	for _, key := range []string{"where", "order", "totals"} {
		if x := v.Get(key); x != nil {
			d.report(source.RowsWithoutOf(key), x.Span)
		}
	}
	if list := v.Get("list"); list != nil {
		for _, key := range []string{"rows", "columns", "cell"} {
			if x := v.Get(key); x != nil {
				d.report(source.ListAndGrid(key), x.Span)
			}
		}
		g.List = d.figureList(list, "list")
		for _, b := range d.items(v.Get("blanks"), "blanks") {
			g.Blanks = append(g.Blanks, d.text(b, "blanks"))
		}
		return
	}
	if x := v.Get("blanks"); x != nil {
		d.report(source.BlanksWithout(), x.Span)
	}
	if x := d.required(v, "rows", "rows: and a given, such as {bath: 18 °C .. 24 °C by 1 °C}", g.Span); x != nil {
		g.Rows = d.run(x, "rows")
	}
	if x := v.Get("columns"); x != nil {
		g.Columns = d.run(x, "columns")
	}
	if x := d.required(v, "cell", "cell: and a figure", g.Span); x != nil {
		g.Cells = d.figureList(x, "cell")
	}
	cells := len(g.Cells)
	for _, r := range []*Run{g.Rows, g.Columns} {
		if r != nil {
			cells *= len(r.Values)
		}
	}
	if cells > MostCells {
		d.report(source.TooManyCells(cells, MostCells), g.Span)
		g.Rows, g.Columns = nil, nil
	}
	if g.Rows != nil && g.Columns != nil && g.Rows.Given == g.Columns.Given {
		d.report(source.OneGivenTwice(g.Rows.Given.Name), g.Span)
		g.Columns = nil
	}
}

func (d *decoder) caption(v *value, at source.Span) Prose {
	x := d.required(v, "caption", "caption: and what it shows", at)
	if x == nil {
		return Prose{Place: func(int, int) source.Span { return at }}
	}
	d.text(x, "caption")
	return prose(x)
}

// figureList reads one figure's name or a list of them.
func (d *decoder) figureList(v *value, key string) []*Figure {
	items := []*value{v}
	if v.Shape == list {
		items = v.Items
	}
	var out []*Figure
	for _, item := range items {
		name := d.text(item, key)
		f := d.sheet.figs[name]
		if f == nil {
			var names []string
			for _, x := range d.sheet.Figures {
				names = append(names, x.Name)
			}
			d.missing(name, source.UnknownFigure(name, source.Nearest(name, names)), item.Span)
			continue
		}
		out = append(out, f)
	}
	return out
}

// run reads a given and its values: {bath: 18 °C .. 24 °C by 1 °C}, {strength: [1+50,
// 1+100]}, or the given's name alone for all its steps.
func (d *decoder) run(v *value, key string) *Run {
	name, values := v, (*value)(nil)
	if v.Shape == mapping {
		if len(v.Keys) != 1 {
			d.report(source.WantsShape(key, "one given and its values"), v.Span)
			return nil
		}
		name, values = v.Keys[0], v.Items[0]
	} else if v.Shape != scalar {
		d.report(source.WantsShape(key, "a given, or a given and its values"), v.Span)
		return nil
	}
	n := strings.TrimSpace(name.Text)
	g := d.sheet.given[n]
	if g == nil {
		d.missing(n, source.UnknownGiven(n, source.Nearest(n, d.sheet.givenNames())), name.Span)
		return nil
	}
	r := &Run{Given: g}
	if g.Kind.Sort == quantity.Unknown {
		return nil
	}
	if values == nil || values.Shape == nothing {
		r.Values = g.steps()
		if r.Values == nil {
			if !g.unsure {
				d.report(source.NoSteps(n), name.Span)
			}
			return nil
		}
		return r
	}
	if values.Shape == scalar && quantity.IsRange(values.Text) {
		return d.rangeRun(r, values)
	}
	items := []*value{values}
	if values.Shape == list {
		items = values.Items
	}
	for _, item := range items {
		text := d.text(item, key)
		base, t := g.Set(text)
		if t != nil {
			if !g.excused(t) {
				d.troubleIn(t, item, text)
			}
			return nil
		}
		q := quantity.Value{Kind: g.Kind, Base: base, Text: text}
		if parsed, t := quantity.Parse(text); t == nil {
			q = parsed
			q.Base = base
		}
		if g.Kind == quantity.Date || g.Kind.Sort == quantity.YesNo { // true and false are shown as yes and no
			q.Text = g.Show.Format(base).Text
		}
		r.Values = append(r.Values, q)
	}
	return r
}

func (d *decoder) rangeRun(r *Run, v *value) *Run {
	g := r.Given
	rng, t := quantity.ParseRange(v.Text)
	if t != nil {
		d.report(t.Problem, v.Place(t.Start, t.End))
		return nil
	}
	if rng.From.Kind != g.Kind {
		d.report(source.KindsDiffer("the given and its values", g.Kind.Name(), rng.From.Kind.Name()), v.Span)
		return nil
	}
	step := 0.0
	switch {
	case rng.HasStep:
		step = rng.By.Base
	case g.Step != nil:
		step = g.Step.Base
	case g.Whole:
		step = 1
	default:
		if !g.unsure {
			d.report(source.NoSteps(g.Name), v.Span)
		}
		return nil
	}
	if (rng.To.Base-rng.From.Base)/step > MostCells {
		d.report(source.TooManyCells(int(min(1e9, (rng.To.Base-rng.From.Base)/step)), MostCells), v.Span)
		return nil
	}
	by := g.Step
	if rng.HasStep {
		by = &rng.By
	}
	n := int(quantity.Below((rng.To.Base - rng.From.Base) / step))
	for i := range n + 1 {
		base := rng.From.Base + float64(i)*step
		q := quantity.Value{Kind: g.Kind, Base: base, Unit: rng.From.Unit, Form: rng.From.Form, Text: stepText(rng.From, by, base)}
		if _, t := g.hold(q); t != nil {
			if !g.excused(t) {
				d.report(t.Problem, v.Span)
			}
			return nil
		}
		r.Values = append(r.Values, q)
	}
	return r
}
