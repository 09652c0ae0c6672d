package sheet

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// sides words what a rule that does not hold compares, at a case that was worked out: "5 ml
// on the left and 4 ml on the right"; "" where it compares nothing.
func (c *Case) sides(n *formula.Node) string {
	c.Frame.Reset()
	n.Eval(&c.Frame) // for the names that it binds
	return c.sidesOf(n, false)
}

// sidesOf looks for the comparison that decides; denied says that a not stands before it.
func (c *Case) sidesOf(n *formula.Node, denied bool) string {
	decides := func(a *formula.Node) bool {
		c.Frame.Reset()
		return (a.Eval(&c.Frame) != 0) == denied
	}
	switch n.Op {
	case formula.Let:
		return c.sidesOf(n.Args[1], denied)
	case formula.Not:
		return c.sidesOf(n.Args[0], !denied)
	case formula.If:
		c.Frame.Reset()
		if n.Args[0].Eval(&c.Frame) != 0 {
			return c.sidesOf(n.Args[1], denied)
		}
		return c.sidesOf(n.Args[2], denied)
	case formula.And, formula.Or:
		var parts []string
		for _, a := range n.Args {
			if decides(a) {
				if part := c.sidesOf(a, denied); part != "" {
					parts = append(parts, part)
				}
				if (n.Op == formula.And) != denied {
					break // one is enough to deny it
				}
			}
		}
		return strings.Join(parts, ", and ")
	case formula.Var:
		for _, f := range c.Sheet.Figures {
			if f.Slot == n.Slot && f.Node != nil {
				return c.sidesOf(f.Node, denied)
			}
		}
	case formula.Eq, formula.Ne, formula.Lt, formula.Le, formula.Gt, formula.Ge:
		left, right := c.sideTexts(n.Args[0], n.Args[1])
		if left != "" && right != "" {
			return left + " on the left and " + right + " on the right"
		}
	}
	return ""
}

// sideTexts writes two values of one kind in one unit, so that they can be told apart.
func (c *Case) sideTexts(a, b *formula.Node) (left, right string) {
	if a.Kind.Sort == quantity.Word {
		return c.word(a, b), c.word(b, a)
	}
	c.Frame.Reset()
	x, y := a.Eval(&c.Frame), b.Eval(&c.Frame)
	if c.Frame.Fault != formula.None {
		return "", ""
	}
	unit, ok := a.FirstUnit()
	if !ok {
		unit, _ = b.FirstUnit()
	}
	show := quantity.DefaultShow(a.Kind, unit)
	left, right = show.Format(x).Text, show.Format(y).Text
	if left == right && !quantity.Equal(x, y) {
		exact := quantity.Show{Style: quantity.Written, Unit: show.Unit}
		left, right = exact.Format(x).Text, exact.Format(y).Text
	}
	return left, right
}

// word is a text that a rule compares, where it can be told.
func (c *Case) word(n, other *formula.Node) string {
	if n.Op == formula.Num && n.Reason != "" {
		return n.Reason
	}
	for _, g := range c.Sheet.Given {
		switch {
		case n.Op == formula.Var && n.Slot == g.Slot:
			return c.ShownGiven(g).Text
		case n.Op == formula.Num && other.Op == formula.Var && other.Slot == g.Slot:
			return g.Show.Format(n.Value).Text
		}
	}
	return ""
}
