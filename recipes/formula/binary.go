package formula

import (
	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func (in *inference) binary(n *ast.BinaryNode, start, end, level int) *Node {
	if n.Operator == "&&" {
		// the only form that gets here: the engine's own reading of a < b < c
		return in.fail(source.NotAllowed("a chained comparison", "Write a < b and b < c."), start, end)
	}
	op := bySign[n.Operator]
	if op == nil {
		return in.fail(source.NotAllowed(n.Operator, "The operators are + - * / ** and the comparisons, and, or, not."), start, end)
	}
	if op.Decides == Compares {
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
	if each := op.operands.each; each != nil {
		okA, okB := each(in, a, n.Operator), each(in, b, n.Operator)
		if !okA || !okB {
			return in.hole(start, end)
		}
	}
	return op.kinds(in, &Node{Op: op, Args: []*Node{a, b}, Start: start, End: end})
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
			if op := bySign[l.Operator]; op == nil || op.Decides != Computes {
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
