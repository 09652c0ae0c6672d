package prove

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"math"
	"reflect"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// Spread is what a labelled figure comes to over the cases in which a page is tried.
type Spread struct {
	Figure         *page.Figure
	Cases, Refused int
	// Least and Most are its ends as shown; "" if no case has a number, or it is a text or a
	// yes/no.
	Least, Most string
	// Sum is a digest of its values in all cases: two pages that are tried in the same cases and
	// have the same sum have the same values.
	Sum string
}

// binaryNoise is how many of the last bits of a value a sum ignores; the others are more than
// nine digits.
const binaryNoise = 20

// Spreads works out the spread of each labelled figure; nil if ctx ends meanwhile. If the page
// was proved, Proof.Spreads already has them.
func Spreads(ctx context.Context, s *page.Sheet) []Spread {
	x := newSpreading(s)
	if len(x.out) == 0 {
		return nil
	}
	run := NewCase(s)
	EachCase(s, run, func() bool {
		run.Work()
		x.take(run)
		return ctx.Err() == nil
	})
	if ctx.Err() != nil {
		return nil
	}
	return x.end()
}

// spreading collects the spreads of a page's labelled figures, case by case.
type spreading struct {
	out            []Spread
	sums           []hash.Hash
	low, high      []float64
	cases, refused int
}

func newSpreading(s *page.Sheet) *spreading {
	x := new(spreading)
	for _, f := range s.Figures {
		if f.Label != "" && f.Node != nil {
			x.out = append(x.out, Spread{Figure: f})
			x.sums = append(x.sums, sha256.New())
			x.low, x.high = append(x.low, math.Inf(1)), append(x.high, math.Inf(-1))
		}
	}
	return x
}

// take adds a case that was just worked out.
func (x *spreading) take(run *Case) {
	x.cases++
	gone := run.Refused() || len(run.Failed) > 0
	if gone {
		x.refused++
	}
	var b [8]byte
	for i := range x.out {
		v := math.NaN()
		if !gone {
			v = run.Frame.V[x.out[i].Figure.Slot]
			x.low[i], x.high[i] = min(x.low[i], v), max(x.high[i], v)
		}
		binary.LittleEndian.PutUint64(b[:], steady(v))
		x.sums[i].Write(b[:])
	}
}

// end returns the spreads over the cases that were taken.
func (x *spreading) end() []Spread {
	for i := range x.out {
		o := &x.out[i]
		o.Cases, o.Refused, o.Sum = x.cases, x.refused, hex.EncodeToString(x.sums[i].Sum(nil)[:12])
		if k := o.Figure.Kind.Sort; k != quantity.Word && k != quantity.YesNo && x.low[i] <= x.high[i] {
			o.Least, o.Most = o.Figure.Show.Format(x.low[i]).Text, o.Figure.Show.Format(x.high[i]).Text
		}
	}
	return x.out
}

// steady is a value's bits without the last ones, which may change when a formula is rewritten.
func steady(v float64) uint64 {
	if math.IsNaN(v) {
		return math.MaxUint64
	}
	return (math.Float64bits(v) + 1<<(binaryNoise-1)) >> binaryNoise
}

// Change is a figure that two states of a page show differently at the same settings.
type Change struct {
	Figure *page.Figure
	// At are the given values of the case that are not the page's own, as "rolls 2"; "" at its
	// own values.
	At string
	// Before and After are as shown; NoNumber where the case has none.
	Before, After string
	// Moved is in how many of Cases cases the two differ; they differ most in this one.
	Moved, Cases int
}

// NoNumber stands for a number that a page refuses.
const NoNumber = "no number"

// LargestChanges finds, for each labelled figure that both states of a page have, the case in which
// it differs most as shown. The cases are those of the new state, without those that the old one
// cannot be set to. If ctx ends meanwhile, there is no result.
func LargestChanges(ctx context.Context, old, now *page.Sheet) []Change {
	p := newPair(old, now)
	EachCase(now, p.now, func() bool {
		p.compare()
		return ctx.Err() == nil
	})
	if ctx.Err() != nil {
		return nil
	}
	var out []Change
	for _, x := range p.figures {
		if x.Moved > 0 {
			x.Cases = p.cases
			out = append(out, x.Change)
		}
	}
	return out
}

// pair is a page in two states, worked out side by side.
type pair struct {
	old, now *Case
	figures  []*moved
	cases    int
}

type moved struct {
	Change
	was *page.Figure
	// alike says that both states show a value in the same form, so that equal values need not be
	// formatted to be compared.
	alike bool
	by    float64 // how much, as a share of the larger; infinite if one has no number
	set   int     // how many given values are not the page's own in that case
}

func newPair(old, now *page.Sheet) *pair {
	p := &pair{old: NewCase(old), now: NewCase(now)}
	for _, f := range now.Figures {
		if was := old.Figure(f.Name); f.Label != "" && f.Node != nil && was != nil && was.Node != nil {
			p.figures = append(p.figures, &moved{Change: Change{Figure: f}, was: was, alike: reflect.DeepEqual(f.Show, was.Show) && f.Kind.Sort != quantity.Word})
		}
	}
	return p
}

// set sets the old state to the values of the new one; false if it does not take them.
func (p *pair) set() bool {
	for _, was := range p.old.Sheet.Given {
		g := p.now.Sheet.GivenNamed(was.Name)
		if g == nil || !was.Settable() || !g.Settable() || g.Kind != was.Kind {
			continue // each keeps its own value
		}
		v := p.now.Frame.V[g.Slot]
		if len(g.Words) > 0 {
			found := -1
			for i, w := range was.Words {
				if int(v) < len(g.Words) && w == g.Words[int(v)] {
					found = i
				}
			}
			if v = float64(found); found < 0 {
				return false
			}
		}
		if !was.Takes(v) {
			return false
		}
		p.old.Set(was, v)
	}
	return true
}

func (p *pair) compare() {
	if !p.set() {
		return
	}
	p.cases++
	p.old.Work()
	p.now.Work()
	text := func(c *Case, f *page.Figure) string {
		if c.Refused() || len(c.Failed) > 0 {
			return NoNumber
		}
		return c.Shown(f).Text
	}
	fine := !p.old.Refused() && !p.now.Refused() && len(p.old.Failed)+len(p.now.Failed) == 0
	for _, x := range p.figures {
		if fine && x.alike && p.old.Frame.V[x.was.Slot] == p.now.Frame.V[x.Figure.Slot] {
			continue
		}
		before, after := text(p.old, x.was), text(p.now, x.Figure)
		if before == after {
			continue
		}
		x.Moved++
		by := math.Inf(1)
		if before != NoNumber && after != NoNumber {
			a, b := p.old.Frame.V[x.was.Slot], p.now.Frame.V[x.Figure.Slot]
			by = math.Abs(b-a) / max(math.Abs(a), math.Abs(b), math.SmallestNonzeroFloat64)
		}
		if set := p.now.countSet(); x.Moved == 1 || by > x.by*asLarge || by*asLarge > x.by && set < x.set {
			x.by, x.set, x.At, x.Before, x.After = by, set, p.now.apartText(), before, after
		}
	}
}

// asLarge is the ratio up to which two changes count as equally large, so that the one with fewer
// settings is chosen.
const asLarge = 1.01

// countSet counts the given values of a case that are not the page's own.
func (c *Case) countSet() int {
	n := 0
	for _, g := range c.Sheet.Given {
		if c.Frame.V[g.Slot] != g.Own {
			n++
		}
	}
	return n
}

// apartText says which given values of a case are not the page's own.
func (c *Case) apartText() string {
	var set []page.Setting
	for _, g := range c.Sheet.Given {
		if v := c.Frame.V[g.Slot]; v != g.Own {
			set = append(set, page.Setting{Text: g.Name + " " + g.Shown(v).Text})
		}
	}
	if len(set) == 0 {
		return ""
	}
	return settingsText(set)
}
