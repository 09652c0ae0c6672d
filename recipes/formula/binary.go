package formula

import (
	"math"

	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

var binaryOps = map[string]Op{
	"+": Add, "-": Sub, "*": Mul, "/": Div, "**": Pow, "^": Pow,
	"==": Eq, "!=": Ne, "<": Lt, "<=": Le, ">": Gt, ">=": Ge, "and": And, "or": Or,
}

func (in *inference) binary(n *ast.BinaryNode, start, end, level int) *Node {
	if n.Operator == "&&" {
		// the only one there is: the engine's own reading of a < b < c
		return in.fail(source.NotAllowed("a chained comparison", "Write a < b and b < c."), start, end)
	}
	op, ok := binaryOps[n.Operator]
	if !ok {
		return in.fail(source.NotAllowed(n.Operator, "The operators are + - * / ** and the comparisons, and, or, not."), start, end)
	}
	if op >= Eq && op <= Ge {
		if inner := notAtLeft(n); inner != nil {
			// not a == b: the word binds looser than the comparison
			return in.liftedNot(n, inner, start, end, level)
		}
	}
	a := in.node(n.Left, level) // a long sum leans to the left and is not deep
	b := in.node(n.Right, level+1)
	if a.Kind.Sort == quantity.Unknown || b.Kind.Sort == quantity.Unknown {
		return in.hole(start, end)
	}
	switch op {
	case And, Or:
		okA, okB := in.want(a, quantity.Yes, n.Operator), in.want(b, quantity.Yes, n.Operator)
		if !okA || !okB {
			return in.hole(start, end)
		}
		return &Node{Op: op, Kind: quantity.Yes, Args: []*Node{a, b}, Start: start, End: end}
	case Eq, Ne, Lt, Le, Gt, Ge:
		return in.compare(op, n.Operator, a, b, start, end)
	}
	okA, okB := in.arithmetic(a, n.Operator), in.arithmetic(b, n.Operator)
	if !okA || !okB {
		return in.hole(start, end)
	}
	node := &Node{Op: op, Args: []*Node{a, b}, Start: start, End: end}
	switch op {
	case Add, Sub:
		return in.sum(node, a, b, n.Operator)
	case Mul, Div:
		return in.product(node, a, b, n.Operator)
	}
	return in.power(node, a, b)
}

// notAtLeft finds a not at the far left of a comparison's left side.
func notAtLeft(n *ast.BinaryNode) *ast.UnaryNode {
	left := n.Left
	for {
		switch l := left.(type) {
		case *ast.UnaryNode:
			if l.Operator == "not" {
				return l
			}
			return nil
		case *ast.BinaryNode:
			op := binaryOps[l.Operator]
			if op != Add && op != Sub && op != Mul && op != Div && op != Pow {
				return nil
			}
			left = l.Left
		default:
			return nil
		}
	}
}

// liftedNot reads not a + b > c as not (a + b > c). The engine's tree is left alone:
// the spine down to the not is built again without it.
func (in *inference) liftedNot(n *ast.BinaryNode, inner *ast.UnaryNode, start, end, level int) *Node {
	var without func(ast.Node) ast.Node
	without = func(x ast.Node) ast.Node {
		if x == ast.Node(inner) {
			return inner.Node
		}
		old := x.(*ast.BinaryNode)
		fresh := &ast.BinaryNode{Operator: old.Operator, Left: without(old.Left), Right: old.Right}
		fresh.SetLocation(old.Location())
		return fresh
	}
	fresh := &ast.BinaryNode{Operator: n.Operator, Left: without(n.Left), Right: n.Right}
	fresh.SetLocation(n.Location())
	x := in.binary(fresh, start, end, level+1)
	if x.Kind.Sort == quantity.Unknown {
		return x
	}
	from, to := in.place(inner)
	return &Node{Op: Not, Kind: quantity.Yes, Args: []*Node{x}, Start: from, End: to}
}

// sum infers + and -, where temperatures on a scale have rules of their own.
func (in *inference) sum(n, a, b *Node, sign string) *Node {
	point, step := quantity.Scale, quantity.Degree
	switch {
	case a.Kind == point && b.Kind == point && n.Op == Sub:
		n.Kind = step
	case a.Kind == point && b.Kind == point:
		return in.fail(source.PointsAdded(in.full(b)), n.Start, n.End)
	case a.Kind == point && b.Kind == step, a.Kind == step && b.Kind == point && n.Op == Add:
		n.Kind = point
	case a.Kind == step && b.Kind == point:
		return in.fail(source.PointFromDifference(), n.Start, n.End)
	case a.Kind == b.Kind:
		n.Kind = a.Kind
	default:
		return in.fail(source.KindsSides(sign, in.full(a), a.Kind.Name(), in.full(b), b.Kind.Name(), in.factor(a.Kind, b.Kind)), n.Start, n.End)
	}
	return n
}

func (in *inference) product(n, a, b *Node, sign string) *Node {
	if a.Kind == quantity.Scale || b.Kind == quantity.Scale {
		return in.fail(source.PointMultiplied(), n.Start, n.End)
	}
	var ok bool
	if n.Op == Mul {
		n.Kind, ok = a.Kind.Times(b.Kind)
	} else {
		n.Kind, ok = a.Kind.Over(b.Kind)
	}
	if !ok {
		switch {
		case a.Kind.Stop != 0 && b.Kind.Stop != 0:
			return in.fail(source.StopsMultiplied(), n.Start, n.End)
		case a.Kind.Money != 0 && b.Kind.Money != 0:
			return in.fail(source.CurrenciesMixed(a.Kind.Currency, b.Kind.Currency), n.Start, n.End)
		}
		return in.fail(source.PowerTooHigh(), n.Start, n.End)
	}
	return n
}

// power wants a plain exponent, and a whole number written in place where the base has
// a kind.
func (in *inference) power(n, a, b *Node) *Node {
	if a.Kind == quantity.Scale {
		return in.fail(source.PointMultiplied(), n.Start, n.End)
	}
	if b.Kind != quantity.Number {
		return in.fail(source.WantsKind("an exponent", quantity.Number.Name(), b.Kind.Name()), b.Start, b.End)
	}
	if a.Kind == quantity.Number {
		n.Kind = quantity.Number
		return n
	}
	exponent, written := b.Value, b.Op == Num && b.Unit == nil
	if b.Op == Neg && b.Args[0].Op == Num && b.Args[0].Unit == nil {
		exponent, written = -b.Args[0].Value, true
	}
	if !written || exponent != math.Trunc(exponent) {
		return in.fail(source.PowerWhole(a.Kind.Name()), b.Start, b.End)
	}
	kind, ok := a.Kind.Power(int(max(-99, min(99, exponent))))
	if !ok {
		if a.Kind.Stop != 0 {
			return in.fail(source.StopsMultiplied(), n.Start, n.End)
		}
		return in.fail(source.PowerTooHigh(), n.Start, n.End)
	}
	n.Kind = kind
	return n
}

func (in *inference) compare(op Op, sign string, a, b *Node, start, end int) *Node {
	n := &Node{Op: op, Kind: quantity.Yes, Args: []*Node{a, b}, Start: start, End: end}
	if a.Kind.Sort == quantity.Word || b.Kind.Sort == quantity.Word {
		return in.compareTexts(n, sign, a, b)
	}
	if a.Kind != b.Kind {
		return in.fail(source.KindsSides(sign, in.full(a), a.Kind.Name(), in.full(b), b.Kind.Name(), in.factor(a.Kind, b.Kind)), start, end)
	}
	if a.Kind == quantity.Yes && op != Eq && op != Ne {
		return in.fail(source.WantsKind(sign, "a number or a quantity", a.Kind.Name()), start, end)
	}
	return n
}

// compareTexts resolves a text in quotes to the number of the choice that it names.
func (in *inference) compareTexts(n *Node, sign string, a, b *Node) *Node {
	if n.Op != Eq && n.Op != Ne {
		return in.fail(source.TextCompared(sign), n.Start, n.End)
	}
	given, text := a, b
	if a.Op == Num {
		given, text = b, a
	}
	if given.Op != Var || text.Op != Num || text.Kind != quantity.Text || given.Kind != quantity.Text {
		return in.fail(source.TextBeside(), n.Start, n.End)
	}
	words := in.wordsOf(given)
	for i, w := range words {
		if w == text.Reason {
			value := &Node{Op: Num, Kind: quantity.Text, Value: float64(i), Start: text.Start, End: text.End}
			return &Node{Op: n.Op, Kind: quantity.Yes, Args: []*Node{given, value}, Start: n.Start, End: n.End}
		}
	}
	return in.fail(source.NotAChoice(text.Reason, source.Nearest(text.Reason, words), words), text.Start, text.End)
}

func (in *inference) wordsOf(n *Node) []string {
	name := in.text(n.Start, n.End)
	of := ""
	for i := range name {
		if name[i] == '.' {
			of, name = name[:i], name[i+1:]
			break
		}
	}
	s, _ := in.scope.Symbol(of, name)
	return s.Words
}
