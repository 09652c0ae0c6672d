package sheet

import (
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// MostCells is the bound of a table's cells.
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
	Span   source.Span
}

// Run is a given and the values that it runs through.
type Run struct {
	Given  *Given
	Values []quantity.Value
}

// Chart draws figures over a given, and measured points.
type Chart struct {
	Name    string
	Caption Prose
	X       *Given
	Y       []*Figure
	Lines   *Run
	Points  *Points
	// Limits judge the points; nil where they are not judged.
	Limits *ChartLimits
	Span   source.Span
}

// ChartLimits say what measured points are held to: limits worked out from the readings
// themselves, or the shop's own aim with its action and control limits.
type ChartLimits struct {
	// Method is "individuals" (single readings and their moving ranges, with the run rules)
	// or "ewma" (weighted averages); empty where the shop's own limits are named.
	Method string
	// Aim, Action and Control name givens or figures: the value aimed at, and how far a
	// reading may lie from it.
	Aim, Action, Control string
	span                 source.Span // of the name of the action limit
}

// Points are measured: a column against another of the same file.
type Points struct{ X, Y *Column }

func (d *decoder) tables(v *value) {
	if v = d.mapping(v, "tables"); v == nil {
		return
	}
	for i, k := range v.Keys {
		if !d.claim(k) {
			continue
		}
		item := d.mapping(v.Items[i], "a table")
		if item == nil {
			continue
		}
		g := &Grid{Name: k.Text, Span: k.Span}
		d.sheet.Grids = append(d.sheet.Grids, g)
		d.later = append(d.later, func() { d.grid(g, item) })
	}
}

func (d *decoder) grid(g *Grid, v *value) {
	d.known(v, []string{"caption", "rows", "columns", "cell", "list", "blanks"})
	g.Caption = d.caption(v, g.Span)
	if list := v.Get("list"); list != nil {
		for _, key := range []string{"rows", "columns", "cell"} {
			if x := v.Get(key); x != nil {
				d.report(source.ListAndGrid(key), x.Span)
			}
		}
		g.List = d.figureList(list, "list")
		for _, b := range d.list0(v.Get("blanks"), "blanks") {
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

// steps are all values that a given takes in its steps, within its own range; nil where it
// has no steps.
func (g *Given) steps() []quantity.Value {
	if g.Kind == quantity.Yes {
		return []quantity.Value{{Kind: quantity.Yes, Base: 1, Text: "yes"}, {Kind: quantity.Yes, Text: "no"}}
	}
	if len(g.Choices) > 0 {
		return g.Choices
	}
	step := 0.0
	switch {
	case g.From == nil:
		return nil
	case g.Step != nil:
		step = g.Step.Base
	case g.Whole:
		step = 1
	default:
		return nil
	}
	if (g.To.Base-g.From.Base)/step > MostCases {
		return nil
	}
	var out []quantity.Value
	for _, base := range steps(g.From.Base, g.To.Base, step) {
		out = append(out, quantity.Value{Kind: g.Kind, Base: base, Unit: g.Value.Unit, Form: g.Value.Form, Text: stepText(g.Value, g.Step, base)})
	}
	return out
}

// stepText writes a value that steps lead to: in the fractions of the step (1/3 stop), as
// a duration where value and step are times of two units (2 min, by 90 s), and else as
// the value is written. Only what reads as the very value will do.
func stepText(first quantity.Value, step *quantity.Value, base float64) string {
	own := first.AsWritten()
	if step == nil {
		return own.Format(base).Text
	}
	if show, ok := stepped(first, step); ok {
		if text := show.Format(base).Text; readsAs(text, base) {
			return text
		}
	}
	return own.Format(base).Text
}

// stepped is the form of the values between steps, where it is not that of the first.
func stepped(first quantity.Value, step *quantity.Value) (quantity.Show, bool) {
	switch {
	case step.Kind == quantity.Stops && step.Form == quantity.Fraction:
		return step.AsWritten(), true
	case step.Kind == quantity.Time && step.Unit.Text != first.Unit.Text && first.Form != quantity.Fraction:
		return quantity.DefaultShow(quantity.Time, quantity.Unit{}), true
	}
	return quantity.Show{}, false
}

func (d *decoder) charts(v *value) {
	if v = d.mapping(v, "charts"); v == nil {
		return
	}
	for i, k := range v.Keys {
		if !d.claim(k) {
			continue
		}
		item := d.mapping(v.Items[i], "a chart")
		if item == nil {
			continue
		}
		c := &Chart{Name: k.Text, Span: k.Span}
		d.sheet.Charts = append(d.sheet.Charts, c)
		d.later = append(d.later, func() { d.chart(c, item) })
	}
}

func (d *decoder) chart(c *Chart, v *value) {
	d.known(v, []string{"caption", "x", "y", "lines", "points", "limits"})
	c.Caption = d.caption(v, c.Span)
	if p := d.mapping(v.Get("points"), "points"); p != nil {
		d.known(p, []string{"x", "y"})
		x, y := d.pointColumn(p, "x"), d.pointColumn(p, "y")
		switch {
		case x == nil || y == nil:
		case x.Table != y.Table:
			d.report(source.ColumnsOfTwoFiles(x.File, y.File), p.Span)
		case y.Kind.Sort == quantity.Word:
			d.report(source.WantsKind("points", "a column of quantities", "a column of texts"), p.Get("y").Span)
		case x.Kind.Sort == quantity.Word && !d.dates(x):
			if !x.likeDates() {
				d.report(source.WantsKind("points", "a column of quantities or dates", "a column of texts"), p.Get("x").Span)
			}
		default:
			c.Points = &Points{x, y}
		}
	}
	if l := v.Get("limits"); l != nil {
		c.Limits = d.chartLimits(l)
		if v.Get("points") == nil {
			d.report(source.LimitsWithoutPoints(), l.Span)
		}
		if c.Limits != nil && c.Limits.Method != "" && c.Points != nil && len(c.Points.Y.Values) < 2 {
			d.report(source.FewReadings(len(c.Points.Y.Values)), l.Span)
		}
	}
	if y := v.Get("y"); y != nil {
		c.Y = d.figureList(y, "y")
	} else if v.Get("points") == nil {
		d.report(source.MissingKey("y", "y: and a figure"), c.Span)
	}
	if x := v.Get("x"); x != nil {
		name := d.text(x, "x")
		if c.X = d.sheet.given[name]; c.X == nil {
			d.missing(name, source.UnknownGiven(name, source.Nearest(name, d.sheet.givenNames())), x.Span)
		} else if c.X.From == nil && c.X.Kind.Sort != quantity.Unknown {
			if !c.X.unsure {
				d.report(source.NoRange(name), x.Span)
			}
			c.X = nil
		}
	} else if len(c.Y) > 0 && c.Points == nil {
		d.report(source.MissingKey("x", "x: and a given with a range"), c.Span)
	}
	if l := v.Get("lines"); l != nil {
		c.Lines = d.run(l, "lines")
		if c.Lines != nil && c.Lines.Given == c.X {
			d.report(source.OneGivenTwice(c.X.Name), l.Span)
			c.Lines = nil
		}
	}
}

func (d *decoder) chartLimits(v *value) *ChartLimits {
	if v.Shape == scalar {
		switch m := d.text(v, "limits"); m {
		case "individuals", "ewma":
			return &ChartLimits{Method: m}
		default:
			d.report(source.NotOneOf("limits", m, []string{"individuals", "ewma"}), v.Span)
			return nil
		}
	}
	if v = d.mapping(v, "limits"); v == nil {
		return nil
	}
	d.known(v, []string{"aim", "action", "control"})
	name := func(key string) string {
		x := d.required(v, key, key+": and a given or a figure", v.Span)
		if x == nil {
			return ""
		}
		n := d.text(x, key)
		if d.sheet.given[n] == nil && d.sheet.figs[n] == nil {
			names := d.sheet.givenNames()
			for _, f := range d.sheet.Figures {
				names = append(names, f.Name)
			}
			d.missing(n, source.UnknownName(n, source.Nearest(n, names)), x.Span)
			return ""
		}
		return n
	}
	l := &ChartLimits{Aim: name("aim"), Action: name("action"), Control: name("control")}
	if l.Aim == "" || l.Action == "" || l.Control == "" {
		return nil
	}
	l.span = v.Get("action").Span
	return l
}

func (d *decoder) pointColumn(p *value, key string) *Column {
	v := d.required(p, key, key+": and a column such as log.date", p.Span)
	if v == nil {
		return nil
	}
	file, name, _ := strings.Cut(d.text(v, key), ".")
	data := d.sheet.dataNamed(file)
	if data == nil {
		var names []string
		for _, x := range d.sheet.Data {
			names = append(names, x.Name)
		}
		d.missing(file, source.UnknownData(file, source.Nearest(file, names)), v.Span)
		return nil
	}
	if data.Table == nil {
		return nil
	}
	c, ok := data.Table.Column(name)
	if !ok {
		d.report(source.UnknownColumn(file, name, source.Nearest(name, data.Table.Names())), v.Span)
		return nil
	}
	return c
}
