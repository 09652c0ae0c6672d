package formula

import (
	"math"
	"math/rand/v2"
	"testing"

	"labsite/recipes/quantity"
)

// boxes are spans by slot.
type boxes []Span

func (b boxes) Of(n *Node) Span       { return n.Span(b) }
func (b boxes) Slot(slot int) Span    { return b[slot] }
func (b boxes) Bind(slot int, s Span) { b[slot] = s }

// IEEE 1788-2015, clause 10 (from memory): what is empty stays empty, what is unbounded stays
// unbounded, and so is a quotient by a span that holds zero.
func TestSpansByTheStandard(t *testing.T) {
	inf := math.Inf(1)
	all := Everything
	op := func(sign string) *Operation { return bySign[sign] }
	fn := func(name string) *Operation { return byName[name] }
	between := func(a, b float64) Span { return Span{Low: a, High: b} }
	for _, c := range []struct {
		op   *Operation
		args []Span
		want Span
	}{
		{op("/"), []Span{between(1, 2), between(0, 1)}, between(1, inf)},
		{op("/"), []Span{between(1, 2), between(-1, 0)}, between(-inf, -1)},
		{op("/"), []Span{between(-2, -1), between(0, 2)}, between(-inf, -0.5)},
		{op("/"), []Span{between(1, 2), between(-1, 1)}, all},
		{op("/"), []Span{between(1, 2), between(0, 0)}, Few()},
		{op("/"), []Span{between(0, 0), between(0, 1)}, between(0, 0)},
		{op("/"), []Span{Few(), between(1, 2)}, Few()},
		{op("*"), []Span{between(0, 0), all}, between(0, 0)},
		{op("*"), []Span{between(-1, 2), between(3, inf)}, all},
		{op("+"), []Span{between(1, inf), between(-3, 2)}, between(-2, inf)},
		{op("-"), []Span{all, between(1, 2)}, all},
		{op("**"), []Span{between(-2, 3), Few(2)}, between(0, 9)},
		{op("**"), []Span{between(-3, -2), Few(2)}, between(4, 9)},
		{op("**"), []Span{between(-2, 3), Few(3)}, between(-8, 27)},
		{op("**"), []Span{between(0, 4), Few(0.5)}, between(0, 2)},
		{op("**"), []Span{between(2, 4), Few(-1)}, between(0.25, 0.5)},
		{op("**"), []Span{between(0, 4), Few(-1)}, between(0.25, inf)},
		{fn("sqrt"), []Span{between(-1, 4)}, between(0, 2)},
		{fn("sqrt"), []Span{between(-4, -1)}, Few()},
		{fn("log"), []Span{between(0, 1)}, between(-inf, 0)},
		{fn("log"), []Span{between(-2, -1)}, Few()},
		{fn("exp"), []Span{all}, between(0, inf)},
		{fn("abs"), []Span{between(-3, 2)}, between(0, 3)},
		{fn("floor"), []Span{between(-1.5, 2.5)}, between(-2, 2)},
	} {
		n := &Node{Op: c.op}
		for i := range c.args {
			n.Args = append(n.Args, &Node{Op: Var, Slot: i})
		}
		got := n.Span(boxes(c.args))
		near := func(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-11*math.Abs(b) }
		if got.Empty() != c.want.Empty() || !got.Empty() && (!near(got.Low, c.want.Low) || !near(got.High, c.want.High)) {
			t.Errorf("%s of %v is %v .. %v, want %v .. %v", c.op.Form, c.args, got.Low, got.High, c.want.Low, c.want.High)
		}
		if !c.want.Empty() && (got.Low > c.want.Low || got.High < c.want.High) {
			t.Errorf("%s of %v leaves out an end of %v .. %v", c.op.Form, c.args, c.want.Low, c.want.High)
		}
	}
}

// Whatever an operation comes to lies in its span, for every entry.
func TestSpansEnclose(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	value := func() float64 {
		return []float64{0, 1, -1, 2, 0.5, random.NormFloat64() * 3, math.Round(random.NormFloat64() * 4), random.Float64()}[random.IntN(8)]
	}
	for _, o := range Operations() {
		count := max(o.operands.least, 1)
		if o.operands.column || o == Num || o == Var || o == Let || o == Guard {
			continue // the data's own: see TestInterpolationSpans
		}
		if o == If {
			count = 3
		}
		yesNo := o.operands.each != nil && o.Decides != Compares && o.Decides != Computes
		for range 3000 {
			n := &Node{Op: o}
			box := make(boxes, count)
			for i := range count {
				a, b := value(), value()
				box[i] = Span{Low: min(a, b), High: max(a, b)}
				if random.IntN(3) == 0 {
					box[i] = Few(a, b)
				}
				if yesNo || o == If && i == 0 {
					box[i] = Few([][]float64{{0}, {1}, {0, 1}}[random.IntN(3)]...)
				}
				n.Args = append(n.Args, &Node{Op: Var, Slot: i})
			}
			n.Value = 0
			span := n.Span(box)
			f := Frame{V: make([]float64, count)}
			for range 6 {
				for i, s := range box {
					if few := s.Values(); few != nil {
						f.V[i] = few[random.IntN(len(few))]
					} else {
						f.V[i] = s.Low + random.Float64()*(s.High-s.Low)
					}
				}
				f.Reset()
				v := n.Eval(&f)
				if f.Fault != None || math.IsNaN(v) || math.IsInf(v, 0) {
					continue
				}
				if v < span.Low || v > span.High || span.Values() != nil && !span.Holds(v) {
					t.Fatalf("%s of %v in %v is %v, outside %v .. %v", o.Form, f.V, box, v, span.Low, span.High)
				}
			}
		}
	}
}

// A slope is what the result changes by, for a small change of an operand, where it does not
// jump. Every entry has slopes, or is listed here with the reason why they are not known.
func TestSlopes(t *testing.T) {
	unknown := map[string]string{}
	random := rand.New(rand.NewPCG(3, 3))
	for _, o := range Operations() {
		if o.slopes == nil {
			if unknown[o.Form] == "" {
				t.Errorf("%s has no slopes: an operation without them is left out of proofs and of uncertainties; flat says that the result only jumps", o.Form)
			}
			continue
		}
		if o.operands.column || o == Num || o == Var || o == Let || o == Guard || o.Decides != Computes || o.Jumps {
			continue
		}
		for range 300 {
			n := &Node{Op: o}
			f := Frame{V: make([]float64, max(o.operands.least, 1))}
			for i := range f.V {
				f.V[i] = 0.2 + 3*random.Float64()
				n.Args = append(n.Args, &Node{Op: Var, Slot: i})
			}
			slopes, _ := n.Slopes()
			for i := range f.V {
				at := f.V[i]
				const step = 1e-6
				f.V[i] = at + step
				high := n.Eval(&f)
				f.V[i] = at - step
				low := n.Eval(&f)
				f.V[i] = at
				got := 0.0
				if slopes[i] != nil {
					got = slopes[i].Eval(&f)
				}
				if want := (high - low) / (2 * step); math.Abs(got-want) > 1e-4*max(1, math.Abs(want)) {
					t.Fatalf("the slope of %s for operand %d at %v is %v, want %v", o.Form, i+1, f.V, got, want)
				}
			}
		}
	}
}

// An interpolation lies in its span, whose ends it reaches, and its slope is that of the piece.
func TestInterpolationSpans(t *testing.T) {
	column := func(name string, cells ...float64) Column {
		return Column{File: "t.csv", Name: name, Kind: quantity.Number, Cells: cells}
	}
	for _, name := range []string{"interpolate", "interpolate_log"} {
		n := &Node{Op: byName[name], Args: []*Node{{Op: Var}}, Data: &Search{Result: column("y", 8, 1, 5, 2), Keys: []Column{column("x", 4, 1, 3, 2)}}}
		slopes, _ := n.Slopes()
		for _, box := range []Span{{Low: 1, High: 4}, {Low: 1.2, High: 1.7}, {Low: 1.5, High: 3.5}, {Low: -5, High: 2.5}, {Low: 2, High: 2}} {
			span, slope := n.Span(boxes{box}), slopes[0].Span(boxes{box})
			least, most := math.Inf(1), math.Inf(-1)
			for i := range 1001 {
				f := Frame{V: []float64{max(1, box.Low) + (min(4, box.High)-max(1, box.Low))*float64(i)/1000}}
				v, s := n.Eval(&f), slopes[0].Eval(&f)
				least, most = min(least, v), max(most, v)
				if v < span.Low || v > span.High || s < slope.Low-1e-12 || s > slope.High+1e-12 {
					t.Fatalf("%s at %v is %v with slope %v, outside %v and %v", name, f.V, v, s, span, slope)
				}
			}
			if span.High-most > 1e-9 || least-span.Low > 1e-9 {
				t.Errorf("%s over %v: %v .. %v, and it reaches %v .. %v alone", name, box, span.Low, span.High, least, most)
			}
		}
		if s := n.Span(boxes{{Low: 5, High: 6}}); !s.Empty() {
			t.Errorf("beyond its points %s is %v", name, s)
		}
	}
}
