package prove

import (
	"cmp"
	"context"
	"math"
	"slices"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// A divisor may be zero between two values that were tried, and a reader may set just that value,
// since fields take values between the steps as well. So each operation that may have a pole
// within its span (formula.Pole) is watched over the cases: where the watched value changes its
// sign between two of them, the place is narrowed down by halving. It is an error if the value is
// continuous there, the formula reaches the operation, and the page does not refuse. Two poles
// between neighbouring cases are missed, and so is one where the value only touches zero, unless
// it visibly dips towards zero.

// watch is an operation that gives no number where a value of its own is zero.
type watch struct {
	figure *page.Figure // nil for a limit
	text   *formula.Formula
	root   *formula.Node // the whole tree
	node   *formula.Node
	on     uint64 // the axes that it depends on
}

// value is the watched value in a case that was worked out; NaN if there is none.
func (w *watch) value(f *formula.Frame) float64 {
	f.Reset()
	v := w.node.Op.Pole.At(w.node, f)
	if f.Fault != formula.None {
		return nan
	}
	return v
}

// fails reports whether there is no number below zero either, as with a root.
func (w *watch) fails() bool { return w.node.Op.Pole.Below }

// reached reports whether evaluating a tree gets as far as one of its nodes in a case that was worked
// out.
func reached(n, node *formula.Node, f *formula.Frame) bool {
	if n == node {
		return true
	}
	for i, a := range n.Args {
		if (n.Op.WorksOut == nil || n.Op.WorksOut(n, f, i)) && reached(a, node, f) {
			return true
		}
	}
	return false
}

// poles watches the operations of a sheet over its cases.
type poles struct {
	sheet   *page.Sheet
	axes    []axis
	grid    int // how many of the first cases are all combinations; 0 for a sample
	watches []*watch
	values  []float64 // of each watch in each case; NaN if the case is refused or has failed
	places  []float64 // of a sample: the values of the axes in each case
	held    map[*page.Limit]bool
	run     *Case
}

// mostWatched bounds the values kept, mostTries how many places are searched for one watch.
const (
	mostWatched = 1 << 21
	mostTries   = 12
)

// newPoles finds what is to be watched; nil if there is nothing. Limits that hold in cases tried
// by the search are added to held.
func newPoles(s *page.Sheet, held map[*page.Limit]bool) *poles {
	p := &poles{sheet: s, axes: axes(s), grid: 1, held: held}
	steady := uint64(0)
	for _, a := range p.axes {
		if p.grid *= len(a.values); p.grid > MostCases {
			p.grid = 0
		}
	}
	for i, a := range p.axes {
		if between(a.given) && i < 64 {
			steady |= 1 << i
		}
	}
	if steady == 0 {
		return nil
	}
	b := NewReach(s)
	follows := follows(s, p.axes)
	see := func(f *page.Figure, text *formula.Formula, root *formula.Node) {
		root.Walk(func(n *formula.Node) bool {
			pole := n.Op.Pole
			if pole == nil || !pole.Reaches(b.From(0), n) {
				return true
			}
			w := &watch{figure: f, text: text, root: root, node: n}
			for _, i := range pole.Operands {
				w.on |= follows(n.Args[i])
			}
			if w.on &= steady; w.on != 0 {
				p.watches = append(p.watches, w)
			}
			return true
		})
	}
	for _, f := range s.Sorted {
		if f.Node != nil {
			see(f, f.Formula, f.Node)
		}
	}
	for _, l := range s.Limits {
		if l.Node != nil {
			see(nil, l.When, l.Node)
		}
	}
	if most := mostWatched / MostCases; len(p.watches) > most {
		p.watches = p.watches[:most]
	}
	if len(p.watches) == 0 {
		return nil
	}
	p.run = NewCase(s)
	return p
}

// between reports whether a reader may set a value between two that were tried.
func between(g *page.Given) bool {
	return g.From != nil && !g.Whole && g.Kind != quantity.Yes && g.Kind != quantity.Date
}

// follows returns a function that tells which axes a formula depends on, a bit for each.
func follows(s *page.Sheet, axes []axis) func(n *formula.Node) uint64 {
	bits := map[int]uint64{} // by slot
	for i, a := range axes {
		if i < 64 {
			bits[a.given.Slot] = 1 << i
		}
	}
	var of func(n *formula.Node) uint64
	of = func(n *formula.Node) uint64 {
		out := uint64(0)
		n.Walk(func(n *formula.Node) bool {
			if n.Data != nil && n.Data.Live() != nil {
				out = math.MaxUint64
			}
			if n.Op == formula.Let {
				bits[n.Slot] = of(n.Args[0])
			}
			if n.Op == formula.Var {
				out |= bits[n.Slot]
			}
			return true
		})
		return out
	}
	for _, step := range s.Program {
		switch {
		case step.Figure != nil && step.Figure.Node != nil:
			bits[step.Figure.Slot] = of(step.Figure.Node)
		case step.Use != nil && step.Use.Sheet != nil:
			all := uint64(0)
			for _, set := range step.Use.At {
				if set.Node != nil {
					all |= of(set.Node)
				}
			}
			for i := range step.Use.Slots {
				bits[step.Use.Base+i] = all
			}
		case step.Added != nil && step.Added.Column.Live:
			for row := range step.Added.Column.Rows {
				bits[step.Added.Column.Slot+row] = math.MaxUint64
			}
		}
	}
	return of
}

// look notes the watched values of a case, which must be neither refused nor failed.
func (p *poles) look(c *Case, number int) {
	p.room(number)
	at := number * len(p.watches)
	for i, w := range p.watches {
		p.values[at+i] = w.value(&c.Frame)
	}
	if p.grid == 0 {
		for _, a := range p.axes {
			p.places = append(p.places, c.Frame.V[a.given.Slot])
		}
	}
}

// room fills in NaN for the cases that were skipped.
func (p *poles) room(number int) {
	for len(p.values) < (number+1)*len(p.watches) {
		p.values = append(p.values, nan)
	}
	if p.grid == 0 {
		for len(p.places) < number*len(p.axes) {
			p.places = append(p.places, nan)
		}
	}
}

// place lists the values of a case, by axis.
func (p *poles) place(number int) []float64 {
	if p.grid == 0 {
		return p.places[number*len(p.axes) : (number+1)*len(p.axes)]
	}
	out := make([]float64, len(p.axes))
	for i := len(p.axes) - 1; i >= 0; i-- {
		n := len(p.axes[i].values)
		out[i] = p.axes[i].values[number%n]
		number /= n
	}
	return out
}

// find searches for poles of the watched operations between the cases and reports them, except
// for figures in failed, which already failed in a case.
func (p *poles) find(ctx context.Context, failed map[string]bool) source.List {
	var list source.List
	for i, w := range p.watches {
		name := failureName(Failure{Figure: w.figure})
		if failed[name] {
			continue
		}
		if at, found := p.search(ctx, i, w); found {
			failed[name] = true
			list = append(list, source.NotFiniteNear(name, at).At(w.text.SpanOf(w.node)))
		}
	}
	return list
}

// search looks for a place where a watched value is zero, and names the values to set there.
func (p *poles) search(ctx context.Context, i int, w *watch) (string, bool) {
	var pairs [][2]int
	var dips [][3]int
	if p.grid > 0 {
		pairs, dips = p.neighbours(i, w)
	} else {
		pairs, dips = p.sampled(i, w)
	}
	for _, x := range spread(pairs) {
		if ctx.Err() != nil {
			return "", false
		}
		if root, found := p.narrow(w, p.place(x[0]), p.place(x[1])); found {
			return p.simple(w, root), true
		}
	}
	for _, x := range spread(dips) {
		if ctx.Err() != nil {
			return "", false
		}
		if root, found := p.dip(w, p.place(x[0]), p.place(x[2])); found {
			return p.simple(w, root), true
		}
	}
	return "", false
}

// spread takes up to mostTries of a list, evenly spread over it.
func spread[T any](all []T) []T {
	if len(all) <= mostTries {
		return all
	}
	out := make([]T, mostTries)
	for i := range out {
		out[i] = all[i*len(all)/mostTries]
	}
	return out
}

func (p *poles) at(number, watch int) float64 {
	if k := number*len(p.watches) + watch; k < len(p.values) {
		return p.values[k]
	}
	return nan
}

func crosses(a, b float64) bool { return a < 0 && b > 0 || a > 0 && b < 0 }

// dips reports whether three values in a row fall and rise so steeply that there may be a zero
// between them: the parabola through them comes near zero.
func dips(a, b, c float64) bool {
	if a < 0 {
		a, b, c = -a, -b, -c
	}
	if !(a > b && c > b && b > 0) {
		return false
	}
	bend, slope := (a+c)/2-b, (c-a)/2
	return b-slope*slope/(4*bend) < 0.1*math.Min(a, c)
}

// neighbours lists the pairs of cases between which a watch changes its sign, and the triples where
// it dips, along each given that a reader may set between its steps.
func (p *poles) neighbours(i int, w *watch) (pairs [][2]int, low [][3]int) {
	stride := 1
	for k := len(p.axes) - 1; k >= 0; k-- {
		n := len(p.axes[k].values)
		if k < 64 && w.on&(1<<k) != 0 {
			for number := range p.grid {
				j := number / stride % n
				if j+1 >= n {
					continue
				}
				a, b := p.at(number, i), p.at(number+stride, i)
				if !w.fails() && crosses(a, b) {
					pairs = append(pairs, [2]int{number, number + stride})
				}
				if j+2 < n && dips(a, b, p.at(number+2*stride, i)) {
					low = append(low, [3]int{number, number + stride, number + 2*stride})
				}
			}
		}
		stride *= n
	}
	return pairs, low
}

// sampled is neighbours for a sample: it pairs each case with one that lies near. The two differ
// only in values that can be set between the steps, so that the way between them can be tried.
func (p *poles) sampled(i int, w *watch) (pairs [][2]int, low [][3]int) {
	type group struct{ more, less, all []int }
	groups := map[string]*group{}
	var order []string
	var key []byte
	for number := range len(p.places) / max(1, len(p.axes)) {
		v := p.at(number, i)
		if math.IsNaN(v) {
			continue
		}
		key = key[:0]
		for k, x := range p.place(number) {
			if !between(p.axes[k].given) {
				bits := math.Float64bits(x)
				for range 8 {
					key, bits = append(key, byte(bits)), bits>>8
				}
			}
		}
		g := groups[string(key)]
		if g == nil {
			g = &group{}
			groups[string(key)] = g
			order = append(order, string(key))
		}
		g.all = append(g.all, number)
		if v > 0 {
			g.more = append(g.more, number)
		} else {
			g.less = append(g.less, number)
		}
	}
	for _, k := range order {
		g := groups[k]
		if !w.fails() && len(g.more) > 0 && len(g.less) > 0 {
			many := g.more
			if len(many) > 64 {
				many = many[:64] // the first of a sample are as well spread as the others
			}
			for _, a := range spread(g.less) {
				pairs = append(pairs, [2]int{a, p.nearest(a, many)})
			}
		}
		if free := p.onlyAxis(); free >= 0 {
			slices.SortFunc(g.all, func(a, b int) int {
				return cmp.Compare(p.place(a)[free], p.place(b)[free])
			})
			for j := 0; j+2 < len(g.all); j++ {
				if dips(p.at(g.all[j], i), p.at(g.all[j+1], i), p.at(g.all[j+2], i)) {
					low = append(low, [3]int{g.all[j], g.all[j+1], g.all[j+2]})
				}
			}
		}
	}
	return pairs, low
}

// onlyAxis is the axis with values between its steps if there is exactly one, otherwise -1.
func (p *poles) onlyAxis() int {
	free := -1
	for k, a := range p.axes {
		if between(a.given) {
			if free >= 0 {
				return -1
			}
			free = k
		}
	}
	return free
}

// nearest is whichever of some cases lies nearest to the case number.
func (p *poles) nearest(number int, some []int) int {
	best, least := some[0], math.Inf(1)
	from := p.place(number)
	for _, other := range some {
		d := 0.0
		for k, x := range p.place(other) {
			if a := p.axes[k]; a.high > a.low {
				off := (x - from[k]) / (a.high - a.low)
				d += off * off
			}
		}
		if d < least {
			best, least = other, d
		}
	}
	return best
}

// try works out the case a share of the way from one place to another, and gives the watched
// value there.
func (p *poles) try(w *watch, a, b []float64, share float64) float64 {
	for _, g := range p.sheet.Given {
		p.run.Set(g, g.Own)
	}
	for k := range p.axes {
		p.run.Set(p.axes[k].given, a[k]+(b[k]-a[k])*share)
	}
	p.run.Work()
	return w.value(&p.run.Frame)
}

// open reports whether the case that was tried last reaches the watched operation and is not
// refused. Limits that hold in it count as tested, even if they held in no other case.
func (p *poles) open(w *watch) bool {
	for _, l := range p.run.Holding {
		p.held[l] = true
	}
	return !p.run.Refused() && reached(w.root, w.node, &p.run.Frame)
}

// narrow halves the way between two places at which a watched value has different signs, until it
// is known whether it is zero between them. A value that jumps over zero does not come near it.
func (p *poles) narrow(w *watch, a, b []float64) ([]float64, bool) {
	low, high := 0.0, 1.0
	first, last := p.try(w, a, b, 0), p.try(w, a, b, 1)
	large := math.Max(math.Abs(first), math.Abs(last))
	for range 90 {
		middle := (low + high) / 2
		if middle <= low || middle >= high {
			break
		}
		v := p.try(w, a, b, middle)
		switch {
		case math.IsNaN(v):
			return nil, false
		case v == 0:
			return along(a, b, middle), p.open(w)
		case crosses(first, v):
			high, last = middle, v
		default:
			low, first = middle, v
		}
	}
	if math.Max(math.Abs(first), math.Abs(last)) > large*1e-9 {
		return nil, false
	}
	for _, share := range []float64{low, high} {
		if p.try(w, a, b, share); p.open(w) {
			return along(a, b, share), true
		}
	}
	return nil, false
}

// dip looks for the lowest value of a watch between two places, by golden sections, and tells
// whether there is no number there: it is zero, or below zero if that fails as well.
func (p *poles) dip(w *watch, a, b []float64) ([]float64, bool) {
	const golden = 0.6180339887498949
	low, high := 0.0, 1.0
	size := func(share float64) float64 {
		v := p.try(w, a, b, share)
		if !w.fails() {
			v = math.Abs(v)
		}
		return v
	}
	x, y := high-golden*(high-low), low+golden*(high-low)
	atX, atY := size(x), size(y)
	for range 80 {
		if math.IsNaN(atX) || math.IsNaN(atY) {
			return nil, false
		}
		if least := math.Min(atX, atY); w.fails() && least < 0 || quantity.Equal(least, 0) {
			share := x
			if atY < atX {
				share = y
			}
			place := p.neat(w, along(a, b, share), a, b)
			p.try(w, place, place, 0)
			return place, p.open(w)
		}
		if atX < atY {
			high, y, atY = y, x, atX
			x = high - golden*(high-low)
			atX = size(x)
		} else {
			low, x, atX = x, y, atY
			y = low + golden*(high-low)
			atY = size(y)
		}
	}
	return nil, false
}

// neat is a place with fewer digits at which a watch comes at least as near to zero.
func (p *poles) neat(w *watch, place, a, b []float64) []float64 {
	least := math.Abs(p.try(w, place, place, 0))
	for digits := range 12 {
		near := slices.Clone(place)
		for k := range near {
			if u := p.axes[k].given.Show.Unit; a[k] != b[k] && u.Factor != 0 {
				step := math.Pow10(digits)
				near[k] = u.Base(math.Round(u.Of(near[k])*step) / step)
			}
		}
		if math.Abs(p.try(w, near, near, 0)) <= least {
			return near
		}
	}
	return place
}

func along(a, b []float64, share float64) []float64 {
	out := make([]float64, len(a))
	for k := range a {
		out[k] = a[k] + (b[k]-a[k])*share
	}
	return out
}

// simple names a place where a watch is zero, with as few settings as it can: one value other than
// the page's own, if that is enough, next to choices and the like as they were found, if they are
// needed; otherwise the place as it was found.
func (p *poles) simple(w *watch, found []float64) string {
	own, beside := make([]float64, len(p.axes)), make([]float64, len(p.axes))
	for k, a := range p.axes {
		if own[k], beside[k] = a.given.Own, a.given.Own; !between(a.given) {
			beside[k] = found[k]
		}
	}
	for _, start := range [][]float64{own, beside} {
		for k, a := range p.axes {
			if k >= 64 || w.on&(1<<k) == 0 || !between(a.given) {
				continue
			}
			const parts = 16
			before, from := nan, start
			for j := range parts + 1 {
				at := slices.Clone(start)
				at[k] = a.low + (a.high-a.low)*float64(j)/parts
				v := p.try(w, at, at, 0)
				if crosses(before, v) {
					if root, ok := p.narrow(w, from, at); ok {
						return p.words(root)
					}
				}
				before, from = v, at
			}
		}
	}
	return p.words(found)
}

func (p *poles) words(place []float64) string {
	var left []page.Setting
	for k, a := range p.axes {
		if place[k] != a.given.Own {
			left = append(left, page.Setting{Text: a.given.Name + " " + a.given.Shown(place[k]).Text})
		}
	}
	return settingsText(left)
}
