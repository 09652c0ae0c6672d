package formula

import (
	"math"
	"slices"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Functions over the rows of a data file. Their columns are in Data, their keys are the
// operands.
var fromData = []*Operation{
	{
		Name: "lookup", Form: "lookup(file.result, file.key, key, …)", Gives: "the cell of the row whose keys are these",
		Example:  Example{`lookup(times.minutes, times.film, "roll", times.bath, 20 °C)`, "10 min"},
		Refuses:  true,
		operands: keyedColumn(1), kinds: oneRow, rows: (*Search).chosen,
		work: func(n *Node, f *Frame) float64 {
			var buffer [8]float64
			row := n.Data.find(n.keys(f, buffer[:0]))
			if n.Data.Result.Live && n.MissingSlot(f) >= 0 {
				return f.fail(Missing, n)
			}
			if row < 0 {
				return f.fail(NoRow, n)
			}
			return n.finite(f, n.Data.Result.Cell(f, row))
		},
		span:   chosenCells,
		slopes: flat, Jumps: true,
		script: searchScript,
		live: &Helper{"xl", `(s, search, ...values) => {
			const now = cellsNow(s, search), row = chosenBy(now, values);
			return row < 0 ? unfound("norow", search, values) : finite(now[1][row]);
		}`},
		helper: &Helper{"x", `(search, ...values) => {
			const row = chosenBy(search, values);
			return row < 0 ? unfound("norow", search, values) : search[1][row];
		}`},
		asked: AgainstZero,
		own:   ofTheShop,
	},
	{
		Name: "interpolate", Form: "interpolate(file.result, file.x, x)", Gives: "the value on the straight line between the two tested points on either side of x, never beyond them",
		more:     ", with file.key, key, … after x to choose the rows",
		Example:  Example{`interpolate(times.minutes, times.bath, 19 °C, times.film, "roll")`, "10 min 30 s"},
		Refuses:  true,
		operands: keyedColumn(1), kinds: curve, rows: (*Search).around,
		work: func(n *Node, f *Frame) float64 {
			return n.interpolated(f, interpolateStraight)
		},
		span:   between(interpolateStraight),
		slopes: func(n *Node) []*Node { return n.inclined(incline) },
		script: searchScript,
		live:   &Helper{"il", "(s, search, ...values) => between(cellsNow(s, search), values, (y0, y1, x0, x1, x) => y0 + (y1 - y0) * ((x - x0) / (x1 - x0)))"},
		helper: &Helper{"i", "(search, ...values) => between(search, values, (y0, y1, x0, x1, x) => y0 + (y1 - y0) * ((x - x0) / (x1 - x0)))"},
		own:    ofTheShop,
	},
	{
		Name: "interpolate_log", Form: "interpolate_log(file.result, file.x, x)", Gives: "the same on a straight line between the logarithms of both",
		more:     ", with file.key, key, … after x to choose the rows",
		Example:  Example{"interpolate_log(times.y, times.x, 2)", "10 ml"},
		Refuses:  true,
		operands: keyedColumn(1), kinds: logCurve, rows: (*Search).around,
		work: func(n *Node, f *Frame) float64 {
			return n.interpolated(f, interpolateLog)
		},
		span:   between(interpolateLog),
		slopes: func(n *Node) []*Node { return n.inclined(inclineLog) },
		script: searchScript,
		live: &Helper{"jl", `(s, search, ...values) => between(cellsNow(s, search), values, (y0, y1, x0, x1, x) =>
			exp(log(y0) + (log(y1) - log(y0)) * ((log(x) - log(x0)) / (log(x1) - log(x0)))))`},
		helper: &Helper{"j", `(search, ...values) => between(search, values, (y0, y1, x0, x1, x) =>
			exp(log(y0) + (log(y1) - log(y0)) * ((log(x) - log(x0)) / (log(x1) - log(x0)))))`},
		own: ofTheShop,
	},
}

// searchScript calls an operation's helper, or the one for a column whose cells depend on values
// that can be set.
func searchScript(w Writer, n *Node, _ func(*Node) string) string {
	if n.Data.Live() != nil {
		return w.Help(n.Op.live) + "(s," + w.Search(n) + ")"
	}
	return w.Help(n.Op.helper) + "(" + w.Search(n) + ")"
}

func interpolateStraight(x0, x1, y0, y1, x float64) float64 { return y0 + (y1-y0)*((x-x0)/(x1-x0)) }

func interpolateLog(x0, x1, y0, y1, x float64) float64 {
	share := (math.Log(x) - math.Log(x0)) / (math.Log(x1) - math.Log(x0))
	return math.Exp(math.Log(y0) + (math.Log(y1)-math.Log(y0))*share)
}

// ofTheShop is the ownership of data: a data file is the shop's own.
func ofTheShop(*Node) Ownership { return Owned }

// cells is the span of the result's column.
func cells(_ Spans, n *Node) Span {
	s := Few(n.Data.Result.Cells...)
	return Span{Low: s.Low, High: s.High}
}

// chosenCells is the span of the cells of the rows that the keys can choose.
func chosenCells(s Spans, n *Node) Span {
	if n.Data.Live() != nil {
		return Everything
	}
	spans := make([]Span, len(n.Args))
	for i, a := range n.Args {
		spans[i] = s.Of(a)
	}
	distinct := map[float64]bool{}
	values := []float64{}
	for _, row := range n.Data.chosen(spans) {
		if v := n.Data.Result.Cells[row]; !distinct[v] && v == v { // not a number: refused
			distinct[v] = true
			values = append(values, v)
		}
	}
	x := Few(values...)
	if len(values) > mostFew {
		return Span{Low: x.Low, High: x.High}
	}
	return x
}

// keys computes the keys, into the caller's buffer so that nothing is allocated.
func (n *Node) keys(f *Frame, buffer []float64) []float64 {
	for _, a := range n.Args {
		buffer = append(buffer, a.Eval(f))
	}
	return buffer
}

// interpolated works between the two points on either side of the first key.
func (n *Node) interpolated(f *Frame, between func(x0, x1, y0, y1, x float64) float64) float64 {
	var buffer [8]float64
	values := n.keys(f, buffer[:0])
	if n.Data.Result.Live && n.MissingSlot(f) >= 0 {
		return f.fail(Missing, n)
	}
	low, high, ok := n.Data.between(values)
	if !ok && low == high { // the further keys choose no row
		return f.fail(NoRow, n)
	}
	if !ok {
		return f.fail(Beyond, n)
	}
	xs, y0, y1 := n.Data.Keys[0].Cells, n.Data.Result.Cell(f, low), n.Data.Result.Cell(f, high)
	if low == high {
		return n.finite(f, y0)
	}
	return n.finite(f, between(xs[low], xs[high], y0, y1, values[0]))
}

// oneRow needs rows that their keys tell apart, and keys that stay as they are: cells that follow
// settings could give two rows the same key.
func oneRow(in *inference, n *Node) *Node {
	for _, k := range n.Data.Keys {
		if k.Live {
			return in.fail(source.LiveColumn(n.Op.Name, k.Name), n.Start, n.End)
		}
	}
	if a, b, twice := n.Data.repeated(); twice {
		return in.fail(source.RowsWithOneKey(n.Data.Result.File, n.Data.Result.Lines[a], n.Data.Result.Lines[b]), n.Start, n.End)
	}
	n.Kind, n.Words = n.Data.Result.Kind, n.Data.Result.Words
	return n
}

// curve needs an x that is not a text either, and a result that is not a date.
func curve(in *inference, n *Node) *Node {
	if n.Data.Result.Kind == quantity.Date {
		return in.fail(source.DateBetween(), n.Start, n.End)
	}
	if n.Data.Keys[0].Kind.Sort == quantity.Word || n.Data.Result.Kind.Sort == quantity.Word {
		return in.fail(source.WantsKind(n.Op.Form, "a column of numbers", "a column of texts"), n.Start, n.End)
	}
	return oneRow(in, n)
}

// logCurve needs points that have logarithms.
func logCurve(in *inference, n *Node) *Node {
	x, y := n.Data.Keys[0], n.Data.Result
	words := x.Kind.Sort == quantity.Word || y.Kind.Sort == quantity.Word
	none := func(v float64) bool { return v <= 0 }
	if !words && (y.Kind.IsPoint() || x.Kind.IsPoint() || slices.ContainsFunc(x.Cells, none) || slices.ContainsFunc(y.Cells, none)) {
		return in.fail(source.LogOfNothing(), n.Start, n.End)
	}
	return curve(in, n)
}
