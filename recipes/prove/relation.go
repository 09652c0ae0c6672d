package prove

import (
	"math"
	"slices"
	"sync"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// relation says how the left side of a comparison can compare with the right throughout a box.
type relation struct{ less, equal, more bool }

var anyRelation = relation{true, true, true}

// holds is the value of a comparison whose sides are in this relation.
func (x relation) holds(n *formula.Node) formula.Span {
	truth := truthsOf(n.Op)
	var out []float64
	for i, possible := range []bool{x.less, x.equal, x.more} {
		if possible {
			out = append(out, truth[i])
		}
	}
	return formula.Few(out...)
}

// truthsOf are the values of a comparison whose left side is less, equal, more.
func truthsOf(op *formula.Operation) (out [3]float64) {
	if known, is := truths.Load(op); is {
		return known.([3]float64)
	}
	for i, a := range []float64{-1, 0, 1} {
		n := formula.Node{Op: op, Args: []*formula.Node{{Op: formula.Num, Value: a}, {Op: formula.Num}}}
		out[i] = n.Eval(&formula.Frame{})
	}
	truths.Store(op, out)
	return out
}

// truths caches truthsOf, which every comparison of every page asks for.
var truths sync.Map

// assumption is how two sides compare wherever the page does not refuse.
type assumption struct {
	a, b, d *line // the sides and their difference
	stand   relation
	slack   float64 // the largest difference at which the sides count as equal
}

// assume notes how the two sides of a comparison compare, and the same with divisors multiplied
// out.
func (r *Reach) assume(n *formula.Node, base int, stand relation) {
	if n.Args[0].Kind.Sort == quantity.Word {
		return
	}
	a, b := r.lineOf(n.Args[0], base), r.lineOf(n.Args[1], base)
	d := a.minus(b)
	if !d.known {
		return
	}
	_, most := r.tolerance(n, base)
	r.assumed = append(r.assumed, assumption{a, b, d, stand, most})
	if cleared, by := r.cleared(d); cleared != nil {
		r.assumed = append(r.assumed, assumption{&line{}, &line{}, cleared, stand, most * by.High})
	}
}

// cleared multiplies a sum by the divisors of its terms and divides it by their common factors, as
// far as these are above zero throughout the box. It also returns the span of what it multiplied
// by. The sum is nil if there is nothing to clear.
func (r *Reach) cleared(d *line) (*line, formula.Span) {
	if len(d.terms) == 0 {
		return nil, formula.Span{}
	}
	least := map[int]int{}
	for i, t := range d.terms {
		has := map[int]int{}
		for _, f := range r.lines.products[t.id] {
			has[f.atom] = f.power
		}
		for atom, power := range has {
			if before, seen := least[atom]; !seen && (i == 0 && d.constant == 0 || power < 0) || seen && power < before {
				least[atom] = power
			}
		}
		for atom, power := range least {
			if power > 0 && has[atom] == 0 {
				least[atom] = 0
			}
		}
	}
	var by []factor
	for atom, power := range least {
		if power != 0 && r.positive(atom) {
			by = append(by, factor{atom, -power})
		}
	}
	if len(by) == 0 || len(by) > mostFactors {
		return nil, formula.Span{}
	}
	slices.SortFunc(by, func(x, y factor) int { return x.atom - y.atom })
	id := r.lines.product(by)
	out := r.multiplied(d, &line{terms: []term{{id, 1}}, known: true})
	if out != nil {
		out = r.expanded(out)
	}
	return out, r.spanOfProduct(id)
}

// positive reports whether an atom is above zero throughout the box, wherever the page does not
// refuse.
func (r *Reach) positive(i int) bool {
	a := r.lines.what[i]
	if r.spanOfAtom(a).Low > 0 {
		return true
	}
	own := a.sum
	if own == nil {
		own = r.lines.one(i)
	}
	return slices.ContainsFunc(r.assumed, func(f assumption) bool {
		return !f.stand.less && !f.stand.equal && isMultiple(own, f.d) > 0 || !f.stand.more && !f.stand.equal && isMultiple(own, f.d) < 0
	})
}

// isMultiple is the constant by which a sum is a multiple of another; 0 if it is none.
func isMultiple(a, of *line) float64 {
	if len(a.terms) == 0 || len(of.terms) == 0 {
		return 0
	}
	if k := a.terms[0].times / of.terms[0].times; isTimes(a, of, k) {
		return k
	}
	return 0
}

// relation finds how the sides of a comparison can compare, by enclosing their difference as a
// sum.
func (r *Reach) relation(n *formula.Node, base int) relation {
	if n.Args[0].Kind.Sort == quantity.Word {
		return anyRelation
	}
	a, b := r.lineOf(n.Args[0], base), r.lineOf(n.Args[1], base)
	d := a.minus(b)
	if !d.known {
		return anyRelation
	}
	least, most := r.tolerance(n, base)
	return relate(r.spanOf(d), least, most)
}

// tolerance is how far apart two sides may be and still count as equal: up to least they always
// do, beyond most they never do.
func (r *Reach) tolerance(n *formula.Node, base int) (least, most float64) {
	x, y := r.Of(n.Args[0], base), r.Of(n.Args[1], base)
	most = max(1e-12, 1e-9*max(math.Abs(x.Low), math.Abs(x.High), math.Abs(y.Low), math.Abs(y.High)))
	least = max(1e-12, 1e-9*max(smallest(x), smallest(y)))
	return least, most
}

// smallest is how near to zero a span comes.
func smallest(s formula.Span) float64 {
	if s.Low <= 0 && s.High >= 0 {
		return 0
	}
	return min(math.Abs(s.Low), math.Abs(s.High))
}

func relate(d formula.Span, least, most float64) relation {
	if d.Empty() {
		return relation{}
	}
	return relation{less: d.Low < -least, equal: d.Low <= most && d.High >= -most, more: d.High > least}
}

// sharper is relation with assumptions, slopes and branches as well, at more cost, for comparisons
// that plain spans leave open.
func (r *Reach) sharper(n *formula.Node, base int, box *box) relation {
	x := r.relation(n, base)
	if n.Args[0].Kind.Sort == quantity.Word {
		return anyRelation
	}
	a, b := r.lineOf(n.Args[0], base), r.lineOf(n.Args[1], base)
	d := a.minus(b)
	if !d.known {
		return x
	}
	for _, f := range r.assumed {
		if multiple(a, b, f.a, f.b) {
			x = x.and(f.stand)
		} else if multiple(b, a, f.a, f.b) {
			x = x.and(f.stand.turned())
		}
	}
	least, most := r.tolerance(n, base)
	x = x.and(r.stand(d, least, most, box))
	if x.open() {
		if cleared, by := r.cleared(d); cleared != nil {
			x = x.and(r.stand(cleared, least*by.Low, most*by.High, box))
		}
	}
	return x
}

// stand compares a difference with zero, by all that is known.
func (r *Reach) stand(d *line, least, most float64, box *box) relation {
	plain := r.spanOf(d)
	span := plain
	for _, f := range r.assumed {
		span = r.narrowed(span, d, f, asItStands)
	}
	span = r.replaced(span, d, box)
	if span.Low > plain.Low || span.High < plain.High || r.loose(d) {
		// assumptions hold only within the noise of the last digits, and so does what follows from them
		least = max(least, 4e-9*r.sizeOf(d))
	}
	x := relate(span, least, most)
	for _, f := range r.assumed {
		switch k := isMultiple(d, f.d); {
		case k > 0:
			x = x.and(f.stand)
		case k < 0:
			x = x.and(f.stand.turned())
		}
	}
	if x.open() {
		x = x.and(relate(span.Within(r.meanValue(d, box)), least, most))
	}
	if x.open() {
		x = x.and(r.branched(d, least, most, box))
	}
	if x.open() && r.thorough {
		least = max(least, 4e-9*r.sizeOf(d))
		for _, f := range r.assumed {
			span = r.narrowed(span, d, f, deepest)
			if x = x.and(relate(span, least, most)); !x.open() {
				break
			}
		}
	}
	return x
}

// branched looks at both branches of an if separately, each under its own condition.
func (r *Reach) branched(d *line, least, most float64, box *box) relation {
	for _, t := range d.terms {
		for _, f := range r.lines.products[t.id] {
			a := r.lines.what[f.atom]
			if a.node == nil || a.node.Op != formula.If || r.deep > 0 {
				continue
			}
			r.deep++
			defer func() { r.deep-- }()
			out := relation{}
			for i, wanted := range []bool{true, false} {
				with := r.substituted(d, f.atom, r.lineOf(a.node.Args[1+i], a.base))
				if with == nil {
					return anyRelation
				}
				before := len(r.assumed)
				if c := a.node.Args[0]; c.Op.Decides == formula.Compares {
					r.assume(c, a.base, standing(c.Op, wanted))
				}
				x := r.stand(with, least, most, box)
				if cleared, by := r.cleared(with); cleared != nil && x.open() {
					x = x.and(r.stand(cleared, least*by.Low, most*by.High, box))
				}
				r.assumed = r.assumed[:before]
				out = relation{out.less || x.less, out.equal || x.equal, out.more || x.more}
			}
			return out
		}
	}
	return anyRelation
}

// standing is how the sides of a comparison can compare if its value is what is wanted.
func standing(op *formula.Operation, wanted bool) relation {
	truth := truthsOf(op)
	is := func(i int) bool { return (truth[i] != 0) == wanted }
	return relation{is(0), is(1), is(2)}
}

// substituted puts a sum in place of an atom; nil if it is not known or too long.
func (r *Reach) substituted(d *line, atom int, x *line) *line {
	if !x.known {
		return nil
	}
	out := constantLine(d.constant)
	for _, t := range d.terms {
		factors := r.lines.products[t.id]
		i := slices.IndexFunc(factors, func(f factor) bool { return f.atom == atom })
		if i < 0 {
			out.add(&line{terms: []term{t}}, 1)
			continue
		}
		if factors[i].power < 0 {
			return nil
		}
		part := &line{constant: t.times, known: true}
		if rest := slices.Delete(slices.Clone(factors), i, i+1); len(rest) > 0 {
			part = &line{terms: []term{{r.lines.product(rest), t.times}}, known: true}
		}
		for range factors[i].power {
			if part = r.multiplied(part, x); part == nil {
				return nil
			}
		}
		out.add(part, 1)
	}
	return out
}

func (x relation) open() bool { return x.less && x.more || x.equal && (x.less || x.more) }

// turned is the relation with the sides swapped.
func (x relation) turned() relation { return relation{x.more, x.equal, x.less} }

// replaced narrows a difference in which a term is the largest or smallest of several values: an
// operand put in its place bounds the difference from one side.
func (r *Reach) replaced(span formula.Span, d *line, box *box) formula.Span {
	for _, t := range d.terms {
		i := r.alone(t)
		if i < 0 || r.lines.what[i].node == nil {
			continue
		}
		a := r.lines.what[i]
		for _, bound := range r.above(a, box) {
			s := r.spanOf(exchanged(d, t, bound))
			if t.times > 0 {
				span = span.Within(formula.Between(s.Low, math.Inf(1)))
			} else {
				span = span.Within(formula.Between(math.Inf(-1), s.High))
			}
		}
		of, above := a.node.Op.NoMore, false
		if of == nil {
			of, above = a.node.Op.NoLess, true
		}
		if of == nil {
			continue
		}
		for _, operand := range of(a.node) {
			x := r.lineOf(operand, a.base)
			if !x.known {
				continue
			}
			s := r.spanOf(exchanged(d, t, x))
			if above == (t.times > 0) { // with the operand in its place the difference is no smaller
				span = span.Within(formula.Between(math.Inf(-1), s.High))
			} else {
				span = span.Within(formula.Between(s.Low, math.Inf(1)))
			}
		}
	}
	return span
}

// exchanged puts a sum in place of a term that is a single atom.
func exchanged(d *line, t term, x *line) *line {
	out := &line{known: true}
	out.add(d, 1)
	out.add(&line{terms: []term{t}}, -1)
	out.add(x, t.times)
	return out
}

// above lists sums that an atom is no less than throughout the box.
func (r *Reach) above(a atom, box *box) (out []*line) {
	if a.node.Op.Above == nil || r.deep > 1 {
		return nil
	}
	r.deep++
	defer func() { r.deep-- }()
	for _, b := range a.node.Op.Above(a.node) {
		holds := !slices.ContainsFunc(b.Where, func(w *formula.Node) bool { return !r.sharper(w, a.base, box).holds(w).Always() })
		if !holds {
			continue
		}
		if x := r.lineOf(b.Bound, a.base); x.known {
			out = append(out, x)
		}
	}
	return out
}

// loose reports whether a sum has a loose atom, such as the unknown part of a rounding.
func (r *Reach) loose(l *line) bool {
	return slices.ContainsFunc(l.terms, func(t term) bool {
		return slices.ContainsFunc(r.lines.products[t.id], func(f factor) bool { return r.lines.what[f.atom].isLoose() })
	})
}

func (x relation) and(y relation) relation {
	return relation{x.less && y.less, x.equal && y.equal, x.more && y.more}
}

// multiple reports whether two sides are two other sides, both times the same constant above zero:
// then they compare in the same way, tolerance included.
func multiple(a, b, fa, fb *line) bool {
	if !fa.known || !fb.known {
		return false
	}
	k := 0.0
	switch {
	case len(fa.terms) > 0 && len(a.terms) > 0:
		k = a.terms[0].times / fa.terms[0].times
	case len(fb.terms) > 0 && len(b.terms) > 0:
		k = b.terms[0].times / fb.terms[0].times
	default:
		return false
	}
	return k > 0 && isTimes(a, fa, k) && isTimes(b, fb, k)
}

func isTimes(a, of *line, k float64) bool {
	near := func(x, y float64) bool { return math.Abs(x-y) <= 1e-14*max(math.Abs(x), math.Abs(y)) }
	if len(a.terms) != len(of.terms) || !near(a.constant, of.constant*k) {
		return false
	}
	for i, t := range a.terms {
		if of.terms[i].id != t.id || !near(t.times, of.terms[i].times*k) {
			return false
		}
	}
	return true
}

// How far a difference is narrowed by assumptions: only by those that share a term with it as they
// stand, or also by multiples of assumptions, up to so many on top of one another.
const (
	asItStands = -1
	deepest    = 2
)

// narrowed narrows a difference by an assumption about another one, as that stands or times a
// product above zero, so that the two share a term. What then remains is narrowed in the same
// way, as long as it does not grow: so a ** 2 - b ** 2 is found to be (a + b) * (a - b).
func (r *Reach) narrowed(span formula.Span, d *line, f assumption, deep int) formula.Span {
	if f.stand.less && f.stand.more {
		return span // an assumption that two sides differ bounds nothing
	}
	for _, t := range f.d.terms {
		for _, own := range d.terms {
			var by []factor
			if own.id != t.id {
				if deep == asItStands {
					continue
				}
				if by = quotient(r.lines.products[own.id], r.lines.products[t.id]); by == nil {
					continue
				}
			}
			span = r.narrowedBy(span, d, f, own.times/t.times, by, deep)
		}
	}
	return span
}

// narrowedBy narrows a difference by an assumption times a constant and a product, which may be
// empty.
func (r *Reach) narrowedBy(span formula.Span, d *line, f assumption, k float64, by []factor, deep int) formula.Span {
	g, size := f.d, formula.Few(1)
	if len(by) > 0 {
		if g = r.multiplied(f.d, &line{terms: []term{{r.lines.product(by), 1}}, known: true}); g == nil {
			return span
		}
	}
	rest := &line{known: true}
	rest.add(d, 1)
	rest.add(g, -k)
	if len(by) > 0 {
		if len(rest.terms) > 2 && len(rest.terms) >= len(d.terms) {
			return span // what remains is no simpler
		}
		if size = r.positiveSpan(by); size.Empty() {
			return span
		}
	}
	beside := r.spanOf(rest)
	if deep > 0 && len(rest.terms) > 0 && (len(rest.terms) <= 2 || len(rest.terms) < len(d.terms)) {
		for _, also := range r.assumed {
			beside = r.narrowed(beside, rest, also, deep-1)
		}
	}
	bound, slack := formula.Everything, math.Abs(k)*f.slack*size.High
	if k > 0 && !f.stand.less || k < 0 && !f.stand.more {
		bound.Low = -slack + beside.Low
	}
	if k > 0 && !f.stand.more || k < 0 && !f.stand.less {
		bound.High = slack + beside.High
	}
	return span.Within(bound)
}

// quotient is one product divided by another, if that has at most two factors and no divisors;
// nil otherwise.
func quotient(of, by []factor) []factor {
	var inverse []factor
	for _, f := range by {
		inverse = append(inverse, factor{f.atom, -f.power})
	}
	out := joined(of, inverse)
	if len(out) > 2 || slices.ContainsFunc(out, func(f factor) bool { return f.power < 0 }) {
		return nil
	}
	return out
}

// positiveSpan is the span of a product whose factors are all above zero wherever the page does not
// refuse; it is empty if one may not be.
func (r *Reach) positiveSpan(by []factor) formula.Span {
	out := formula.Few(1)
	for _, f := range by {
		s := r.spanOfAtom(r.lines.what[f.atom])
		for _, also := range r.assumed {
			s = r.narrowed(s, r.lines.one(f.atom), also, asItStands)
		}
		if !(s.Low > 0) || math.IsInf(s.High, 1) {
			return formula.Few()
		}
		for range f.power {
			out = out.Times(s)
		}
	}
	return out
}
