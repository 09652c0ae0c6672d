package formula

import (
	"math"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Rounding to steps and to whole numbers. A quotient that is nearly whole or half counts as
// that: see quantity.Nearest.
var rounding = []*Operation{
	{
		Name: "round", Form: "round(x, step)", Gives: "the nearest multiple of a step, halves away from zero",
		Example:  Example{"round(0.15, 0.1)", "0.2"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{1}},
		operands: quantities(2, 2), kinds: stepped,
		work:   roundTo(quantity.Nearest),
		span:   roundedSpan(quantity.Nearest),
		slopes: steady(1, 0), Jumps: true,
		linear: rounded(-0.5, 0.5),
		Steps:  true,
		script: roundScript,
		helper: &Helper{"r", "(a, b, zero = 0) => zero + nearest((a - zero) / b) * b"},
	},
	{
		Name: "round_up", Form: "round_up(x, step)", Gives: "the next multiple of a step that is not less",
		Example:  Example{"round_up(4.91 ml, 0.1 ml)", "5 ml"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{1}},
		operands: quantities(2, 2), kinds: stepped,
		work:   roundTo(quantity.Above),
		span:   roundedSpan(quantity.Above),
		slopes: steady(1, 0), Jumps: true,
		linear: rounded(0, 1),
		Steps:  true,
		script: roundScript,
		helper: &Helper{"u", "(a, b, zero = 0) => zero + above((a - zero) / b) * b"},
	},
	{
		Name: "round_down", Form: "round_down(x, step)", Gives: "the next multiple of a step that is not more",
		Example:  Example{"round_down(4.99 ml, 0.1 ml)", "4.9 ml"},
		Tested:   true,
		Pole:     &Pole{Operands: []int{1}},
		operands: quantities(2, 2), kinds: stepped,
		work:   roundTo(quantity.Below),
		span:   roundedSpan(quantity.Below),
		slopes: steady(1, 0), Jumps: true,
		linear: rounded(-1, 0),
		Steps:  true,
		script: roundScript,
		helper: &Helper{"d", "(a, b, zero = 0) => zero + below((a - zero) / b) * b"},
	},
	{
		Name: "floor", Form: "floor(x)", Gives: "the next whole number that is not more",
		Example:  Example{"floor(15 ml / 3 ml)", "5"},
		Tested:   true,
		operands: quantities(1, 1), kinds: plainNumber,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, quantity.Below(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(math.Inf(-1), quantity.Below) }),
		slopes: steady(1), Jumps: true,
		linear: wholes(-1, 0),
		Steps:  true,
		script: text("{help}({1})"), helper: &Helper{"g", "below"},
	},
	{
		Name: "ceil", Form: "ceil(x)", Gives: "the next whole number that is not less",
		Example:  Example{"ceil(0.3 / 0.1)", "3"},
		Tested:   true,
		operands: quantities(1, 1), kinds: plainNumber,
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, quantity.Above(n.Args[0].Eval(f))) },
		span:   spanned(func(x Span) Span { return x.rising(math.Inf(-1), quantity.Above) }),
		slopes: steady(1), Jumps: true,
		linear: wholes(0, 1),
		Steps:  true,
		script: text("{help}({1})"), helper: &Helper{"c", "above"},
	},
}

// stepped infers round(x, step) and the like. Points round from the zero of the scale that
// the step is in, which is kept in Value.
func stepped(in *inference, n *Node) *Node {
	x, step := n.Args[0], n.Args[1]
	if x.Kind == quantity.Date {
		return in.fail(source.DateRounded(), n.Start, n.End)
	}
	if step.Kind == quantity.Scale && step.Op == Num && step.Unit != nil {
		u := quantity.Difference(*step.Unit)
		step = &Node{Op: Num, Kind: quantity.Degree, Value: step.Value - step.Unit.Zero, Unit: &u, Start: step.Start, End: step.End}
		n.Args = []*Node{x, step}
	}
	if step.Kind != x.Kind.Difference() {
		return in.fail(source.WantsKind("the step in "+n.Op.Form, x.Kind.Difference().Name(), step.KindName()), step.Start, step.End)
	}
	if step.Op == Num && step.Value <= 0 {
		return in.fail(source.StepNotPositive(), step.Start, step.End)
	}
	n.Kind = x.Kind
	if x.Kind == quantity.Scale {
		if u, ok := step.FirstUnit(); ok && u.Text == "Δ°F" {
			f, _ := quantity.Lookup("°F")
			n.Value = f.Zero
		}
	}
	return n
}

// roundTo counts steps from Value.
func roundTo(whole func(float64) float64) func(*Node, *Frame) float64 {
	return func(n *Node, f *Frame) float64 {
		x, step := n.Args[0].Eval(f), n.Args[1].Eval(f)
		return n.finite(f, n.Value+whole((x-n.Value)/step)*step)
	}
}

func roundScript(w Writer, n *Node, _ func(*Node) string) string {
	list := values(w, n, ",")
	if n.Value != 0 {
		list += "," + w.Number(n.Value)
	}
	return w.Help(n.Op.helper) + "(" + list + ")"
}

// roundedSpan is a span rounded to steps: with one step, rounding never falls where its operand
// rises; with several no value moves further than the largest.
func roundedSpan(whole func(float64) float64) func(Spans, *Node) Span {
	return func(s Spans, n *Node) Span {
		x, step := s.Of(n.Args[0]), s.Of(n.Args[1])
		if x.Empty() || step.Empty() {
			return Few()
		}
		if size := step.Low; size > 0 && size == step.High {
			to := func(v float64) float64 { return n.Value + whole((v-n.Value)/size)*size }
			if x.few != nil {
				return x.each(to)
			}
			return Between(to(x.Low), to(x.High))
		}
		size := max(math.Abs(step.Low), math.Abs(step.High))
		return Between(x.Low-size, x.High+size)
	}
}

// rounded is a rounding to one step as a line: what it adds lies between two shares of the
// step, and a hair beyond, since what is nearly whole counts as whole.
func rounded(low, high float64) func(*Node, func(int) (float64, bool)) (Line, bool) {
	return func(_ *Node, constant func(i int) (float64, bool)) (Line, bool) {
		step, ok := constant(1)
		if !ok || !(step > 0) {
			return Line{}, false
		}
		return Line{Times: []float64{1, 0}, Plus: Between((low-2e-9)*step, (high+2e-9)*step), Loose: true}, true
	}
}

// wholes is a rounding to whole numbers as a line. What counts as whole is within 1e-9 of it,
// however large.
func wholes(low, high float64) func(*Node, func(int) (float64, bool)) (Line, bool) {
	return func(*Node, func(i int) (float64, bool)) (Line, bool) {
		return Line{Times: []float64{1}, Plus: Between(low-2e-9, high+2e-9), Loose: true}, true
	}
}
