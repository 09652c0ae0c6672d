package prove

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// sides says what a rule that does not hold compares, in a case that was worked out: "5 ml on the
// left and 4 ml on the right"; "" if it compares nothing.
func (c *Case) sides(n *formula.Node) string {
	c.Frame.Reset()
	n.Eval(&c.Frame) // for the names that it binds
	return c.sidesOf(n, false)
}

// sidesOf looks for the comparison that decides; denied says that it stands under a not.
func (c *Case) sidesOf(n *formula.Node, denied bool) string {
	decides := func(a *formula.Node) bool {
		c.Frame.Reset()
		return (a.Eval(&c.Frame) != 0) == denied
	}
	switch n.Op.Decides {
	case formula.HandsOn:
		return c.sidesOf(c.handedOn(n), denied)
	case formula.Denies:
		return c.sidesOf(n.Args[0], !denied)
	case formula.WantsAll, formula.WantsOne:
		var parts []string
		for _, a := range n.Args {
			if decides(a) {
				if part := c.sidesOf(a, denied); part != "" {
					parts = append(parts, part)
				}
				if (n.Op.Decides == formula.WantsAll) != denied {
					break // one is enough for the rule not to hold
				}
			}
		}
		return strings.Join(parts, ", and ")
	case formula.Compares:
		left, right := c.sideTexts(n.Args[0], n.Args[1])
		if left != "" && right != "" {
			return left + " on the left and " + right + " on the right"
		}
	}
	if n.Op == formula.Var {
		for _, f := range c.Sheet.Figures {
			if f.Slot == n.Slot && f.Node != nil {
				return c.sidesOf(f.Node, denied)
			}
		}
	}
	return ""
}

// handedOn is the operand whose value becomes the node's: the last that is worked out.
func (c *Case) handedOn(n *formula.Node) *formula.Node {
	out := n
	for i, a := range n.Args {
		if n.Op.WorksOut == nil || n.Op.WorksOut(n, &c.Frame, i) {
			out = a
		}
	}
	return out
}

// sideTexts writes two values of one kind in one unit, so that they can be told apart.
func (c *Case) sideTexts(a, b *formula.Node) (left, right string) {
	if a.Kind.Sort == quantity.Word {
		return c.word(a), c.word(b)
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

// word is a text that a rule compares; "" if it has none.
func (c *Case) word(n *formula.Node) string {
	c.Frame.Reset()
	if i := n.Eval(&c.Frame); c.Frame.Fault == formula.None && i >= 0 && int(i) < len(n.Words) {
		return n.Words[int(i)]
	}
	return ""
}
