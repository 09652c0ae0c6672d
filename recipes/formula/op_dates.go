package formula

import (
	"math"
	"slices"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// OnDay is the date on which a moment falls. It wraps a sum, a difference or a mean whose result
// is a date.
var OnDay = &Operation{
	Form: "date + time", Gives: "the date on which that moment falls; also date - time",
	Example:  Example{"2026-11-28 + 36 h", "2026-11-29"},
	Tested:   true,
	operands: anything(1),
	kinds: func(_ *inference, n *Node) *Node {
		n.Kind = quantity.Date
		return n
	},
	slopes: flat, Jumps: true,
	work:   func(n *Node, f *Frame) float64 { return n.finite(f, quantity.OnDay(n.Args[0].Eval(f))) },
	span:   spanned(daySpan),
	script: text("{help}({1})"), helper: &Helper{"D", "onDay"},
}

// Functions of the calendar.
var dates = []*Operation{
	OnDay,
	{
		Name: "months_after", Form: "months_after(d, n)", Gives: "the same day n calendar months on, or the last day of a month that is too short",
		Example: Example{"months_after(2026-01-31, 1)", "2026-02-28"},
		Tested:  true,
		slopes:  flat, Jumps: true,
		operands: quantities(2, 2), kinds: counted,
		work: func(n *Node, f *Frame) float64 {
			return n.finite(f, quantity.MonthsAfter(n.Args[0].Eval(f), n.Args[1].Eval(f)))
		},
		span: spanned2(func(d, months Span) Span {
			// a month has 28 to 31 days
			least := min(months.Low*28, months.Low*31) - 3
			most := max(months.High*28, months.High*31) + 3
			return daySpan(Between(d.Low+least*quantity.DayLength, d.High+most*quantity.DayLength))
		}),
		script: text("{help}({all})"), helper: &Helper{"M", "monthsAfter"},
	},
	{
		Name: "workdays_after", Form: "workdays_after(d, n, file.day)", Gives: "the n-th day on, counting Monday to Friday without the dates of the column, which may be left out",
		Example: Example{"workdays_after(2026-11-27, 1)", "2026-11-30"},
		Tested:  true,
		slopes:  flat, Jumps: true,
		operands: operands{least: 2, most: 2, each: (*inference).arithmetic, thenColumn: true}, kinds: workdays, rows: (*Search).closedAfter,
		work: func(n *Node, f *Frame) float64 {
			var closed []float64
			if n.Data != nil {
				closed = n.Data.Result.Cells
			}
			return n.finite(f, quantity.WorkdaysAfter(n.Args[0].Eval(f), n.Args[1].Eval(f), closed))
		},
		span: func(s Spans, n *Node) Span {
			d, count := s.Of(n.Args[0]), s.Of(n.Args[1])
			closed := 0.0
			if n.Data != nil {
				closed = float64(len(n.Data.Result.Cells))
			}
			most := func(days float64) float64 { return (math.Abs(days) + closed + 5) * 2 * quantity.DayLength }
			out := d
			if count.High > 0 {
				out.High += most(count.High)
			}
			if count.Low < 0 {
				out.Low -= most(count.Low)
			}
			return Between(out.Low, out.High)
		},
		script: func(w Writer, n *Node, _ func(*Node) string) string {
			if n.Data == nil {
				return w.Help(n.Op.helper) + "(0," + values(w, n, ",") + ")"
			}
			return w.Help(n.Op.helper) + "(" + w.Search(n) + ")"
		},
		helper: &Helper{"W", "(search, d, n) => workdaysAfter(d, n, search ? search[1] : [])"},
	},
	{
		Name: "weekday", Form: "weekday(d)", Gives: "the day of the week, 1 for Monday to 7 for Sunday",
		Example: Example{"weekday(2026-11-28)", "6"},
		Tested:  true,
		slopes:  flat, Jumps: true,
		operands: quantities(1, 1), kinds: fromTo(quantity.Date, quantity.Number),
		work:   func(n *Node, f *Frame) float64 { return n.finite(f, quantity.Weekday(n.Args[0].Eval(f))) },
		span:   func(Spans, *Node) Span { return Few(1, 2, 3, 4, 5, 6, 7) },
		script: text("{help}({1})"), helper: &Helper{"K", "weekday"},
	},
}

// daySpan is the span of the days on which moments fall.
func daySpan(x Span) Span {
	return Between(math.Floor(x.Low/quantity.DayLength-1e-6)*quantity.DayLength, math.Ceil(x.High/quantity.DayLength)*quantity.DayLength)
}

// counted needs a date and a plain number.
func counted(in *inference, n *Node) *Node {
	d, count := n.Args[0], n.Args[1]
	if d.Kind != quantity.Date {
		return in.fail(source.WantsKind(n.Op.Form, quantity.Date.Name(), d.Kind.Name()), d.Start, d.End)
	}
	if count.Kind != quantity.Number {
		return in.fail(source.WantsKind("n in "+n.Op.Form, quantity.Number.Name(), count.Kind.Name()), count.Start, count.End)
	}
	if count.Op == Num && !quantity.Equal(count.Value, math.Round(count.Value)) {
		return in.fail(source.CountWhole(n.Op.Form), count.Start, count.End)
	}
	n.Kind = quantity.Date
	return n
}

// workdays takes a column of dates as well, of which it keeps those from Monday to Friday,
// each once and in order.
func workdays(in *inference, n *Node) *Node {
	if n.Data != nil {
		if n.Data.Result.Kind != quantity.Date {
			return in.fail(source.WantsKind(n.Op.Form, "a column of dates", n.Data.Result.KindName()), n.Start, n.End)
		}
		var closed []float64
		for _, d := range n.Data.Result.Cells {
			if quantity.Weekday(d) <= 5 {
				closed = append(closed, d)
			}
		}
		slices.Sort(closed)
		n.Data.Result.Cells = slices.Compact(closed)
	}
	return counted(in, n)
}

// closedAfter lists the closed days that counting from some dates can meet.
func (s *Search) closedAfter(args []Span) []int {
	var rows []int
	for row, d := range s.Result.Cells {
		if (args[1].Low < 0 || d > args[0].Low) && (args[1].High > 0 || d < args[0].High) {
			rows = append(rows, row)
		}
	}
	return rows
}
