package page

import (
	"fmt"
	"math"

	"labsite/recipes/formula"
)

// terms number formulas, from 1: two that are written alike over the same values have the same
// number. Only form counts, not arithmetic: a * b and b * a have two.
type terms map[string]int

func (t terms) number(text string) int {
	n, ok := t[text]
	if !ok {
		n = len(t) + 1
		t[text] = n
	}
	return n
}

// value is the number of a value in base units.
func (t terms) value(v float64) int { return t.number(fmt.Sprintf("= %x", math.Float64bits(v))) }

// slot is the number of whatever stands in a slot of the frame.
func (t terms) slot(i int) int { return t.number(fmt.Sprintf("slot %d", i)) }

// of is the number of a formula; at gives that of each name in it.
func (t terms) of(n *formula.Node, at func(slot int) int) int {
	bound := map[int]int{}
	var of func(n *formula.Node) int
	of = func(n *formula.Node) int {
		switch n.Op {
		case formula.Num:
			return t.value(n.Value)
		case formula.Var:
			if x, is := bound[n.Slot]; is {
				return x
			}
			return at(n.Slot)
		case formula.Let:
			value := of(n.Args[0])
			bound[n.Slot] = value
			return t.number(fmt.Sprintf("let %d %d", value, of(n.Args[1])))
		}
		args := make([]int, len(n.Args))
		for i, a := range n.Args {
			args[i] = of(a)
		}
		text := fmt.Sprintf("%p %x %q %d", n.Op, math.Float64bits(n.Value), n.Reason, args)
		if n.Data != nil {
			for _, c := range append([]formula.Column{n.Data.Result}, n.Data.Keys...) {
				text += fmt.Sprintf(" %q %q %p", c.File, c.Name, c.Cells) // all who read the column share its array
			}
		}
		return t.number(text)
	}
	return of(n)
}
