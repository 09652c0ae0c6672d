package formula

import (
	"math"
	"slices"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Functions over the rows of a data file, all or those that keys choose. The rows of each
// set of keys are put together when the formula is inferred (see gather), so that a case
// looks up one value, however long the file is, and a script contains no rows.
var overRows = []*Operation{
	ofRows(Operation{
		Name: "sum", Form: "sum(file.column)", Gives: "the sum over the rows, zero if there are none",
		Example: Example{"sum(times.y, times.bath, 20 °C)", "1300 ml"},
		Tested:  true,
		kinds:   gathered(additive), over: sumOf,
	}, rowsOrZero, rowsOrZeroHelper),
	ofRows(Operation{
		Name: "mean", Form: "mean(file.column)", Gives: "the mean over the rows",
		Example: Example{"mean(times.minutes, times.bath, 18 °C)", "10 min"},
		Refuses: true,
		kinds:   gathered(itself), over: meanOf,
	}, rowsOrRefused, rowsOrRefusedHelper),
	ofRows(Operation{
		Name: "median", Form: "median(file.column)", Gives: "the middle value over the rows, or the mean of the two in the middle",
		Example: Example{"median(times.minutes)", "9 min 30 s"},
		Refuses: true,
		kinds:   gathered(itself), over: medianOf,
	}, rowsOrRefused, rowsOrRefusedHelper),
	ofRows(Operation{
		Name: "smallest", Form: "smallest(file.column)", Gives: "the smallest value over the rows",
		Example: Example{"smallest(times.bath)", "18 °C"},
		Refuses: true, Exact: true,
		kinds: gathered(itself), over: slices.Min[[]float64],
	}, rowsOrRefused, rowsOrRefusedHelper),
	ofRows(Operation{
		Name: "largest", Form: "largest(file.column)", Gives: "the largest value over the rows",
		Example: Example{`largest(times.x, times.bath, 18 °C)`, "16"},
		Refuses: true, Exact: true,
		kinds: gathered(itself), over: slices.Max[[]float64],
	}, rowsOrRefused, rowsOrRefusedHelper),
	ofRows(Operation{
		Name: "count", Form: "count(file.column)", Gives: "how many rows there are",
		Example: Example{`count(times.film, times.film, "sheet", times.bath, 18 °C)`, "1"},
		Exact:   true,
		kinds:   gathered(plainCount), over: func(cells []float64) float64 { return float64(len(cells)) },
	}, rowsOrZero, rowsOrZeroHelper),
	ofRows(Operation{
		Name: "deviation", Form: "deviation(file.column)", Gives: "the standard deviation of a sample: of two rows or more, divided by one less than there are",
		Example: Example{`deviation(times.x, times.bath, 20 °C)`, "42.42640687119285"},
		Refuses: true,
		kinds:   gathered(differenceKind), over: deviationOf,
	}, rowsOrRefused, rowsOrRefusedHelper),
	ofRows(Operation{
		Name: "first", Form: "first(file.column)", Gives: "the value of the first row, in the file's order",
		Example: Example{"first(times.minutes, times.bath, 20 °C)", "10 min"},
		Refuses: true, Exact: true,
		kinds: gathered(anyKind), over: func(cells []float64) float64 { return cells[0] },
	}, rowsOrRefused, rowsOrRefusedHelper),
	ofRows(Operation{
		Name: "last", Form: "last(file.column)", Gives: "the value of the last row, in the file's order",
		Example: Example{"last(times.y)", "1200 ml"},
		Refuses: true, Exact: true,
		kinds: gathered(anyKind), over: func(cells []float64) float64 { return cells[len(cells)-1] },
	}, rowsOrRefused, rowsOrRefusedHelper),
}

// ofRows completes an operation over rows with what they all share. work and helper look up the
// value of a set of keys, and decide what to do if it has no rows.
func ofRows(o Operation, work func(*Node, *Frame) float64, helper *Helper) *Operation {
	o.more, o.operands, o.rows = andKeys, keyedColumn(0), (*Search).chosen
	o.work, o.helper, o.live, o.script = work, helper, liveHelper, overScript
	o.span, o.slopes, o.Jumps = cellsOrZero, flat, true
	o.own = ofTheShop
	return &o
}

const andKeys = ", with file.key, key, … after it to choose the rows"

var (
	rowsOrZeroHelper = &Helper{"h", `(search, ...values) => {
			const row = chosenBy(search, values);
			return row < 0 ? 0 : finite(search[1][row]);
		}`}
	rowsOrRefusedHelper = &Helper{"n", `(search, ...values) => {
			const row = chosenBy(search, values), cell = search[1][row];
			if (row < 0) return lacking("norows", search, values);
			return cell !== cell ? lacking("fewrows", search, values) : finite(cell);
		}`}
)

// liveHelper works out a function over rows whose cells depend on values that can be set: how
// is its name. Cells are a list, or the place in the frame where they begin.
var liveHelper = &Helper{"v", `(s, how, search, ...values) => {
			const cell = (cells, row) => typeof cells === "number" ? s[cells + row] : cells[row];
			const found = [];
			for (const cells of [search[1], ...search[2].map((key) => key[1])]) if (typeof cells === "number") present(s, cells + search[3]);
			for (let row = 0; row < search[3]; row++) {
				if (search[2].every((key, i) => equal(cell(key[1], row), values[i]))) found.push(cell(search[1], row));
			}
			if (!found.length) return how === "sum" || how === "count" ? 0 : lacking("norows", search, values);
			return how === "deviation" && found.length < 2 ? lacking("fewrows", search, values) : finite(overRows[how](found));
		}`}

func overScript(w Writer, n *Node, _ func(*Node) string) string {
	if n.Data.Live() != nil {
		return w.Help(n.Op.live) + "(s," + w.Quoted(n.Op.Name) + "," + w.Search(n) + ")"
	}
	return w.Help(n.Op.helper) + "(" + w.Search(n) + ")"
}

// overNow works the function out over the rows of a case; ok is false if there is none.
func (n *Node) overNow(f *Frame, keys []float64) (v float64, ok bool) {
	cells := n.Data.chosenNow(f, keys)
	if len(cells) == 0 {
		return 0, false
	}
	return n.Op.over(cells), true
}

// rowsOrZero is the value of the rows that the keys choose, 0 if they choose none.
func rowsOrZero(n *Node, f *Frame) float64 {
	var buffer [8]float64
	keys := n.keys(f, buffer[:0])
	if n.Data.Live() != nil {
		if n.MissingSlot(f) >= 0 {
			return f.fail(Missing, n)
		}
		v, _ := n.overNow(f, keys)
		return n.finite(f, v)
	}
	row := n.Data.find(keys)
	if row < 0 {
		return 0
	}
	return n.finite(f, n.Data.Result.Cells[row])
}

// rowsOrRefused refuses where the keys choose no row, or too few of them.
func rowsOrRefused(n *Node, f *Frame) float64 {
	var buffer [8]float64
	keys := n.keys(f, buffer[:0])
	var v float64
	if n.Data.Live() != nil {
		if n.MissingSlot(f) >= 0 {
			return f.fail(Missing, n)
		}
		now, ok := n.overNow(f, keys)
		if !ok {
			return f.fail(NoRows, n)
		}
		if now != now && len(n.Data.chosenNow(f, keys)) > 1 {
			return n.finite(f, now) // a row failed
		}
		v = now
	} else {
		row := n.Data.find(keys)
		if row < 0 {
			return f.fail(NoRows, n)
		}
		v = n.Data.Result.Cells[row]
	}
	if math.IsNaN(v) {
		return f.fail(FewRows, n)
	}
	return n.finite(f, v)
}

// cellsOrZero is the span of the results that the keys can choose, and of 0 for no rows.
func cellsOrZero(s Spans, n *Node) Span {
	if n.Data.Live() != nil {
		return Everything
	}
	return chosenCells(s, n).or(Few(0))
}

// The kinds that come out, from that of the column; ok is false if it has none.
type kindOver func(quantity.Kind) (result quantity.Kind, ok bool)

func itself(k quantity.Kind) (quantity.Kind, bool) {
	return k, k.Sort == quantity.Measure || k.Sort == quantity.Point
}

// additive takes kinds whose values add, which temperatures on a scale do not.
func additive(k quantity.Kind) (quantity.Kind, bool) { return k, k.Sort == quantity.Measure }

// differenceKind is the kind of what lies between two values.
func differenceKind(k quantity.Kind) (quantity.Kind, bool) {
	_, ok := itself(k)
	return k.Difference(), ok
}

func anyKind(k quantity.Kind) (quantity.Kind, bool) { return k, true }

func plainCount(quantity.Kind) (quantity.Kind, bool) { return quantity.Number, true }

// gathered infers the kind and puts the rows of each set of keys together.
func gathered(kind kindOver) func(*inference, *Node) *Node {
	return func(in *inference, n *Node) *Node {
		result, ok := kind(n.Data.Result.Kind)
		if !ok {
			return in.fail(source.RowsOfKind(n.Op.Name, n.Data.Result.Name, n.Data.Result.Kind.Name()), n.Start, n.End)
		}
		n.Kind = result
		if result == quantity.Text {
			n.Words = n.Data.Result.Words
		}
		if n.Data.Live() == nil {
			n.Data = n.Data.gather(n.Op.over)
		}
		return onDay(n) // the mean of two dates may be a noon
	}
}
