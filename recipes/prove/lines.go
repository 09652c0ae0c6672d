package prove

import (
	"encoding/binary"
	"math"
	"slices"

	"labsite/recipes/formula"
)

// Intervals are too wide where one value occurs twice: in concentrate + (tank - concentrate) the
// concentrate cancels, which they do not see. So formulas are written as sums of terms, each a
// constant times powers of parts that are not sums themselves; like terms are added, and what is
// left is enclosed.

// line is such a sum.
type line struct {
	constant float64
	terms    []term  // by rising id
	size     float64 // of all constants that went into it, which bounds the rounding of their sum
	known    bool
}

// term is a constant times a product, which is in lines.products by its id.
type term struct {
	id    int
	times float64
}

// factor is an atom to a power; the factors of a product are sorted by atom.
type factor struct{ atom, power int }

// lines keeps the sums that were made, and what their terms stand for.
type lines struct {
	of         map[lineKey]*line
	ids        map[string]int
	what       []atom // by number
	products   [][]factor
	productIDs map[string]int
	busy       map[lineKey]bool
}

type lineKey struct {
	node *formula.Node
	base int
}

// atom is what a factor stands for: a slot, a part of a formula, an unknown within a span
// (loose), or a sum.
type atom struct {
	slot  int
	node  *formula.Node
	base  int
	loose formula.Span
	sum   *line
}

func (a atom) isLoose() bool { return a.slot < 0 && a.node == nil && a.sum == nil }

// Bounds of a sum's terms and of a term's factors; a part that would pass one becomes an atom.
const (
	mostTerms   = 12
	mostFactors = 6
)

func (l *lines) atom(key string, a atom) int {
	id, ok := l.ids[key]
	if !ok {
		id = len(l.what)
		l.ids[key], l.what = id, append(l.what, a)
	}
	return id
}

func (l *lines) product(factors []factor) int {
	var key []byte
	for _, f := range factors {
		key = binary.AppendVarint(binary.AppendVarint(key, int64(f.atom)), int64(f.power))
	}
	id, ok := l.productIDs[string(key)]
	if !ok {
		id = len(l.products)
		l.productIDs[string(key)], l.products = id, append(l.products, factors)
	}
	return id
}

// one is the sum of a single atom.
func (l *lines) one(atom int) *line {
	return &line{terms: []term{{l.product([]factor{{atom, 1}}), 1}}, known: true}
}

func constantLine(v float64) *line { return &line{constant: v, size: math.Abs(v), known: true} }

// lineOf writes a tree as a sum.
func (r *Reach) lineOf(n *formula.Node, base int) *line {
	l := &r.lines
	if l.of == nil {
		l.of, l.ids, l.busy, l.productIDs = map[lineKey]*line{}, map[string]int{}, map[lineKey]bool{}, map[string]int{}
	}
	key := lineKey{n, base}
	if x := l.of[key]; x != nil {
		return x
	}
	if l.busy[key] {
		return &line{}
	}
	l.busy[key] = true
	x := r.makeLine(n, base)
	delete(l.busy, key)
	l.of[key] = x
	return x
}

func (r *Reach) makeLine(n *formula.Node, base int) *line {
	switch n.Op {
	case formula.Num:
		return constantLine(n.Value)
	case formula.Var:
		return r.lineOfSlot(base + n.Slot)
	case formula.Let:
		r.Bind(n, base)
		return r.lineOf(n.Args[1], base)
	}
	parts := make([]*line, len(n.Args))
	steady := n.Op.WorksOut == nil
	for i, a := range n.Args {
		parts[i] = r.lineOf(a, base)
		steady = steady && parts[i].known && len(parts[i].terms) == 0
	}
	if steady && len(n.Args) > 0 {
		s := n.Span(reachFrom{r, base})
		if width := s.High - s.Low; width >= 0 && width <= 1e-11*math.Abs(s.Low) {
			x := constantLine(s.Low + width/2)
			x.size *= 100 // for the width
			return x
		}
		return r.single(n, base)
	}
	if x := r.powers(n, parts); x != nil {
		return x
	}
	if x := r.undone(n, parts); x != nil {
		return x
	}
	straight, ok := n.Line(func(i int) (float64, bool) {
		return parts[i].constant, parts[i].known && len(parts[i].terms) == 0
	})
	if !ok {
		return r.single(n, base)
	}
	out := &line{known: true}
	for i, times := range straight.Times {
		if times == 0 {
			continue
		}
		if !parts[i].known {
			return r.single(n, base)
		}
		out.add(parts[i], times)
	}
	if straight.Loose {
		out.add(r.lines.one(r.lines.atom("?"+r.key(n, base), atom{slot: -1, loose: straight.Plus})), 1)
	} else {
		out.add(constantLine(straight.Plus.Low), 1)
	}
	if len(out.terms) > mostTerms {
		return r.single(n, base)
	}
	return out
}

// powers multiplies out products, quotients and whole powers; nil if the node is none of these,
// or the result would be too long.
func (r *Reach) powers(n *formula.Node, parts []*line) *line {
	if n.Op.Power == nil {
		return nil
	}
	out := constantLine(1)
	for i, x := range parts {
		constant := func(k int) (float64, bool) { return parts[k].constant, parts[k].known && len(parts[k].terms) == 0 }
		power, ok := n.Op.Power(i, constant)
		if !ok || !x.known {
			return nil
		}
		if power == 0 {
			continue
		}
		if power < 0 {
			if x = r.inverse(x); x == nil {
				return nil
			}
		}
		for range max(power, -power) {
			if out = r.multiplied(out, x); out == nil {
				return nil
			}
		}
	}
	return out
}

// undone writes the logarithm of a product of powers as a sum; nil if the node is no such
// logarithm.
func (r *Reach) undone(n *formula.Node, parts []*line) *line {
	if n.Op.Undoes == "" || !parts[0].known || len(parts[0].terms) != 1 || parts[0].constant != 0 || parts[0].terms[0].times <= 0 {
		return nil
	}
	t := parts[0].terms[0]
	out := constantLine((&formula.Node{Op: n.Op, Args: []*formula.Node{{Op: formula.Num, Value: t.times}}}).Eval(&formula.Frame{}))
	for _, f := range r.lines.products[t.id] {
		a := r.lines.what[f.atom]
		if a.node == nil || a.node.Op.Name != n.Op.Undoes {
			return nil
		}
		x := r.lineOf(a.node.Args[0], a.base)
		if !x.known {
			return nil
		}
		out.add(x, float64(f.power))
	}
	return out
}

// inverse is one divided by a sum; a sum of more than one term becomes an atom for that.
func (r *Reach) inverse(l *line) *line {
	switch {
	case len(l.terms) == 0 && l.constant != 0:
		return constantLine(1 / l.constant)
	case len(l.terms) == 0:
		return nil
	case len(l.terms) != 1 || l.constant != 0:
		i := r.lines.atom("+"+string(l.key()), atom{slot: -1, sum: l})
		return &line{terms: []term{{r.lines.product([]factor{{i, -1}}), 1}}, known: true}
	}
	var factors []factor
	for _, f := range r.lines.products[l.terms[0].id] {
		factors = append(factors, factor{f.atom, -f.power})
	}
	return &line{terms: []term{{r.lines.product(factors), 1 / l.terms[0].times}}, known: true}
}

// multiplied is the product of two sums; nil if it would be too long.
func (r *Reach) multiplied(a, b *line) *line {
	if (len(a.terms)+1)*(len(b.terms)+1) > 2*mostTerms {
		return nil
	}
	out := &line{known: true}
	out.add(constantLine(a.constant*b.constant), 1)
	out.add(&line{terms: a.terms, size: a.size}, b.constant)
	out.add(&line{terms: b.terms, size: b.size}, a.constant)
	for _, x := range a.terms {
		for _, y := range b.terms {
			factors := joined(r.lines.products[x.id], r.lines.products[y.id])
			if len(factors) > mostFactors {
				return nil
			}
			if times := x.times * y.times; len(factors) == 0 {
				out.add(constantLine(times), 1)
			} else {
				out.add(&line{terms: []term{{r.lines.product(factors), times}}}, 1)
			}
		}
	}
	return out
}

// joined multiplies two products, adding the powers of each atom.
func joined(a, b []factor) []factor {
	out := slices.Clone(a)
	for _, f := range b {
		i, found := slices.BinarySearchFunc(out, f, func(x, y factor) int { return x.atom - y.atom })
		if !found {
			out = slices.Insert(out, i, f)
		} else if out[i].power += f.power; out[i].power == 0 {
			out = slices.Delete(out, i, i+1)
		}
	}
	return out
}

// lineOfSlot is lineOf for what stands in a slot.
func (r *Reach) lineOfSlot(slot int) *line {
	if slot >= len(r.names) {
		return &line{}
	}
	n := r.names[slot]
	switch {
	case n.is == isFormula, n.is == isGiven && n.node != nil:
		return r.lineOf(n.node, n.base)
	case n.is == isWindow:
		return r.lineOfSlot(n.slot)
	case n.is == isGiven && !n.given.Settable() && !n.given.Today:
		return constantLine(n.given.Own)
	case n.is == isGiven:
		if v, is := r.fixed[slot]; is {
			return constantLine(v)
		}
		return r.lines.one(r.lines.atom("$"+string(binary.AppendUvarint(nil, uint64(slot))), atom{slot: slot}))
	}
	return &line{}
}

// single makes a part an atom, and a sum of it alone.
func (r *Reach) single(n *formula.Node, base int) *line {
	return r.lines.one(r.lines.atom(r.key(n, base), atom{slot: -1, node: n, base: base}))
}

// key is the same for parts that are worked out alike from the same values.
func (r *Reach) key(n *formula.Node, base int) string {
	key := []byte(n.Op.Form)
	key = binary.BigEndian.AppendUint64(key, math.Float64bits(n.Value))
	for _, v := range n.Numbers {
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(v))
	}
	if n.Data != nil {
		key = append(key, n.Data.Result.File+"\x00"+n.Data.Result.Name...)
		for _, k := range n.Data.Keys {
			key = append(append(key, 0), k.Name...)
		}
	}
	for _, a := range n.Args {
		x := r.lineOf(a, base)
		if !x.known {
			key = append(key, '!') // different from all others
			key = binary.AppendUvarint(key, uint64(len(r.lines.what)))
			continue
		}
		key = append(append(append(key, '('), x.key()...), ')')
	}
	return string(key)
}

// key is the same for equal sums.
func (l *line) key() []byte {
	key := binary.BigEndian.AppendUint64(nil, math.Float64bits(l.constant))
	for _, t := range l.terms {
		key = binary.BigEndian.AppendUint64(binary.AppendUvarint(key, uint64(t.id)), math.Float64bits(t.times))
	}
	return key
}

// expanded multiplies out the sums that are factors with a power above zero; nil if the result
// would be too long.
func (r *Reach) expanded(l *line) *line {
	out := constantLine(l.constant)
	for _, t := range l.terms {
		x := &line{constant: t.times, size: math.Abs(t.times), known: true}
		for _, f := range r.lines.products[t.id] {
			by := &line{terms: []term{{r.lines.product([]factor{f}), 1}}, known: true}
			times := 1
			if a := r.lines.what[f.atom]; a.sum != nil && f.power > 0 {
				by, times = a.sum, f.power
			}
			for range times {
				if x = r.multiplied(x, by); x == nil {
					return nil
				}
			}
		}
		out.add(x, 1)
	}
	return out
}

// add adds another sum, times a constant. Terms that cancel except for noise are dropped.
func (l *line) add(o *line, times float64) {
	l.constant += o.constant * times
	l.size += o.size * math.Abs(times)
	var out []term
	a, b := l.terms, o.terms
	for len(a) > 0 || len(b) > 0 {
		switch {
		case len(b) == 0 || len(a) > 0 && a[0].id < b[0].id:
			out, a = append(out, a[0]), a[1:]
		case len(a) == 0 || b[0].id < a[0].id:
			if t := b[0].times * times; t != 0 {
				out = append(out, term{b[0].id, t})
			}
			b = b[1:]
		default:
			t := term{a[0].id, a[0].times + b[0].times*times}
			if math.Abs(t.times) > 1e-13*math.Abs(a[0].times) {
				out = append(out, t)
			}
			a, b = a[1:], b[1:]
		}
	}
	l.terms = out
	if math.Abs(l.constant) <= 1e-15*l.size {
		l.constant = 0
	}
}

// minus is the difference of two sums.
func (l *line) minus(o *line) *line {
	out := &line{known: l.known && o.known}
	out.add(l, 1)
	out.add(o, -1)
	return out
}

// spanOf encloses a sum over the present box.
func (r *Reach) spanOf(l *line) formula.Span {
	if !l.known {
		return formula.Everything
	}
	low, high, noise := l.constant, l.constant, l.size*1e-13
	for _, t := range l.terms {
		s := r.spanOfProduct(t.id)
		if s.Empty() {
			return formula.Few()
		}
		a, b := t.times*s.Low, t.times*s.High
		low, high = low+math.Min(a, b), high+math.Max(a, b)
		noise += 1e-13 * math.Max(math.Abs(a), math.Abs(b))
	}
	return formula.Between(low-noise, high+noise)
}

func (r *Reach) spanOfProduct(id int) formula.Span {
	out := formula.Few(1)
	for _, f := range r.lines.products[id] {
		s := r.spanOfAtom(r.lines.what[f.atom])
		if f.power < 0 {
			s = formula.Few(1).Over(s)
		}
		switch n := max(f.power, -f.power); n {
		case 1:
		default:
			s = s.Raised(n)
		}
		out = out.Times(s)
	}
	return out
}

func (r *Reach) spanOfAtom(a atom) formula.Span {
	switch {
	case a.slot >= 0:
		return r.slot(a.slot)
	case a.node != nil:
		return a.node.Span(reachFrom{r, a.base})
	case a.sum != nil:
		return r.spanOf(a.sum)
	}
	return a.loose
}

// alone is the atom of a term that is one atom to the first power; -1 for any other term.
func (r *Reach) alone(t term) int {
	if f := r.lines.products[t.id]; len(f) == 1 && f[0].power == 1 {
		return f[0].atom
	}
	return -1
}

// straightened narrows the span of a part by that of its sum, if it has one.
func (r *Reach) straightened(n *formula.Node, base int, s formula.Span) formula.Span {
	l := r.lineOf(n, base)
	if !l.known || len(l.terms) == 1 && l.constant == 0 && l.terms[0].times == 1 {
		return s
	}
	return s.Within(r.spanOf(l))
}
