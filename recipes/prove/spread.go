package prove

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash"
	"math"

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
	x := newSpreadCollector(s)
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

// spreadCollector collects the spreads of a page's labelled figures, case by case.
type spreadCollector struct {
	out            []Spread
	sums           []hash.Hash
	low, high      []float64
	cases, refused int
}

func newSpreadCollector(s *page.Sheet) *spreadCollector {
	x := new(spreadCollector)
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
func (x *spreadCollector) take(run *Case) {
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
			if !math.IsNaN(v) { // a figure replaced by its else
				x.low[i], x.high[i] = min(x.low[i], v), max(x.high[i], v)
			}
		}
		binary.LittleEndian.PutUint64(b[:], steady(v))
		x.sums[i].Write(b[:])
	}
}

// end returns the spreads over the cases that were taken.
func (x *spreadCollector) end() []Spread {
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
