package formula

import "labsite/recipes/quantity"

// Op is what a node does.
type Op uint8

// The operations of the typed tree. Both back ends handle each of them, and nothing
// else reaches them.
const (
	Num Op = iota // a value in base units
	Var           // the slot of a given, a figure or a let
	Let           // slot = Args[0]; then Args[1]
	If            // Args[0] ? Args[1] : Args[2]; only the branch taken is worked out
	And           // stops early
	Or            // stops early
	Not
	Neg
	Add
	Sub
	Mul
	Div
	Pow
	Eq
	Ne
	Lt
	Le
	Gt
	Ge
	Abs
	Min
	Max
	Mean
	Clamp
	Sqrt
	Exp
	Exp2
	Log
	Log2
	Log10
	Floor
	Ceil
	Round     // to a multiple of Args[1], counted from Value
	RoundUp   // likewise
	RoundDown // likewise
	Kelvin
	StopsOf
	RatioOf
	DilutionOf
	Lookup      // Data
	Interpolate // Data
	InterpolateLog
	Guard // Args[0] must hold, or the case is refused as Reason says; then Args[1]
)

// Node is a part of a formula whose kind is known. Trees are never changed once
// Infer has returned them.
type Node struct {
	Op    Op
	Kind  quantity.Kind
	Value float64
	Slot  int
	Args  []*Node
	Data  *Search
	// Reason says why a Guard refuses.
	Reason string
	// Own is whose value a Var is.
	Own Ownership
	// Unit is the unit of a literal or a name, nil for all else.
	Unit *quantity.Unit
	// Start and End are where the part stands in the formula, in bytes of its
	// normalised text; an operator's own place for a binary operation.
	Start, End int
}

// FirstUnit is the unit of the first thing from the left that is of the tree's own
// kind: a literal, a given, a column or another figure.
func (n *Node) FirstUnit() (quantity.Unit, bool) { return n.firstUnit(n.Kind) }

func (n *Node) firstUnit(kind quantity.Kind) (quantity.Unit, bool) {
	if n.Unit != nil && n.Unit.Kind == kind {
		return *n.Unit, true
	}
	args := n.Args
	if n.Op == Guard {
		args = args[1:]
	}
	for _, a := range args {
		if u, ok := a.firstUnit(kind); ok {
			return u, true
		}
	}
	if n.Data != nil && n.Data.Result.Unit.Kind == kind && n.Data.Result.Unit.Text != "" {
		return n.Data.Result.Unit, true
	}
	return quantity.Unit{}, false
}

// Walk calls see for the node and all below it, until see returns false.
func (n *Node) Walk(see func(*Node) bool) {
	if !see(n) {
		return
	}
	for _, a := range n.Args {
		a.Walk(see)
	}
}
