package page

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	statistics "labsite/recipes/control"
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Chart draws figures over a given, and measured points.
type Chart struct {
	Name    string
	Caption Prose
	X       *Given
	Y       []*Figure
	Lines   *Run
	Points  *Points
	// Limits judge the points; nil if they are not judged.
	Limits *ChartLimits
	Span   source.Span
}

// ChartLimits say what measured points are judged by: limits worked out from the readings
// themselves, or the lab's own aim with its action and control limits.
type ChartLimits struct {
	// Method is "individuals" (single readings, with limits by their moving ranges) or "ewma"
	// (weighted averages); empty if the lab's own limits are named.
	Method string
	// Baseline is how many of the first readings a method works its limits out from; later
	// readings do not change them.
	Baseline int
	// Aim, Action and Control name givens or figures: the value aimed at, and how far a
	// reading may lie from it.
	Aim, Action, Control string
	ActionAt             source.Span // of the name of the action limit
}

// Points are measured: a column against another of the same file.
type Points struct{ X, Y *Column }

// Live tells that points depend on values that can be set.
func (p *Points) Live() bool { return p.X.Live || p.Y.Live }

// Count is how many points there are.
func (p *Points) Count() int { return len(p.Y.Lines) }

// PointShows says how the axes show the values of a chart's points.
func (c *Chart) PointShows() (x, y quantity.Show) {
	y = quantity.DefaultShow(c.Points.Y.Kind, c.Points.Y.Unit)
	if len(c.Y) > 0 {
		y = c.Y[0].Show
	} else if c.Points.Y.Kind == quantity.Number {
		y = quantity.Value{Kind: quantity.Number}.AsWritten()
	}
	switch kind := c.Points.X.Kind; {
	case c.X != nil:
		x = c.X.Value.AsWritten()
	case kind == quantity.Text:
		x = quantity.DefaultShow(quantity.Date, quantity.Unit{})
	default:
		x = quantity.DefaultShow(kind, c.Points.X.Unit)
	}
	return x, y
}

// InTime lists the rows in the order of X, which is time on a chart that is judged; rows with
// the same X stay in the order of the file.
func (p *Points) InTime(f *formula.Frame) []int {
	rows := make([]int, p.Count())
	for i := range rows {
		rows[i] = i
	}
	slices.SortStableFunc(rows, func(a, b int) int {
		if p.X.Kind.Sort == quantity.Word { // ISO dates, which sort as texts in order of time
			return strings.Compare(p.X.Values[a].Text, p.X.Values[b].Text)
		}
		return cmp.Compare(p.X.Cell(f, a), p.X.Cell(f, b))
	})
	return rows
}

func (d *decoder) charts(v *value) {
	d.named(v, "charts", "a chart", func(k, item *value) {
		c := &Chart{Name: k.Text, Span: k.Span}
		d.sheet.Charts = append(d.sheet.Charts, c)
		d.later = append(d.later, func() { d.chart(c, item) })
	})
}

func (d *decoder) chart(c *Chart, v *value) {
	d.known(v, underFront("charts", "x"))
	c.Caption = d.caption(v, c.Span)
	if p := d.mapping(v.Get("points"), "points"); p != nil {
		d.known(p, underFront("charts", "x", "points"))
		x, y := d.pointColumn(p, "x"), d.pointColumn(p, "y")
		switch {
		case x == nil || y == nil:
		case x.Table != y.Table:
			d.report(source.ColumnsOfTwoFiles(x.File, y.File), p.Span)
		case y.Kind.Sort == quantity.Word:
			d.report(source.WantsKind("points", "a column of quantities", "a column of texts"), p.Get("y").Span)
		case x.Kind.Sort == quantity.Word && !d.datesAsTexts(x):
			if !x.meantAsDates() {
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
	}
	d.baseline(c, v)
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

// baseline decodes how many readings a chart's limits are worked out from.
func (d *decoder) baseline(c *Chart, v *value) {
	b := v.Get("baseline")
	if b == nil {
		return
	}
	if l := v.Get("limits"); l == nil || l.Shape != scalar {
		d.report(source.BaselineWithoutMethod(), b.Span)
		return
	}
	text := d.text(b, "baseline")
	n, err := strconv.Atoi(text)
	switch {
	case err != nil || n < 1:
		d.report(source.WantsWholeNumber("baseline"), b.Span)
	case n < statistics.LeastBaseline:
		d.report(source.FewBaseline(text, statistics.LeastBaseline), b.Span)
	case c.Limits != nil:
		c.Limits.Baseline = n
	}
}

func (d *decoder) chartLimits(v *value) *ChartLimits {
	if v.Shape == scalar {
		switch m := d.text(v, "limits"); m {
		case "individuals", "ewma":
			return &ChartLimits{Method: m, Baseline: statistics.LeastBaseline}
		default:
			d.report(source.NotOneOf("limits", m, []string{"individuals", "ewma"}), v.Span)
			return nil
		}
	}
	if v = d.mapping(v, "limits"); v == nil {
		return nil
	}
	d.known(v, underFront("charts", "x", "limits"))
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
	l.ActionAt = v.Get("action").Span
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
