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

// Spread is a labelled figure over the cases that a page is tried over.
type Spread struct {
	Figure         *page.Figure
	Cases, Refused int
	// Least and Most are its ends as shown; "" if no case has a number, or where it is a
	// text or a yes/no.
	Least, Most string
	// Sum is a digest of its values in all cases, so that two pages that are tried over the
	// same cases and have one sum have the same values.
	Sum string
}

// binaryNoise is how many of the last bits of a value a sum does not take in: what is left is
// more than nine digits.
const binaryNoise = 20

// Spreads gives the labelled figures of a page over its cases; nil where ctx ended meanwhile.
// Where the page was proved, Proof.Spreads has them already.
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

// spreading gathers the labelled figures of a page over its cases, one case after the other.
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

// end sums up the cases that were taken.
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

// steady is a value's bits without those that differ where a formula is written another way.
func steady(v float64) uint64 {
	if math.IsNaN(v) {
		return math.MaxUint64
	}
	return (math.Float64bits(v) + 1<<(binaryNoise-1)) >> binaryNoise
}

// Change is a figure that two states of a page show differently in a case that a reader can set.
type Change struct {
	Figure *page.Figure
	// At are the given values of the case that are not the page's own, as "rolls 2"; "" at its
	// own values.
	At string
	// Before and After are as shown; NoNumber where the case has none.
	Before, After string
	// Moved is in how many of Cases cases the two differ; this one differs most.
	Moved, Cases int
}

// NoNumber stands for a number that a page refuses.
const NoNumber = "no number"

// LargestChanges finds, for each labelled figure that both states of a page have, the case of the new
// one in which it differs most from the old one as shown. Cases that the old state does not
// take are left out. It gives nothing where ctx ended meanwhile.
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
	// alike says that both states write a value the same way, so that equal values need not be
	// written to be compared.
	alike bool
	by    float64 // how much, as a share of the larger; infinite where one has no number
	set   int     // how many given values are not the page's own there
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

// set gives the old state the values of the new one; false if it does not take them.
func (p *pair) set() bool {
	for _, was := range p.old.Sheet.Given {
		g := p.now.Sheet.GivenNamed(was.Name)
		if g == nil || !was.Settable() || !g.Settable() || g.Kind != was.Kind {
			continue // each has its own
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
		if set := p.now.set(); x.Moved == 1 || by > x.by*alike || by*alike > x.by && set < x.set {
			x.by, x.set, x.At, x.Before, x.After = by, set, p.now.apartText(), before, after
		}
	}
}

// alike is how far apart two changes are at most that count as one, so that the plainer case is told.
const alike = 1.01

// set counts the given values of a case that are not the page's own.
func (c *Case) set() int {
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
