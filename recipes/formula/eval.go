package formula

import (
	"math"

	"labsite/recipes/quantity"
)

// FaultKind is why a formula gave no number.
type FaultKind uint8

const (
	// None says that all is well.
	None FaultKind = iota
	// NotFinite is a division by nothing, an overflow, a root of less than nothing. It
	// is an error, never a number on a page.
	NotFinite
	// NoRow is a lookup that found none, Beyond an interpolation outside its points,
	// OutOfRange a function outside its valid range: the case is refused.
	NoRow
	Beyond
	OutOfRange
)

// Refuses tells whether the fault is a refusal rather than an error.
func (k FaultKind) Refuses() bool { return k >= NoRow }

// ZeroCelsius is 0 °C in kelvin: the SI Brochure, 9th edition, section 2.3.1 (from memory).
const ZeroCelsius = 273.15

// Frame holds the values of one case: givens, figures and lets by slot, in base units.
// It is reused from case to case; Fault is the first trouble met since Reset.
type Frame struct {
	V     []float64
	Fault FaultKind
	At    *Node
}

// Reset forgets the fault of the last case.
func (f *Frame) Reset() { f.Fault, f.At = None, nil }

func (f *Frame) fail(kind FaultKind, n *Node) float64 {
	if f.Fault == None {
		f.Fault, f.At = kind, n
	}
	return math.NaN()
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// Eval works the tree out over a frame. It allocates nothing. After a fault its result
// means nothing.
func (n *Node) Eval(f *Frame) float64 {
	switch n.Op {
	case Num:
		return n.Value
	case Var:
		return f.V[n.Slot]
	case Let:
		f.V[n.Slot] = n.Args[0].Eval(f)
		return n.Args[1].Eval(f)
	case If:
		if n.Args[0].Eval(f) != 0 {
			return n.Args[1].Eval(f)
		}
		return n.Args[2].Eval(f)
	case And:
		if n.Args[0].Eval(f) == 0 {
			return 0
		}
		return n.Args[1].Eval(f)
	case Or:
		if n.Args[0].Eval(f) != 0 {
			return 1
		}
		return n.Args[1].Eval(f)
	case Guard:
		if n.Args[0].Eval(f) == 0 {
			return f.fail(OutOfRange, n)
		}
		return n.Args[1].Eval(f)
	case Min, Max, Mean:
		return n.several(f)
	case Lookup, Interpolate, InterpolateLog:
		return n.search(f)
	}
	a := n.Args[0].Eval(f)
	if len(n.Args) == 1 {
		return n.finite(f, n.one(a))
	}
	b := n.Args[1].Eval(f)
	switch n.Op {
	case Eq:
		return yes(quantity.Equal(a, b))
	case Ne:
		return yes(!quantity.Equal(a, b))
	case Lt:
		return yes(quantity.Less(a, b))
	case Le:
		return yes(quantity.LessOrEqual(a, b))
	case Gt:
		return yes(quantity.Less(b, a))
	case Ge:
		return yes(quantity.LessOrEqual(b, a))
	case Clamp:
		return math.Min(math.Max(a, b), n.Args[2].Eval(f))
	}
	return n.finite(f, n.two(a, b))
}

func (n *Node) finite(f *Frame, v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return f.fail(NotFinite, n)
	}
	return v
}

func (n *Node) one(a float64) float64 {
	switch n.Op {
	case Not:
		return yes(a == 0)
	case Neg:
		return -a
	case Abs:
		return math.Abs(a)
	case Sqrt:
		return math.Sqrt(a)
	case Exp:
		return math.Exp(a)
	case Exp2, RatioOf:
		return math.Exp2(a)
	case Log:
		return math.Log(a)
	case Log2, StopsOf:
		return math.Log2(a)
	case Log10:
		return math.Log10(a)
	case Floor:
		return quantity.Below(a)
	case Ceil:
		return quantity.Above(a)
	case Kelvin:
		return a + ZeroCelsius
	}
	panic("formula: no such operation of one operand")
}

func (n *Node) two(a, b float64) float64 {
	switch n.Op {
	case Add:
		return a + b
	case Sub:
		return a - b
	case Mul:
		return a * b
	case Div:
		return a / b
	case Pow:
		return math.Pow(a, b)
	case Round:
		return n.Value + quantity.Nearest((a-n.Value)/b)*b
	case RoundUp:
		return n.Value + quantity.Above((a-n.Value)/b)*b
	case RoundDown:
		return n.Value + quantity.Below((a-n.Value)/b)*b
	case DilutionOf:
		return a / (a + b)
	}
	panic("formula: no such operation of two operands")
}

func (n *Node) several(f *Frame) float64 {
	r := n.Args[0].Eval(f)
	for _, a := range n.Args[1:] {
		v := a.Eval(f)
		switch n.Op {
		case Min:
			r = math.Min(r, v)
		case Max:
			r = math.Max(r, v)
		default:
			r += v
		}
	}
	if n.Op == Mean {
		r /= float64(len(n.Args))
	}
	return n.finite(f, r)
}

func (n *Node) search(f *Frame) float64 {
	var buffer [8]float64
	values := buffer[:0]
	for _, a := range n.Args {
		values = append(values, a.Eval(f))
	}
	if n.Op == Lookup {
		row := n.Data.find(values)
		if row < 0 {
			return f.fail(NoRow, n)
		}
		return n.Data.Result.Cells[row]
	}
	x := values[0]
	low, high, ok := n.Data.between(values)
	if !ok && low == high { // the further keys choose no row
		return f.fail(NoRow, n)
	}
	if !ok {
		return f.fail(Beyond, n)
	}
	xs, ys := n.Data.Keys[0].Cells, n.Data.Result.Cells
	if low == high {
		return ys[low]
	}
	if n.Op == Interpolate {
		return n.finite(f, ys[low]+(ys[high]-ys[low])*((x-xs[low])/(xs[high]-xs[low])))
	}
	share := (math.Log(x) - math.Log(xs[low])) / (math.Log(xs[high]) - math.Log(xs[low]))
	return n.finite(f, math.Exp(math.Log(ys[low])+(math.Log(ys[high])-math.Log(ys[low]))*share))
}
