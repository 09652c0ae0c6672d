package write

import (
	"html/template"
	"math"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/chart"
	"labsite/render/work"
)

// Bounds of the samples of a chart's line: with fewer or more steps than these, steps are not used.
const (
	fewestSamples = 24
	mostSamples   = 160
)

// chart draws a chart at the page's case, in which the given along x and that of its lines run
// through their values.
func (p *pager) chart(c *page.Chart) template.HTML {
	caption := p.texts.Captions[c.Name]
	p.filler.place(caption)
	out := chart.Chart{ID: "Chart-" + c.Name, Caption: caption.Document.Plain()}
	if c.Lines != nil {
		out.By = work.LabelOf(c.Lines.Given.Label, c.Lines.Given.Name)
	}
	if c.X != nil {
		out.X = p.axisOf(work.LabelOf(c.X.Label, c.X.Name), c.X.Kind, c.X.Value.AsWritten())
		out.X.Low, out.X.High = onAxis(c.X.Kind, c.X.Value.Unit, c.X.From.Base), onAxis(c.X.Kind, c.X.Value.Unit, c.X.To.Base)
	}
	if len(c.Y) > 0 {
		f := c.Y[0]
		label := work.LabelOf(f.Label, f.Name)
		if len(c.Y) > 1 {
			label = ""
		}
		out.Y = p.axisOf(label, f.Kind, f.Show)
	}
	if c.X != nil {
		p.lines(c, &out)
	} else {
		for _, f := range c.Y {
			if !p.filler.run.Refused() {
				out.Limits = append(out.Limits, chart.Limit{Name: work.LabelOf(f.Label, f.Name), Kind: chart.Action,
					Y: onAxis(f.Kind, f.Show.Unit, p.filler.run.Frame.V[f.Slot])})
			}
		}
	}
	if c.Points != nil {
		p.points(c, &out)
	}
	return template.HTML(out.Figure())
}

// onAxis is a value as an axis takes it: times in seconds, dates in days, all else in its unit.
func onAxis(kind quantity.Kind, unit quantity.Unit, base float64) float64 {
	switch {
	case kind == quantity.Date:
		return base / quantity.DayLength
	case kind == quantity.Time || unit.Factor == 0:
		return base
	}
	return unit.Of(base)
}

func (p *pager) axisOf(label string, kind quantity.Kind, show quantity.Show) chart.Axis {
	a := chart.Axis{Label: label, Unit: show.Unit.Text}
	base := func(v float64) float64 {
		switch {
		case kind == quantity.Date:
			return quantity.OnDay(v * quantity.DayLength)
		case kind == quantity.Time || show.Unit.Factor == 0:
			return v
		}
		return show.Unit.Base(v)
	}
	a.Format = func(v float64) string { return show.Format(base(v)).Text }
	switch kind {
	case quantity.Time:
		a.Kind, a.Unit = chart.Duration, ""
	case quantity.Stops:
		a.Kind = chart.Stops
	case quantity.Date:
		a.Kind, a.Format = chart.Date, nil
	}
	if kind.Money == 1 && show.Unit.Decimals == 2 {
		a.Kind = chart.Money
	}
	// stops are read in thirds, even if they are shown in tenths
	if show.Step > 0 && kind != quantity.Stops {
		a.Least = show.Step
	}
	if show.Style == quantity.Added || show.Style == quantity.Engraved {
		a.Unit = ""
	}
	return a
}

// samples lists the values of x at which a line is worked out: its steps, if these are neither too
// few to look like a line nor too many.
func samples(g *page.Given) []float64 {
	low, high := g.From.Base, g.To.Base
	step := 0.0
	if g.Step != nil {
		step = g.Step.Base
	} else if g.Whole {
		step = 1
	}
	if step > 0 {
		if n := int(math.Round((high - low) / step)); n <= mostSamples && (n >= fewestSamples || g.Whole) {
			var out []float64
			for i := range n + 1 {
				out = append(out, math.Min(low+float64(i)*step, high))
			}
			return out
		}
	}
	const n = 96
	var out []float64
	for i := range n + 1 {
		x := low + (high-low)*float64(i)/n
		if g.Kind == quantity.Date {
			if x = quantity.OnDay(x); len(out) > 0 && x == out[len(out)-1] {
				continue
			}
		}
		out = append(out, x)
	}
	return out
}

func (p *pager) lines(c *page.Chart, out *chart.Chart) {
	own := p.filler.run
	xs := samples(c.X)
	type variant struct {
		name string
		set  func(*prove.Case)
	}
	variants := []variant{{"", func(*prove.Case) {}}}
	if c.Lines != nil {
		variants = nil
		for _, v := range c.Lines.Values {
			variants = append(variants, variant{v.Text, func(run *prove.Case) { run.Set(c.Lines.Given, v.Base) }})
		}
	}
	for _, f := range c.Y {
		for _, v := range variants {
			line := chart.Line{Name: lineName(c, f, v.name)}
			run := own.Copy()
			v.set(run)
			for _, x := range xs {
				run.Set(c.X, x)
				run.Work()
				ok := !run.Refused() && len(run.Failed) == 0 && !run.Missing(f.Slot)
				point := chart.Point{X: onAxis(c.X.Kind, c.X.Value.Unit, x), OK: ok}
				if ok {
					point.Y = onAxis(f.Kind, f.Show.Unit, run.Frame.V[f.Slot])
					point.Shown = run.Shown(f).Text
				}
				line.Points = append(line.Points, point)
			}
			out.Lines = append(out.Lines, line)
		}
	}
	if own.Refused() || len(c.Y) == 0 || own.Missing(c.X.Slot) || own.Missing(c.Y[0].Slot) {
		return
	}
	f := c.Y[0]
	out.Own = &chart.Point{OK: true, X: onAxis(c.X.Kind, c.X.Value.Unit, own.Frame.V[c.X.Slot]),
		Y: onAxis(f.Kind, f.Show.Unit, own.Frame.V[f.Slot]), Shown: own.Shown(f).Text}
}

func lineName(c *page.Chart, f *page.Figure, variant string) string {
	figure := work.LabelOf(f.Label, f.Name)
	switch {
	case variant == "":
		return figure
	case len(c.Y) == 1:
		return variant
	}
	return figure + ", " + variant
}

// points adds measured points.
func (p *pager) points(c *page.Chart, out *chart.Chart) {
	x, y := c.Points.X, c.Points.Y
	across, show := c.PointShows()
	if len(c.Y) == 0 {
		out.Y = p.axisOf(work.Words(y.Name), y.Kind, show)
	}
	if c.X == nil {
		if x.Kind == quantity.Text || x.Kind == quantity.Date {
			out.X = chart.Axis{Label: work.Words(x.Name), Kind: chart.Date}
		} else {
			out.X = p.axisOf(work.Words(x.Name), x.Kind, across)
		}
	}
	marks := chart.Marks{Name: "measured", Joined: c.X == nil}
	frame := &p.filler.run.Frame
	for i := range c.Points.Count() {
		cell := y.Cell(frame, i)
		point := chart.Point{OK: !math.IsNaN(cell), Y: onAxis(y.Kind, show.Unit, cell), Shown: y.Shown(frame, i).Text}
		switch {
		case x.Kind == quantity.Text:
			day, err := time.Parse(time.DateOnly, x.Values[i].Text)
			if err != nil {
				continue // only on a page with errors: all cells of such a column are dates
			}
			point.X = float64(day.Unix() / 86400)
		default:
			point.X = onAxis(x.Kind, across.Unit, x.Cell(frame, i))
		}
		marks.Points = append(marks.Points, point)
	}
	if c.Limits != nil {
		p.judge(c, func(v float64) float64 { return onAxis(y.Kind, show.Unit, v) }, &marks, out)
	}
	out.Marks = append(out.Marks, marks)
}
