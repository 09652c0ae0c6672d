package prove

import (
	"context"
	"math"
	"slices"
	"time"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// A rule is proved for all settings at once by enclosing its value over boxes of settings, whole
// ranges at a time, and halving the boxes that leave it open. Settings that the page refuses are
// left out, so all others are known to keep within the limits that refuse.

// mostBoxes bounds the work on one rule.
const mostBoxes = 600

// mostThorough is how many boxes of a rule are searched thoroughly. That costs many times as much
// as a plain look at a box, and what algebra can settle at all, it settles in large boxes.
const mostThorough = 24

// continuous proves rules of a page.
type continuous struct {
	ctx      context.Context
	sheet    *page.Sheet
	reach    *Reach
	all      *box
	follows  func(*formula.Node) uint64
	refuse   []condition
	run      *Case
	boxes    int             // looked at for the present rule
	refusing []*formula.Node // figures that may refuse by themselves
	left     *box            // the box that was left open last
	parts    map[conjunctsKey][]*formula.Node
}

// condition is a yes/no tree: the page refuses wherever its value is refuses.
type condition struct {
	n       *formula.Node
	base    int
	refuses bool
}

func newContinuous(ctx context.Context, s *page.Sheet) *continuous {
	c := &continuous{ctx: ctx, sheet: s, reach: NewReach(s), all: whole(s), run: NewCase(s), parts: map[conjunctsKey][]*formula.Node{}}
	c.follows = follows(s, axes(s))
	for _, f := range s.Figures {
		if f.Node != nil && f.Else == "" && refusing(f.Node) {
			c.refusing = append(c.refusing, f.Node)
		}
	}
	c.limits(s, 0)
	for _, p := range s.Parts() {
		c.limits(p.Sheet, p.Base)
	}
	return c
}

// refusing reports whether a tree holds an operation that can refuse.
func refusing(n *formula.Node) bool {
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Op.Refuses
		return !found
	})
	return found
}

// limits collects the conditions under which a sheet refuses.
func (c *continuous) limits(s *page.Sheet, base int) {
	for _, l := range s.Limits {
		if l.Node != nil && l.Kind == page.Refuse {
			c.refuse = append(c.refuse, condition{l.Node, base, true})
		}
	}
	for _, f := range s.Figures {
		if f.Node != nil && f.Else == "" { // with an else only the figure is missing
			c.guards(f.Node, base)
		}
	}
}

// guards collects the valid ranges of bench formulas that are worked out in every case. The names
// of a let are bound on the way, since a range is later looked at by itself, without its let.
func (c *continuous) guards(n *formula.Node, base int) {
	if n.Op == formula.Let {
		c.reach.Bind(n, base)
	}
	if n.Op == formula.Guard {
		c.refuse = append(c.refuse, condition{n.Args[0], base, false})
		c.guards(n.Args[1], base)
		return
	}
	for i, a := range n.Args {
		if n.Op.WorksOut == nil || i == 0 {
			c.guards(a, base)
		}
	}
}

// outcome is what came of a proof.
type outcome uint8

const (
	open   outcome = iota // not known
	proved                // it holds at every setting that the page does not refuse
	broken                // there is a setting at which it does not hold
)

// holds proves that a yes/no tree holds wherever the page does not refuse, or finds settings at
// which it does not, as plain arithmetic confirms.
func (c *continuous) holds(n *formula.Node, breaks func(*Case) bool) (outcome, []float64) {
	if n.Op.Decides == formula.WantsAll {
		// each by itself, so that only the axes that it depends on are split
		for _, a := range n.Args {
			if came, at := c.holds(a, breaks); came != proved {
				return came, at
			}
		}
		return proved, nil
	}
	among := c.follows(n)
	for _, r := range c.refuse {
		if own := c.follows(r.n); r.base == 0 && own&among != 0 {
			among |= own
		}
	}
	for _, f := range c.refusing {
		if own := c.follows(f); own&among != 0 {
			among |= own
		}
	}
	if came, at := c.each(n, among, breaks); came != open {
		return came, at
	}
	c.boxes = 0
	return c.search(among, c.follows(n), func(b *box) boxVerdict {
		t := c.truth(n, 0, b)
		switch {
		case t.Always():
			return boxHolds
		case t.Never():
			return boxBreaks
		}
		return boxOpen
	}, breaks)
}

// RuleDuration proves a rule of a page and tells how long that took, for a benchmark.
func RuleDuration(ctx context.Context, s *page.Sheet, rule *page.Check) time.Duration {
	c := newContinuous(ctx, s)
	begun := time.Now()
	c.holds(rule.Node, func(run *Case) bool { return !run.Keeps(rule) })
	return time.Since(begun)
}

// never proves that a limit holds nowhere. Settings that only this limit would refuse are not
// left out.
func (c *continuous) never(l *page.Limit) bool {
	all := c.refuse
	defer func() { c.refuse = all }()
	c.refuse = slices.DeleteFunc(slices.Clone(all), func(r condition) bool { return r.n == l.Node })
	denied := &formula.Node{Op: formula.Not, Kind: quantity.Yes, Args: []*formula.Node{l.Node}}
	came, _ := c.holds(denied, nil)
	return came == proved
}

// finite proves that a formula gives a number wherever the page does not refuse: no part of it
// divides by zero, takes a root or a logarithm of too small a number, or overflows.
func (c *continuous) finite(n *formula.Node) bool {
	c.boxes = mostBoxes - mostFiniteBoxes
	came, _ := c.search(c.follows(n), c.follows(n), func(*box) boxVerdict {
		if c.reach.finite(n, 0) {
			return boxHolds
		}
		return boxOpen
	}, nil)
	return came == proved
}

// mostFiniteBoxes bounds the work on one formula: there are many of them.
const mostFiniteBoxes = 60

// finite reports whether all parts of a tree that are worked out give numbers throughout the box.
func (r *Reach) finite(n *formula.Node, base int) bool {
	if n.Op.Decides == formula.HandsOn && n.Op != formula.Let {
		if c := r.Of(n.Args[0], base); c.Always() || c.Never() {
			taken := n.Args[1]
			if c.Never() {
				taken = n.Args[2]
			}
			return r.finite(n.Args[0], base) && r.finite(taken, base)
		}
	}
	for _, a := range n.Args {
		if !r.finite(a, base) {
			return false
		}
	}
	if n.Op.Pole != nil && n.Op.Pole.Reaches(r.From(base), n) {
		return false
	}
	if !n.Op.Tested {
		return true
	}
	s := r.Of(n, base)
	return !math.IsInf(s.Low, 0) && !math.IsInf(s.High, 0)
}

type boxVerdict uint8

const (
	boxOpen boxVerdict = iota
	boxHolds
	boxBreaks
)

// search halves boxes until each is judged.
func (c *continuous) search(among, own uint64, judge func(*box) boxVerdict, breaks func(*Case) bool) (outcome, []float64) {
	todo := []*box{c.all}
	for len(todo) > 0 {
		b := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if c.boxes++; c.boxes > mostBoxes || c.ctx.Err() != nil {
			c.left = b
			return open, nil
		}
		c.reach.thorough = c.boxes <= mostThorough
		c.reach.Fix(b.fixed())
		c.reach.Within(b.spans())
		if c.refused(b) {
			continue
		}
		v := judge(b)
		if v == boxHolds {
			continue
		}
		left, right, ok := b.split(c.all, among, own)
		if v == boxBreaks || !ok {
			if at, is := c.tried(b, breaks); is {
				return broken, at
			}
		}
		if !ok {
			c.left = b
			return open, nil
		}
		todo = append(todo, right, left)
	}
	return proved, nil
}

// refused reports whether the page refuses a whole box. It also notes what must be true where it
// does not refuse, and cuts off the box what that rules out.
func (c *continuous) refused(b *box) bool {
	c.reach.assumed = c.reach.assumed[:0]
	for _, r := range c.refuse {
		t := c.reach.Of(r.n, r.base)
		if r.refuses && t.Always() || !r.refuses && t.Never() {
			return true
		}
	}
	for _, f := range c.refusing {
		if c.reach.Of(f, 0).Empty() {
			return true // whatever is set, there is no row, or no tested points around the value
		}
	}
	for _, r := range c.refuse {
		c.assume(r.n, r.base, !r.refuses)
	}
	if len(c.reach.assumed) > 0 && c.reach.contract(b) {
		c.reach.Within(b.spans())
		for _, s := range b.axes {
			if s.Empty() {
				return true
			}
		}
	}
	return false
}

// assume notes which comparisons must hold for a tree to come to what is wanted.
func (c *continuous) assume(n *formula.Node, base int, want bool) {
	switch n.Op.Decides {
	case formula.Denies:
		c.assume(n.Args[0], base, !want)
	case formula.WantsAll, formula.WantsOne:
		if (n.Op.Decides == formula.WantsAll) == want {
			for _, a := range n.Args {
				c.assume(a, base, want)
			}
			return
		}
		// one operand must be as wanted; it is known which, if all others cannot be
		left := -1
		for i, a := range n.Args {
			if t := c.reach.Of(a, base); want && t.Never() || !want && t.Always() {
				continue
			}
			if left >= 0 {
				return
			}
			left = i
		}
		if left >= 0 {
			c.assume(n.Args[left], base, want)
		}
	case formula.Compares:
		c.stands(n, base, standing(n.Op, want))
	case formula.Computes:
		if n.Op == formula.Var {
			if at := base + n.Slot; at < len(c.reach.names) && c.reach.names[at].is == isFormula {
				c.assume(c.reach.names[at].node, c.reach.names[at].base, want)
			}
		}
	}
}

// stands notes a relation of two sides and, if one is a largest or smallest of several values,
// what follows for these.
func (c *continuous) stands(n *formula.Node, base int, how relation) {
	c.reach.assume(n, base, how)
	for _, x := range c.conjuncts(n, base, how) {
		c.stands(x, base, how)
	}
}

// conjuncts splits a comparison into several that hold together exactly when it does: max(a, b) <= c
// is a <= c and b <= c.
func (c *continuous) conjuncts(n *formula.Node, base int, how relation) []*formula.Node {
	key := conjunctsKey{n, how}
	if out, known := c.parts[key]; known {
		return out
	}
	var out []*formula.Node
	for side, x := range n.Args {
		x := c.reach.followed(x, base)
		of := x.Op.NoMore
		if side == 0 && how.less && !how.more || side == 1 && how.more && !how.less {
		} else if of = x.Op.NoLess; !(side == 0 && how.more && !how.less || side == 1 && how.less && !how.more) {
			continue
		}
		if of == nil {
			continue
		}
		for _, a := range of(x) {
			args := []*formula.Node{n.Args[0], n.Args[1]}
			args[side] = a
			out = append(out, &formula.Node{Op: n.Op, Kind: n.Kind, Args: args})
		}
		break
	}
	c.parts[key] = out
	return out
}

type conjunctsKey struct {
	n   *formula.Node
	how relation
}

// truth is what a yes/no tree can come to in a box.
func (c *continuous) truth(n *formula.Node, base int, b *box) formula.Span {
	t := c.reach.Of(n, base)
	if t.Always() || t.Never() {
		return t
	}
	switch n.Op.Decides {
	case formula.Denies:
		x := c.truth(n.Args[0], base, b)
		switch {
		case x.Always():
			return formula.Few(0)
		case x.Never():
			return formula.Few(1)
		}
	case formula.WantsAll, formula.WantsOne:
		stop := n.Op.Decides == formula.WantsOne
		all := true
		before := len(c.reach.assumed)
		defer func() { c.reach.assumed = c.reach.assumed[:before] }()
		for _, a := range slices.Backward(n.Args) {
			x := c.truth(a, base, b)
			if stop && x.Always() || !stop && x.Never() {
				return x
			}
			all = all && (stop && x.Never() || !stop && x.Always())
			c.assume(a, base, !stop) // the other operands matter only where this one does not decide
		}
		if all {
			return formula.Few(map[bool]float64{true: 0, false: 1}[stop])
		}
	case formula.Compares:
		return c.comparison(n, base, b)
	case formula.HandsOn:
		if n.Op == formula.Let {
			return c.truth(n.Args[1], base, b)
		}
	case formula.Computes:
		if at := base + n.Slot; n.Op == formula.Var && at < len(c.reach.names) {
			if x := c.reach.names[at]; x.is == isFormula {
				return c.truth(x.node, x.base, b)
			}
		}
	}
	return t
}

// comparison is what a comparison can come to in a box; if a side is a largest or smallest of
// several values, its operands may decide.
func (c *continuous) comparison(n *formula.Node, base int, b *box) formula.Span {
	t := c.reach.sharper(n, base, b).holds(n)
	if t.Always() || t.Never() {
		return t
	}
	parts := c.conjuncts(n, base, standing(n.Op, true))
	for _, x := range parts {
		if !c.comparison(x, base, b).Always() {
			return t
		}
	}
	if len(parts) > 0 {
		return formula.Few(1)
	}
	return t
}

// tried works out the middle of a box in plain arithmetic, and gives its settings if a rule
// breaks there.
func (c *continuous) tried(b *box, breaks func(*Case) bool) ([]float64, bool) {
	if breaks == nil {
		return nil, false
	}
	for _, g := range c.sheet.Given {
		c.run.Set(g, g.Own)
	}
	m := b.middle()
	for i, g := range m.given {
		c.run.Set(g, m.axes[i].Low)
	}
	c.run.Work()
	if c.run.Refused() || len(c.run.Failed) > 0 || !breaks(c.run) {
		return nil, false
	}
	return c.run.values(), true
}
