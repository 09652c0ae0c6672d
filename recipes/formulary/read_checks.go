package formulary

import (
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

func (r *reader) checks(e *Entry, v *tree.Value, at source.Span) {
	all := v.Get("checks")
	if all == nil || all.Shape != tree.List || len(all.Items) == 0 {
		r.report(source.MissingKey("checks", "checks: and a list of at, expect and source"), at)
		return
	}
	for _, item := range all.Items {
		if item.Shape != tree.Mapping || len(item.Keys) == 0 {
			r.report(source.WantsShape("a check", "a set of keys: at, expect and source"), item.Span)
			continue
		}
		r.known(item, "at", "expect", "source")
		c := Check{span: item.Keys[0].Span, Source: r.source(item, item.Keys[0].Span)}
		ok := r.at(e, &c, item)
		expect := r.needs(item, "expect", "expect: 9.9 ml ± 0.01 ml, or expect: refused", c.span)
		if expect == "" {
			continue
		}
		c.span = item.Get("expect").Span
		if expect == "refused" {
			c.Refused = true
		} else {
			want, t := quantity.ParseExpected(item.Get("expect").Text)
			if t != nil {
				r.report(t.Problem, item.Get("expect").Place(t.Start, t.End))
				continue
			}
			c.Expect = want
		}
		if ok {
			e.Checks = append(e.Checks, c)
		}
	}
}

// at reads a check's values, one for each parameter.
func (r *reader) at(e *Entry, c *Check, item *tree.Value) bool {
	at := item.Get("at")
	if at == nil || at.Shape != tree.Mapping {
		r.report(source.MissingKey("at", "at: and a value for each parameter"), item.Keys[0].Span)
		return false
	}
	if r.partial {
		return false
	}
	ok := true
	c.At = make([]quantity.Value, len(e.Params))
	set := make([]bool, len(e.Params))
	for i, k := range at.Keys {
		n := e.param(k.Text)
		if n < 0 {
			r.report(source.UnknownParameter(k.Text, source.Nearest(k.Text, e.names())), k.Span)
			ok = false
			continue
		}
		v := at.Items[i]
		if v.Shape != tree.Scalar {
			r.report(source.WantsShape(k.Text, "a quantity such as 500 ml"), v.Span)
			ok = false
			continue
		}
		q, t := quantity.Parse(v.Text)
		if t != nil {
			r.report(t.Problem, v.Place(t.Start, t.End))
			ok = false
			continue
		}
		c.At[n], set[n] = q, true
		if p := e.Params[n]; p.Fit.Like == "" && p.Fit.Kind.Sort != quantity.Unknown && p.Fit.Kind.Money == 0 && q.Kind != p.Fit.Kind {
			r.report(source.WantsKind(k.Text, p.Fit.Words(), q.Kind.Name()), v.Span)
			ok = false
		}
	}
	for n, p := range e.Params {
		if !set[n] && ok {
			r.report(source.BenchNotSet(p.Name), at.Span)
			ok = false
		}
	}
	return ok
}
