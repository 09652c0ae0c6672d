package formula

import (
	"math"
	"slices"
	"sort"
)

// The slopes of interpolations, which no formula contains as written. At a tested point the slope
// is that of the piece to its right, at the last point that of the piece to its left.
var (
	incline = &Operation{
		Form: "the slope of interpolate", Gives: "how fast the value changes between two tested points",
		Refuses:  true,
		operands: operands{column: true}, kinds: oneRowKind, rows: (*Search).around,
		work:   inclineWork(straightSlope),
		span:   inclineSpan(straightSlope),
		script: text("{help}({search})"),
		helper: &Helper{"si", "(search, ...values) => incline(search, values, (y0, y1, x0, x1) => (y1 - y0) / (x1 - x0))"},
		own:    ofTheShop,
	}
	inclineLog = &Operation{
		Form: "the slope of interpolate_log", Gives: "the same between the logarithms of both",
		Refuses:  true,
		operands: operands{column: true}, kinds: oneRowKind, rows: (*Search).around,
		work:   inclineWork(logSlope),
		span:   inclineSpan(logSlope),
		script: text("{help}({search})"),
		helper: &Helper{"sj", "(search, ...values) => incline(search, values, (y0, y1, x0, x1) => log(y1 / y0) / log(x1 / x0))"},
		own:    ofTheShop,
	}
)

func oneRowKind(_ *inference, n *Node) *Node { return n }

func straightSlope(x0, x1, y0, y1 float64) float64 { return (y1 - y0) / (x1 - x0) }

// logSlope is the exponent of the power that goes through two points.
func logSlope(x0, x1, y0, y1 float64) float64 { return math.Log(y1/y0) / math.Log(x1/x0) }

// inclined are the slopes of an interpolation: that of the piece for its x, jumps for its keys.
// Between logarithms, the piece is a power, whose slope is its exponent times the value by x.
func (n *Node) inclined(op *Operation) []*Node {
	out := make([]*Node, len(n.Args))
	out[0] = &Node{Op: op, Args: n.Args, Data: n.Data, Start: n.Start, End: n.End}
	if op == inclineLog {
		out[0] = made("/", made("*", out[0], n), n.Args[0])
	}
	return out
}

// pieces are the tested points of the rows that further keys choose, by rising x.
func (n *Node) pieces(values []float64) (xs, ys []float64) {
	for row := range n.Data.Result.Cells {
		if n.Data.matches(row, values, 1) {
			xs, ys = append(xs, n.Data.Keys[0].Cells[row]), append(ys, n.Data.Result.Cells[row])
		}
	}
	sort.Sort(points{xs, ys})
	return xs, ys
}

// points sorts two columns by the first.
type points struct{ xs, ys []float64 }

func (p points) Len() int           { return len(p.xs) }
func (p points) Less(i, j int) bool { return p.xs[i] < p.xs[j] }
func (p points) Swap(i, j int) {
	p.xs[i], p.xs[j] = p.xs[j], p.xs[i]
	p.ys[i], p.ys[j] = p.ys[j], p.ys[i]
}

func inclineWork(slope func(x0, x1, y0, y1 float64) float64) func(*Node, *Frame) float64 {
	return func(n *Node, f *Frame) float64 {
		values := n.keys(f, nil)
		xs, ys := n.pieces(values)
		if len(xs) < 2 {
			return 0 // a single point has no slope that matters: x is that point
		}
		i := min(max(1, sort.Search(len(xs), func(i int) bool { return xs[i] > values[0] })), len(xs)-1)
		return slope(xs[i-1], xs[i], ys[i-1], ys[i])
	}
}

func inclineSpan(slope func(x0, x1, y0, y1 float64) float64) func(Spans, *Node) Span {
	return func(s Spans, n *Node) Span {
		x, values, ok := n.keyValues(s)
		if !ok {
			return Everything
		}
		xs, ys := n.pieces(values)
		out := []float64{}
		for i := 1; i < len(xs); i++ {
			if xs[i] >= x.Low && xs[i-1] <= x.High {
				out = append(out, slope(xs[i-1], xs[i], ys[i-1], ys[i]))
			}
		}
		if len(out) == 0 {
			return Few(0)
		}
		return hull(out...)
	}
}

// keySpans are the spans of an operation's keys.
func (n *Node) keySpans(s Spans) []Span {
	out := make([]Span, len(n.Args))
	for i, a := range n.Args {
		out[i] = s.Of(a)
	}
	return out
}

// keyValues are the span of an interpolation's x and the values of its further keys, where
// each has one.
func (n *Node) keyValues(s Spans) (x Span, values []float64, ok bool) {
	spans := n.keySpans(s)
	values = make([]float64, len(spans))
	for i, k := range spans {
		if i > 0 && k.Low != k.High {
			return spans[0], nil, false
		}
		values[i] = k.Low
	}
	return spans[0], values, true
}

// between is the span of an interpolation: of its values at both ends of what x can be, and at
// the tested points between. Where the rows are not known it is that of all cells.
func between(line func(x0, x1, y0, y1, x float64) float64) func(Spans, *Node) Span {
	return func(s Spans, n *Node) Span {
		if n.Data.Live() != nil {
			return Everything
		}
		x, values, ok := n.keyValues(s)
		if !ok || len(n.Data.Result.Cells) > mostFew {
			return cells(s, n)
		}
		xs, ys := n.pieces(values)
		if len(xs) == 0 {
			return Few()
		}
		low, high := max(x.Low, xs[0]), min(x.High, xs[len(xs)-1])
		if low > high {
			if x.Holds(xs[0]) || x.Holds(xs[len(xs)-1]) {
				return cells(s, n) // within the noise of the last digits
			}
			return Few()
		}
		at := func(v float64) float64 {
			i, found := slices.BinarySearch(xs, v)
			if found {
				return ys[i]
			}
			return line(xs[i-1], xs[i], ys[i-1], ys[i], v)
		}
		out := []float64{at(low), at(high)}
		for i, v := range xs {
			if v > low && v < high {
				out = append(out, ys[i])
			}
		}
		return hull(out...)
	}
}
