package formulary

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// bounds reads a parameter's own range and makes the guards of it.
func (r *reader) bounds(e *Entry, n int, v *tree.Value) {
	p := &e.Params[n]
	p.Whole = r.truth(v.Get("whole"), "whole")
	if p.Whole && p.Fit != (formula.Fit{}) {
		r.report(source.WantsKind("whole", quantity.Number.Name(), p.Fit.Words()), v.Get("whole").Span)
	}
	var conditions []string
	values := map[string]float64{}
	for _, end := range []struct {
		key, sign string
		into      *string
	}{{"from", "<", &p.Range.From}, {"above", "<=", &p.Range.Above}, {"to", ">", &p.Range.To}, {"below", ">=", &p.Range.Below}} {
		if q, limit, ok := r.rangeEnd(p, end.key, v.Get(end.key)); ok {
			*end.into = q.Text
			values[end.key] = q.Base
			conditions = append(conditions, p.Name+" "+end.sign+" "+limit)
		}
	}
	if p.Range.From != "" && p.Range.Above != "" || p.Range.To != "" && p.Range.Below != "" {
		r.report(source.BenchEndTwice(), v.Span)
	}
	lowKey, okLow := "from", p.Range.From != ""
	if p.Range.Above != "" {
		lowKey, okLow = "above", true
	}
	highKey, okHigh := "to", p.Range.To != ""
	if p.Range.Below != "" {
		highKey, okHigh = "below", true
	}
	if okLow && okHigh && !quantity.Less(values[lowKey], values[highKey]) {
		r.report(source.EndsTurned(lowKey, p.Range.From+p.Range.Above, highKey, p.Range.To+p.Range.Below), v.Span)
	}
	if len(conditions) > 0 {
		r.guard(e, strings.Join(conditions, " or "), source.BenchOutOfRange(p.Label, p.Range.From, p.Range.Above, p.Range.To, p.Range.Below))
	}
	if p.Whole {
		r.guard(e, p.Name+" != round("+p.Name+", 1)", source.BenchWhole(p.Label))
	}
}

// rangeEnd reads one end of a parameter's range, and how a formula writes it.
func (r *reader) rangeEnd(p *Param, key string, at *tree.Value) (q quantity.Value, limit string, ok bool) {
	text := r.text(at, key)
	if text == "" {
		return q, "", false
	}
	q, t := quantity.Parse(text)
	if t != nil {
		r.report(t.Problem, at.Place(t.Start, t.End))
		return q, "", false
	}
	fixed := p.Fit.Like == "" && p.Fit.Kind.Sort != quantity.Unknown
	switch {
	case text == "0" && fixed && p.Fit.Kind == quantity.Number:
		return q, "0", true
	case text == "0" && p.Fit.Kind != quantity.Scale:
		return q, "0 * " + p.Name, true // zero of whatever kind
	case !fixed || q.Kind != p.Fit.Kind:
		r.report(source.WantsKind(key, p.Fit.Words(), q.Kind.Name()), at.Span)
		return q, "", false
	case q.Form == quantity.Dilution || q.Form == quantity.Aperture:
		r.report(source.NotANumber(text), at.Span)
		return q, "", false
	}
	return q, text, true
}

// guard adds a condition that the program wrote.
func (r *reader) guard(e *Entry, when, reason string) {
	f, list := formula.Parse(when, nil)
	if f == nil {
		r.list = append(r.list, source.TradeFails(e.Name, list[0].Message).At(e.span))
		return
	}
	e.trade.Guards = append(e.trade.Guards, formula.TradeGuard{When: f, Reason: reason})
}

func (r *reader) tested(e *Entry, n int, v *tree.Value) {
	p := &e.Params[n]
	if v.Shape != tree.List || len(v.Items) != 2 {
		r.report(source.BenchTested(), v.Span)
		return
	}
	ends := [2]int{}
	for i, item := range v.Items {
		name := r.text(item, "tested")
		ends[i] = e.param(name)
		if ends[i] < 0 {
			r.report(source.UnknownParameter(name, source.Nearest(name, e.names())), item.Span)
			return
		}
	}
	p.Lowest, p.Highest = e.Params[ends[0]].Name, e.Params[ends[1]].Name
	e.trade.Windows = append(e.trade.Windows, formula.Window{Value: n, Lowest: ends[0], Highest: ends[1]})
	r.guard(e, p.Name+" < "+p.Lowest+" or "+p.Name+" > "+p.Highest, source.BenchNotTested(p.Label))
}

func (r *reader) outside(e *Entry, v *tree.Value) {
	if v == nil {
		return
	}
	if v.Shape != tree.List {
		r.report(source.WantsShape("outside", "a list of which, when and reason"), v.Span)
		return
	}
	for _, item := range v.Items {
		if item.Shape != tree.Mapping {
			r.report(source.WantsShape("outside", "a list of which, when and reason"), item.Span)
			continue
		}
		r.known(item, "which", "when", "reason")
		which := r.needs(item, "which", "which: and the name of a parameter", item.Span)
		when := r.needs(item, "when", "when: and a formula that holds outside the range", item.Span)
		reason := r.needs(item, "reason", "reason: and why, for the reader", item.Span)
		if which == "" || when == "" || reason == "" {
			continue
		}
		n := e.param(which)
		if n < 0 && r.partial {
			continue
		}
		if n < 0 {
			r.report(source.UnknownParameter(which, source.Nearest(which, e.names())), item.Get("which").Span)
			continue
		}
		f := r.formula(item.Get("when"), "when")
		if f == nil {
			continue
		}
		e.Outside = append(e.Outside, Condition{Param: which, When: when, Reason: reason})
		e.trade.Guards = append(e.trade.Guards, formula.TradeGuard{When: f, Reason: e.Params[n].Label + ": " + reason})
	}
}

func (r *reader) notWhen(e *Entry, v *tree.Value) {
	switch {
	case v == nil:
	case v.Shape == tree.List:
		for _, item := range v.Items {
			e.NotWhen = append(e.NotWhen, r.text(item, "not_when"))
		}
	default:
		if text := r.text(v, "not_when"); text != "" {
			e.NotWhen = []string{text}
		}
	}
}
