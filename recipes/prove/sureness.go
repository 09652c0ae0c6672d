package prove

import (
	"math"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// How sure figures are, by JCGM 100: what a given value may be off by (within) is half the width
// of an even spread, so it is divided by √3; the contributions of several are added as squares,
// each times the figure's sensitivity to it. A given that is drawn on along several paths counts
// once: its contributions are added along all of them before they are squared. A rounding on the
// way is an even spread of one step.

// Propagation is what the uncertainties of a page's figures are worked out from: its formulas and
// those of the pages that it draws on, in the order in which they are worked out, with roundings
// taken out.
type Propagation struct {
	Sources []Source
	Steps   []Slope
	Figures []*page.Figure // those with a label that depend on a source

	windows map[int][]int // the slots that copy a slot
}

// Source is a value that may be off by as much as Half to either side: a given, on the page and in
// all parts that have it, or a rounding.
type Source struct {
	Label string
	Half  float64
	Slots []int // of the frame; none for a rounding
	// Rounding is the operation that rounds, in the sheet whose block begins at Base; its step is
	// Step, or one if that is nil.
	Rounding, Step *formula.Node
	Base           int
}

// Slope is a formula with its derivatives: by the names that it reads, and by its roundings.
type Slope struct {
	Slot int // where its value stands
	Base int // the block to which its names belong
	Node *formula.Node
	// By are the derivatives by each slot that it depends on, Own those by its roundings.
	By, Own []Derivative
	// Unknown says that a derivative is not known.
	Unknown bool
}

// Derivative is a formula's by a slot of the frame, or by a source.
type Derivative struct {
	Of   int
	Node *formula.Node
}

// NewPropagation finds what on a page depends on values that may be off; nil if nothing does.
func NewPropagation(s *page.Sheet) *Propagation {
	b := &propagationBuilder{sheet: s, moved: map[int]bool{}, shared: map[string]int{}, window: map[int]int{}}
	s.EachWindow(func(slot, from int) { b.window[slot] = from })
	b.out.windows = map[int][]int{}
	for slot := range b.window {
		b.out.windows[b.at(slot)] = append(b.out.windows[b.at(slot)], slot)
	}
	b.given(s, 0, nil)
	if s.Layout != nil {
		b.program(s, s.Layout.Top)
	} else {
		b.program(s, nil)
	}
	for _, f := range s.Figures {
		if f.Label != "" && b.moved[f.Slot] && f.Kind.Sort != quantity.YesNo && f.Kind.Sort != quantity.Word {
			b.out.Figures = append(b.out.Figures, f)
		}
	}
	if len(b.out.Figures) == 0 {
		return nil
	}
	return &b.out
}

type propagationBuilder struct {
	sheet  *page.Sheet
	out    Propagation
	moved  map[int]bool   // slots that depend on a source
	shared map[string]int // sources by page and given
	window map[int]int
}

// given adds the given values of a sheet as sources, except those that another page sets.
func (b *propagationBuilder) given(s *page.Sheet, base int, set map[*page.Given]bool) {
	for _, g := range s.Given {
		if g.Within == 0 || set[g] {
			continue
		}
		key := s.File.Path + "\x00" + g.Name
		i, known := b.shared[key]
		if !known {
			i = len(b.out.Sources)
			label := g.Label
			if label == "" {
				label = g.Name
			}
			b.shared[key], b.out.Sources = i, append(b.out.Sources, Source{Label: label, Half: g.Within})
		}
		b.out.Sources[i].Slots = append(b.out.Sources[i].Slots, base+g.Slot)
		b.moved[base+g.Slot] = true
	}
}

// program goes through a sheet in the order in which it is worked out.
func (b *propagationBuilder) program(s *page.Sheet, p *page.Part) {
	base := 0
	if p != nil {
		base = p.Base
	}
	for _, step := range s.Program {
		switch {
		case step.Figure != nil && step.Figure.Node != nil:
			b.step(step.Figure.Node, base, base+step.Figure.Slot)
		case step.Use != nil && p != nil && p.Owns(step.Use):
			to := p.Links[step.Use.Number]
			set := map[*page.Given]bool{}
			for _, x := range step.Use.At {
				if x.Node != nil && x.Given != nil {
					set[x.Given] = true
					b.step(x.Node, base, to.Base+x.Given.Slot)
				}
			}
			b.given(to.Sheet, to.Base, set)
			b.program(to.Sheet, to)
		}
	}
}

// at is the slot itself, or the one from which it is copied.
func (b *propagationBuilder) at(slot int) int {
	for {
		from, is := b.window[slot]
		if !is {
			return slot
		}
		slot = from
	}
}

// step adds a formula, if it depends on a source.
func (b *propagationBuilder) step(n *formula.Node, base, slot int) {
	var reads []int
	own := map[int]bool{}
	live := false
	n.Walk(func(n *formula.Node) bool {
		live = live || n.Data != nil && n.Data.Live() != nil
		if at := b.at(base + n.Slot); n.Op == formula.Var && b.moved[at] && !own[base+n.Slot] {
			own[base+n.Slot] = true
			reads = append(reads, base+n.Slot)
		}
		return true
	})
	if len(reads) == 0 {
		return
	}
	b.moved[slot] = true
	var roundings []int
	x := Slope{Slot: slot, Base: base, Unknown: live}
	x.Node = formula.Smoothed(n, func(r *formula.Node) int {
		source := Source{Label: "rounding", Rounding: r, Base: base}
		if len(r.Args) > 1 {
			source.Step = r.Args[1]
		}
		roundings = append(roundings, len(b.out.Sources))
		b.out.Sources = append(b.out.Sources, source)
		return len(b.out.Sources) - 1
	})
	for _, read := range reads {
		d, ok := formula.Derivative(x.Node, func(n *formula.Node) bool { return n.Op == formula.Var && base+n.Slot == read })
		if x.Unknown = x.Unknown || !ok; d != nil {
			x.By = append(x.By, Derivative{b.at(read), d})
		}
	}
	for _, k := range roundings {
		if d, ok := formula.Derivative(x.Node, func(n *formula.Node) bool { return formula.IsWobble(n, k) }); ok && d != nil {
			x.Own = append(x.Own, Derivative{k, d})
		}
	}
	b.out.Steps = append(b.out.Steps, x)
}

// Sureness is how sure a figure is.
type Sureness struct {
	Figure *page.Figure
	// Value is the figure, unrounded; Standard its standard uncertainty.
	Value, Standard float64
	// Most is the source that contributes most, and Share its share of the squares.
	Most  *Source
	Share float64
	// Straight says that the figure is near enough to a straight line over what its sources may be
	// off by. Otherwise, or if it is Unknown, no number is shown.
	Straight, Unknown bool
}

// Draws is how many draws test whether a straight line is near enough.
const Draws = 256

// At works out the uncertainties in a case that was worked out and does not refuse.
func (x *Propagation) At(c *Case) []Sureness {
	w := x.smoothed(c)
	grad := map[int][]float64{}
	for i, s := range x.Sources {
		for _, slot := range s.Slots {
			row := make([]float64, len(x.Sources))
			row[i] = 1
			grad[slot] = row
		}
	}
	unknown := map[int]bool{}
	w.work(x, nil)
	for _, st := range x.Steps {
		row := make([]float64, len(x.Sources))
		unknown[st.Slot] = st.Unknown
		add := func(n *formula.Node, of []float64, times int) {
			v, ok := w.value(n, st.Base)
			unknown[st.Slot] = unknown[st.Slot] || !ok
			for i, g := range of {
				row[i] += v * g
			}
			if of == nil {
				row[times] += v
			}
		}
		for _, d := range st.By {
			unknown[st.Slot] = unknown[st.Slot] || unknown[d.Of]
			add(d.Node, append([]float64{}, grad[d.Of]...), 0)
		}
		for _, d := range st.Own {
			add(d.Node, nil, d.Of)
		}
		grad[st.Slot] = row
	}
	var out []Sureness
	for _, f := range x.Figures {
		s := Sureness{Figure: f, Value: w.frame.V[f.Slot], Unknown: unknown[f.Slot] || math.IsNaN(w.frame.V[f.Slot])}
		square, largest := 0.0, 0.0
		for i, g := range grad[f.Slot] {
			u := g * w.half[i] / math.Sqrt(3)
			square += u * u
			if u*u > largest {
				largest, s.Most = u*u, &x.Sources[i]
			}
		}
		s.Standard = math.Sqrt(square)
		if square > 0 {
			s.Share = largest / square
		}
		s.Unknown = s.Unknown || math.IsNaN(s.Standard) || math.IsInf(s.Standard, 0)
		out = append(out, s)
	}
	w.straight(x, out)
	return out
}

// smoothedFrame is a frame in which smoothed formulas are worked out.
type smoothedFrame struct {
	frame formula.Frame
	own   []float64 // the values of the case
	half  []float64 // of each source
}

func (x *Propagation) smoothed(c *Case) *smoothedFrame {
	w := &smoothedFrame{own: append([]float64{}, c.Frame.V...), half: make([]float64, len(x.Sources))}
	w.frame.V = append([]float64{}, c.Frame.V...)
	w.frame.Wobble = make([]float64, len(x.Sources))
	for i, s := range x.Sources {
		w.half[i] = s.Half
		if s.Rounding != nil {
			w.half[i] = 0.5
			if s.Step != nil {
				step, ok := w.value(s.Step, s.Base)
				if w.half[i] = math.Abs(step) / 2; !ok {
					w.half[i] = math.NaN()
				}
			}
		}
	}
	return w
}

// value works out a tree of a sheet whose block begins at base.
func (w *smoothedFrame) value(n *formula.Node, base int) (float64, bool) {
	f := formula.Frame{V: w.frame.V[base:], Wobble: w.frame.Wobble}
	v := n.Eval(&f)
	return v, f.Fault == formula.None && !math.IsNaN(v) && !math.IsInf(v, 0)
}

// work works out the steps with each source off by a share of what it may be; nil means not off
// at all. A figure without a value becomes NaN, and so does what depends on it: it may wait for a
// reading, or lie beyond what was tested.
func (w *smoothedFrame) work(x *Propagation, shares []float64) {
	copy(w.frame.V, w.own)
	for i, s := range x.Sources {
		off := 0.0
		if shares != nil {
			off = shares[i] * w.half[i]
		}
		w.frame.Wobble[i] = 0
		if s.Rounding != nil {
			w.frame.Wobble[i] = off
		}
		for _, slot := range s.Slots {
			w.frame.V[slot] += off
			for _, taken := range x.windows[slot] {
				w.frame.V[taken] = w.frame.V[slot]
			}
		}
	}
	for _, st := range x.Steps {
		v, ok := w.value(st.Node, st.Base)
		if !ok {
			v = nan
		}
		w.frame.V[st.Slot] = v
		for _, slot := range x.windows[st.Slot] {
			w.frame.V[slot] = v
		}
	}
}

// straight draws from the spreads to find whether the straight line misleads, by a tenth of the
// uncertainty or more.
func (w *smoothedFrame) straight(x *Propagation, out []Sureness) {
	sums, squares := make([]float64, len(out)), make([]float64, len(out))
	counts := make([]float64, len(out))
	shares := make([]float64, len(x.Sources))
	for i := range Draws {
		for k := range shares {
			shares[k] = 2*halton(i+1, k) - 1
		}
		w.work(x, shares)
		for j, s := range out {
			d := w.frame.V[s.Figure.Slot] - s.Value
			if math.IsNaN(d) {
				continue // beyond what was tested
			}
			counts[j]++
			sums[j], squares[j] = sums[j]+d, squares[j]+d*d
		}
	}
	for j := range out {
		s, count := &out[j], counts[j]
		if count < Draws/2 || s.Unknown {
			s.Unknown = true
			continue
		}
		mean := sums[j] / count
		spread := math.Sqrt(max(0, squares[j]/count-mean*mean))
		s.Straight = math.Abs(spread-s.Standard) < 0.1*s.Standard && math.Abs(mean) < 0.1*s.Standard || s.Standard == 0
	}
}
