package prove

import (
	"regexp"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// placed finds the placements of a text. Their formulas have no braces inside.
var placed = regexp.MustCompile(`\\?\{[^{}]*\}`)

// filled is the text of a limit for a message, with the values of this case. A placement that
// cannot be worked out stays as it is written, without its braces.
func (c *Case) filled(text string) string {
	return placed.ReplaceAllStringFunc(text, func(braces string) string {
		if braces[0] == '\\' {
			return braces[1:]
		}
		return c.put(braces[1 : len(braces)-1])
	})
}

// put is what one placement shows, or its own text if it cannot be worked out.
func (c *Case) put(text string) string {
	what, how, shown := text, "", false
	if i := strings.LastIndex(text, " in "); i > 0 {
		what, how, shown = text[:i], strings.TrimSpace(text[i+4:]), true
	}
	if g := c.Sheet.GivenNamed(strings.TrimSpace(what)); g != nil {
		if show, t := quantity.ParseShow(how, g.Kind); shown && t == nil {
			return c.Write(g.Slot, show.Format).Text
		}
		return c.ShownGiven(g).Text
	}
	if _, t := quantity.Parse(text); t == nil || c.top != nil {
		return text // a literal; or a part's frame, which has no slots for further formulas
	}
	f, _ := formula.Parse(what, nil)
	if f == nil {
		return text
	}
	n, _ := formula.Infer(f, c.Sheet.Scope())
	if n == nil {
		return text
	}
	show := n.Show()
	if asked, t := quantity.ParseShow(how, n.Kind); shown && t == nil {
		show = asked
	}
	if out, ok := c.WriteFormula(n, show); ok {
		return out.Text
	}
	return text
}
