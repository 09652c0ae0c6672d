package formulary

import (
	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

func (r *reader) params(e *Entry, v *tree.Value) {
	if v == nil || v.Shape != tree.Mapping || len(v.Keys) == 0 {
		r.report(source.MissingKey("takes", "takes: and a name with label and kind for each parameter"), e.span)
		return
	}
	later := []func(){}
	for i, k := range v.Keys {
		item := v.Items[i]
		if !r.free(e, k) {
			continue
		}
		if item.Shape != tree.Mapping {
			r.report(source.WantsShape(k.Text, "a set of keys: label, kind and perhaps a range"), k.Span)
			continue
		}
		r.known(item, "label", "kind", "from", "to", "above", "below", "whole", "tested", "owned")
		p := Param{Name: k.Text, Label: r.needs(item, "label", "label: Working solution", k.Span)}
		kind := r.needs(item, "kind", "kind: volume", k.Span)
		if kind == "" {
			continue
		}
		fit, problem := readKind(kind, e.names())
		if problem != nil {
			r.report(*problem, item.Get("kind").Span)
			continue
		}
		p.Fit = fit
		p.Owned = r.truth(item.Get("owned"), "owned")
		e.Params = append(e.Params, p)
		n := len(e.Params) - 1
		r.bounds(e, n, item)
		if t := item.Get("tested"); t != nil {
			later = append(later, func() { r.tested(e, n, t) })
		}
	}
	for _, f := range later {
		f()
	}
}

// free reports whether a name may be given to a parameter or a mass, and reports it if not.
func (r *reader) free(e *Entry, k *tree.Value) bool {
	switch {
	case !isName(k.Text):
		r.report(source.BadName(k.Text), k.Span)
	case quantity.IsUnit(k.Text):
		r.report(source.NameIsUnit(k.Text), k.Span)
	case formula.IsFunction(k.Text) && !formula.OverRows(k.Text) || formula.IsWord(k.Text):
		r.report(source.NameReserved(k.Text), k.Span)
	default:
		return true
	}
	return false
}

func isName(n string) bool {
	for i := range len(n) {
		c := n[i]
		if c >= 'a' && c <= 'z' || i > 0 && (c >= '0' && c <= '9' || c == '_') {
			continue
		}
		return false
	}
	return n != "" && len(n) <= 60
}

func (r *reader) truth(v *tree.Value, key string) bool {
	switch text := r.text(v, key); text {
	case "", "false", "no":
	case "true", "yes":
		return true
	default:
		r.report(source.NotOneOf(key, text, []string{"true", "false"}), v.Span)
	}
	return false
}
