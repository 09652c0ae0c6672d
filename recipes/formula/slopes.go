package formula

// Slopes are the partial derivatives of a node, one for each operand, nil if the result does
// not depend on it. known is false if one is unknown. They are trees over the same frame, so
// that they are worked out, enclosed and written as scripts like any formula. They hold only
// between jumps (see Operation.Jumps). Columns that depend on values which can be set are not
// operands, so the slopes of a result that depends on their cells are unknown.
func (n *Node) Slopes() (slopes []*Node, known bool) {
	if n.Op.slopes == nil || n.Data != nil && n.Data.Live() != nil {
		return nil, false
	}
	return n.Op.slopes(n), true
}

// Line is an operation as a sum: each operand times a constant, plus something.
type Line struct {
	Times []float64
	Plus  Span
	// Loose tells that what is added may be anything within Plus, from case to case.
	Loose bool
}

// Line gives a node as a linear function of its operands, if it is one; constant gives the value
// of an operand that has only one.
func (n *Node) Line(constant func(i int) (float64, bool)) (Line, bool) {
	if n.Op.linear == nil {
		return Line{}, false
	}
	return n.Op.linear(n, constant)
}

// flat are the slopes of a result that follows no operand, or only in jumps.
func flat(n *Node) []*Node { return make([]*Node, len(n.Args)) }

// steady are slopes that are the same everywhere.
func steady(times ...float64) func(*Node) []*Node {
	return func(*Node) []*Node {
		out := make([]*Node, len(times))
		for i, t := range times {
			if t != 0 {
				out[i] = literal(t)
			}
		}
		return out
	}
}

// curved is the slope of a function of one operand, from its value and its operand.
func curved(slope func(n, x *Node) *Node) func(*Node) []*Node {
	return func(n *Node) []*Node { return []*Node{slope(n, n.Args[0])} }
}

// summed is a sum of all operands, each times a constant.
func summed(times ...float64) func(*Node, func(int) (float64, bool)) (Line, bool) {
	return func(*Node, func(int) (float64, bool)) (Line, bool) { return Line{Times: times}, true }
}

// shares are what each of n values contributes to their mean.
func shares(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1 / float64(n)
	}
	return out
}

// extremes are the slopes of min and max: 1 for the first operand that is the smallest or the
// largest, 0 for the others.
func extremes(sign string) func(*Node) []*Node {
	return func(n *Node) []*Node {
		out := make([]*Node, len(n.Args))
		for i, a := range n.Args {
			var first *Node
			for j, other := range n.Args {
				if i == j {
					continue
				}
				before := made(sign, a, other)
				if j < i {
					before = &Node{Op: Not, Kind: before.Kind, Args: []*Node{made(sign, other, a)}}
				}
				if first == nil {
					first = before
				} else {
					first = made("and", first, before)
				}
			}
			out[i] = chosen(first, literal(1), literal(0))
		}
		return out
	}
}

func literal(v float64) *Node { return &Node{Op: Num, Value: v} }

func made(sign string, a, b *Node) *Node { return &Node{Op: bySignOf(sign), Args: []*Node{a, b}} }

func negated(a *Node) *Node { return &Node{Op: Negate, Args: []*Node{a}} }

func called(name string, a *Node) *Node { return &Node{Op: byNameOf(name), Args: []*Node{a}} }

func chosen(condition, a, b *Node) *Node { return &Node{Op: ifElse, Args: []*Node{condition, a, b}} }

// bySignOf and byNameOf look up an operation, ifElse is If. They are set in init, since the entries
// use them and the index is made from the entries.
var (
	bySignOf, byNameOf func(string) *Operation
	ifElse             *Operation
)

func init() {
	bySignOf = func(sign string) *Operation { return bySign[sign] }
	ifElse = If
	byNameOf = func(name string) *Operation { return byName[name] }
}
