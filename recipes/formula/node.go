package formula

import "labsite/recipes/quantity"

// Node is a part of a formula whose kind is known. Trees are never changed once
// Infer has returned them.
type Node struct {
	Op    *Operation
	Kind  quantity.Kind
	Value float64
	Slot  int
	Args  []*Node
	// Data are the columns of an operation on data.
	Data *Search
	// Words are what a text can come to, by number; Numbers are those that a Renumber puts
	// in their places.
	Words   []string
	Numbers []float64
	// Reason says why a Guard refuses.
	Reason string
	// Own is whose value a Var is.
	Own Ownership
	// Unit is the unit of a literal or a name, nil for all else.
	Unit *quantity.Unit
	// Lens says that a Var is written as an f-number, f/8.
	Lens bool
	// Start and End are where the part is in the formula, in bytes of its
	// normalised text; an operator's own place for a binary operation.
	Start, End int
}

// FirstUnit is the unit of the first operand from the left that has the tree's kind: a
// literal, a given, a column or another figure.
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

// Show is how the tree's value is shown where nothing says how: in its FirstUnit, and as an
// f-number where the first number from the left is one.
func (n *Node) Show() quantity.Show {
	unit, _ := n.FirstUnit()
	show := quantity.DefaultShow(n.Kind, unit)
	show.Words = n.Words
	if _, lens := n.lens(); lens && n.Kind == quantity.Number {
		show.Style = quantity.Engraved
	}
	return show
}

// lens reports whether the first number from the left is an f-number, and found whether there
// is a number at all. Only operations that keep an f-number an f-number pass it on: not its root,
// its power or its logarithm, and not its quotient by another, which is a ratio of two.
func (n *Node) lens() (found, is bool) {
	if n.Data != nil && n.Data.Result.Kind == quantity.Number {
		return true, n.Data.Result.Engraved
	}
	if len(n.Args) == 0 {
		return n.Kind == quantity.Number, n.Kind == quantity.Number && n.Lens
	}
	args := n.Args
	switch n.Op {
	case Guard, Let, If:
		args = args[1:]
	}
	for _, a := range args {
		if found, is = a.lens(); found {
			break
		}
	}
	if is && n.Op.sign() == "/" {
		_, ratio := n.Args[1].lens()
		is = !ratio
	}
	return found, is && (n.Op == Guard || lensKept[n.Op.sign()] || lensKept[n.Op.Name])
}

var lensKept = map[string]bool{
	"+": true, "-": true, "*": true, "/": true, "let": true, "if": true, "min": true, "max": true, "mean": true,
	"clamp": true, "abs": true, "round": true, "round_up": true, "round_down": true, "floor": true, "ceil": true,
}

// KindName is the kind in words or, if it has no name, in the unit that was written:
// "a quantity in /day", not in /s.
func (n *Node) KindName() string {
	unit, _ := n.FirstUnit()
	return quantity.KindIn(n.Kind, unit)
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
