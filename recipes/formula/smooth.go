package formula

import "strconv"

// wobble is what a rounding adds to its operand, by its number: half a step at most to either
// side. It takes the place of a rounding in a smoothed tree.
var wobble = &Operation{
	Form: "what rounding adds", Gives: "as much as the frame says",
	Exact: true,
	work: func(n *Node, f *Frame) float64 {
		if i := int(n.Value); i < len(f.Wobble) {
			return f.Wobble[i]
		}
		return 0
	},
	span:   func(Spans, *Node) Span { return Everything },
	slopes: flat,
	script: func(_ Writer, n *Node, _ func(*Node) string) string { return "s.e[" + strconv.Itoa(int(n.Value)) + "]" },
}

// Smoothed is a tree in which each rounding is replaced by its operand plus a wobble; add is told
// of each rounding and gives the wobble's number. The valid ranges of bench formulas are left out,
// so that the tree goes on a little beyond them.
func Smoothed(n *Node, add func(rounding *Node) int) *Node {
	if n.Op == Guard {
		return Smoothed(n.Args[1], add)
	}
	c := *n
	c.Args = make([]*Node, len(n.Args))
	for i, a := range n.Args {
		c.Args[i] = Smoothed(a, add)
	}
	if !n.Op.Steps {
		return &c
	}
	return made("+", c.Args[0], &Node{Op: wobble, Value: float64(add(n))})
}

// Derivative is that of a smoothed tree by the part that is picks out: a name or a wobble. It is
// nil if the tree does not depend on that part; known is false if a slope on the way is unknown.
// Evaluate it only in a frame in which the tree was worked out, since that fills the slots of its
// lets.
func Derivative(n *Node, is func(*Node) bool) (d *Node, known bool) {
	return derived(n, is, map[int]*Node{})
}

// IsWobble reports whether a node is the wobble with this number.
func IsWobble(n *Node, number int) bool { return n.Op == wobble && int(n.Value) == number }

func derived(n *Node, is func(*Node) bool, bound map[int]*Node) (*Node, bool) {
	if is(n) {
		return literal(1), true
	}
	switch n.Op {
	case Var:
		return bound[n.Slot], true
	case Let:
		d, ok := derived(n.Args[0], is, bound)
		if !ok {
			return nil, false
		}
		bound[n.Slot] = d
		return derived(n.Args[1], is, bound)
	case If:
		a, okA := derived(n.Args[1], is, bound)
		b, okB := derived(n.Args[2], is, bound)
		if !okA || !okB || a == nil && b == nil {
			return nil, okA && okB
		}
		return chosen(n.Args[0], orZero(a), orZero(b)), true
	}
	var sum *Node
	var slopes []*Node
	for i, a := range n.Args {
		d, ok := derived(a, is, bound)
		if !ok {
			return nil, false
		}
		if d == nil {
			continue
		}
		if slopes == nil {
			if slopes, ok = n.Slopes(); !ok {
				return nil, false
			}
		}
		if slopes[i] == nil {
			continue // it jumps, and is level between jumps
		}
		part := d
		if slopes[i].Op != Num || slopes[i].Value != 1 {
			part = made("*", slopes[i], d)
		}
		if sum == nil {
			sum = part
		} else {
			sum = made("+", sum, part)
		}
	}
	return sum, true
}

func orZero(n *Node) *Node {
	if n == nil {
		return literal(0)
	}
	return n
}
