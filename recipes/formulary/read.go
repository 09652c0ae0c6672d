package formulary

import (
	"math"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/molar"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// reader reads one file of entries.
type reader struct {
	file    *source.File
	list    source.List
	group   string
	entries []*Entry
	// partial says that the parameters of the entry at hand could not all be read, so that
	// names missing among them are no further fault.
	partial bool
}

func (r *reader) report(p source.Problem, at source.Span) { r.list = append(r.list, p.At(at)) }

// read reads a file. Entries that hold an error are left out; names are those of all.
func read(f *source.File) (entries []*Entry, names []string, list source.List) {
	root, list := tree.Parse(f, 0, len(f.Text))
	r := &reader{file: f, list: list}
	cut := slices.ContainsFunc(list, func(d source.Diagnostic) bool {
		return d.Code == source.QuoteForYAML("").Code || d.Code == source.TypographicQuotes("").Code
	})
	if root == nil || cut {
		return nil, nil, r.list // what YAML cut short would only be reported a second time
	}
	r.known(root, "group", "formulas")
	r.group = r.needs(root, "group", "group: mixing and dilution", root.Span)
	all := root.Get("formulas")
	if all == nil || all.Shape != tree.Mapping {
		r.report(source.MissingKey("formulas", "formulas: and a name with its keys below"), root.Span)
		return nil, nil, r.list
	}
	for i, name := range all.Keys {
		names = append(names, name.Text)
		before := r.list.Errors()
		if e := r.entry(name, all.Items[i]); e != nil && r.list.Errors() == before {
			r.entries = append(r.entries, e)
		}
	}
	return r.entries, names, r.list
}

func (r *reader) known(v *tree.Value, keys ...string) {
	for _, k := range v.Keys {
		if !slices.Contains(keys, k.Text) {
			r.report(source.UnknownKey(k.Text, source.Nearest(k.Text, keys), keys), k.Span)
		}
	}
}

// text is a scalar with its blanks joined, "" where there is none.
func (r *reader) text(v *tree.Value, key string) string {
	if v == nil || v.Shape == tree.Nothing {
		return ""
	}
	if v.Shape != tree.Scalar {
		r.report(source.WantsShape(key, "a text"), v.Span)
		return ""
	}
	return strings.Join(strings.Fields(v.Text), " ")
}

func (r *reader) needs(parent *tree.Value, key, example string, at source.Span) string {
	v := parent.Get(key)
	text := r.text(v, key)
	if text == "" && (v == nil || v.Shape == tree.Nothing || v.Shape == tree.Scalar) {
		switch {
		case v != nil && v.Key.File != nil:
			r.report(source.ValueMissing(key, example), v.Key)
			return text
		case parent.Key.File != nil:
			at = parent.Key
		}
		r.report(source.MissingKey(key, example), at)
	}
	return text
}

// formula reads a formula; nil after a report.
func (r *reader) formula(v *tree.Value, key string) *formula.Formula {
	if v.Shape != tree.Scalar {
		r.report(source.WantsShape(key, "a formula"), v.Span)
		return nil
	}
	f, list := formula.Parse(v.Text, v.Place)
	r.list = append(r.list, list...)
	return f
}

var entryKeys = []string{"sentence", "takes", "masses", "swap", "gives", "formula", "outside", "not_when", "show", "source", "checks"}

func (r *reader) entry(name, v *tree.Value) *Entry {
	e := &Entry{Name: name.Text, Group: r.group, span: name.Span}
	switch {
	case !isName(e.Name):
		r.report(source.BadName(e.Name), name.Span)
		return nil
	case slices.Contains(formula.Functions(), e.Name) || reserved[e.Name]:
		r.report(source.NameReserved(e.Name), name.Span)
		return nil
	case quantity.IsUnit(e.Name):
		r.report(source.NameIsUnit(e.Name), name.Span)
		return nil
	}
	if v.Shape != tree.Mapping {
		r.report(source.WantsShape(e.Name, "a set of keys"), name.Span)
		return nil
	}
	r.known(v, entryKeys...)
	e.Sentence = r.needs(v, "sentence", "sentence: and what it works out, in one sentence", name.Span)
	e.trade = &formula.Trade{Name: e.Name}
	before := r.list.Errors()
	if swap := v.Get("swap"); swap != nil {
		r.swap(e, v, swap)
		r.partial = r.list.Errors() > before
	} else {
		r.params(e, v.Get("takes"))
		r.masses(e, v.Get("masses"))
		r.partial = r.list.Errors() > before
		r.gives(e, v)
		if text := r.needs(v, "formula", "formula: volume * strength", name.Span); text != "" {
			e.Formula = text
			e.trade.Body = r.formula(v.Get("formula"), "formula")
		}
	}
	for _, p := range e.Params {
		e.trade.Params = append(e.trade.Params, formula.Param{Name: p.Name, Fit: p.Fit, Owned: p.Owned})
	}
	e.trade.Result = e.Result
	r.outside(e, v.Get("outside"))
	r.notWhen(e, v.Get("not_when"))
	r.show(e, v.Get("show"))
	e.Source = r.source(v, name.Span)
	r.checks(e, v, name.Span)
	return e
}

func (r *reader) gives(e *Entry, v *tree.Value) {
	text := r.needs(v, "gives", "gives: volume", e.span)
	if text == "" {
		return
	}
	fit, p := readKind(text, e.names())
	if p != nil {
		r.report(*p, v.Get("gives").Span)
	}
	if fit.Kind.Sort == quantity.Unknown && fit.Like == "" {
		r.report(source.BenchGivesAny(), v.Get("gives").Span)
	}
	e.Result = fit
}

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

// free takes a name for a parameter or a mass.
func (r *reader) free(e *Entry, k *tree.Value) bool {
	switch {
	case !isName(k.Text):
		r.report(source.BadName(k.Text), k.Span)
	case quantity.IsUnit(k.Text):
		r.report(source.NameIsUnit(k.Text), k.Span)
	case formula.IsFunction(k.Text) || reserved[k.Text]:
		r.report(source.NameReserved(k.Text), k.Span)
	default:
		return true
	}
	return false
}

var reserved = map[string]bool{"let": true, "if": true, "else": true, "in": true, "by": true, "and": true, "or": true, "not": true, "true": true, "false": true}

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
		at := v.Get(end.key)
		text := r.text(at, end.key)
		if text == "" {
			continue
		}
		q, t := quantity.Parse(text)
		if t != nil {
			r.report(t.Problem, at.Place(t.Start, t.End))
			continue
		}
		limit := text
		switch fixed := p.Fit.Like == "" && p.Fit.Kind.Sort != quantity.Unknown; {
		case text == "0" && p.Fit.Kind != quantity.Scale:
			limit = "0 * " + p.Name // nothing, of whatever kind
			if fixed && p.Fit.Kind == quantity.Number {
				limit = "0"
			}
		case !fixed || q.Kind != p.Fit.Kind:
			r.report(source.WantsKind(end.key, p.Fit.Words(), q.Kind.Name()), at.Span)
			continue
		case q.Form == quantity.Dilution || q.Form == quantity.Aperture:
			r.report(source.NotANumber(text), at.Span)
			continue
		}
		*end.into = q.Text
		values[end.key] = q.Base
		conditions = append(conditions, p.Name+" "+end.sign+" "+limit)
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

// guard adds a condition whose text is the program's own.
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

func (r *reader) masses(e *Entry, v *tree.Value) {
	if v == nil {
		return
	}
	if v.Shape != tree.Mapping {
		r.report(source.WantsShape("masses", "names with a chemical formula each"), v.Span)
		return
	}
	for i, k := range v.Keys {
		if !r.free(e, k) {
			continue
		}
		if e.param(k.Text) >= 0 {
			r.report(source.NameTaken(k.Text), k.Span)
			continue
		}
		r.mass(e, k.Text, v.Items[i])
	}
}

// mass looks a chemical formula's molar mass up and fixes it under a name.
func (r *reader) mass(e *Entry, name string, v *tree.Value) (string, bool) {
	chemical := r.text(v, name)
	m, err := molar.Mass(chemical)
	if err != nil {
		r.report(source.SheetFormula(err.Error()), v.Span)
		return "", false
	}
	kind, _ := quantity.Mass.Over(quantity.Amount)
	e.Masses = append(e.Masses, MolarMass{Name: name, Chemical: chemical, Mass: m})
	e.trade.Fixed = append(e.trade.Fixed, formula.Fixed{Name: name, Value: quantity.Value{Kind: kind, Base: m}})
	return chemical, true
}

// swap makes a whole entry: the mass of one form of a chemical in place of another.
func (r *reader) swap(e *Entry, v, swap *tree.Value) {
	if swap.Shape != tree.Mapping {
		r.report(source.WantsShape("swap", "asked and weighed, each a chemical formula"), swap.Span)
		return
	}
	r.known(swap, "asked", "weighed")
	for _, key := range []string{"takes", "gives", "formula", "masses"} {
		if x := v.Get(key); x != nil {
			r.report(source.BenchSwapAlone(key), x.Span)
		}
	}
	var forms []string
	for _, key := range []string{"asked", "weighed"} {
		if r.needs(swap, key, key+": Na2CO3·H2O", swap.Span) == "" {
			return
		}
		form, ok := r.mass(e, key, swap.Get(key))
		if !ok {
			return
		}
		forms = append(forms, form)
	}
	if !sameSalt(forms[0], forms[1]) {
		r.report(source.BenchSwapDiffers(forms[0], forms[1]), swap.Span)
		return
	}
	e.Params = []Param{{Name: "mass", Label: "Mass of " + forms[0] + " that the recipe asks for", Fit: formula.Fit{Kind: quantity.Mass}, Range: Range{From: "0 g"}}}
	r.guard(e, "mass < 0 g", source.BenchOutOfRange(e.Params[0].Label, "0 g", "", "", ""))
	e.Result = formula.Fit{Kind: quantity.Mass}
	e.Formula = "mass * weighed / asked"
	e.trade.Body, _ = formula.Parse(e.Formula, nil)
}

// sameSalt tells whether two chemical formulas stand for the same amount of the same
// salt: some element other than those of water, counted alike in both. That finds a
// formula written for two units of the salt beside one written for one.
func sameSalt(a, b string) bool {
	x, errX := molar.Elements(a)
	y, errY := molar.Elements(b)
	if errX != nil || errY != nil {
		return false
	}
	for _, p := range x {
		for _, q := range y {
			if p.Symbol == q.Symbol && p.Symbol != "H" && p.Symbol != "O" && math.Abs(p.Count-q.Count) < 1e-9 {
				return true
			}
		}
	}
	return false
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

func (r *reader) show(e *Entry, v *tree.Value) {
	e.Show = r.text(v, "show")
	if e.Show == "" {
		return
	}
	kind := e.Result.Kind
	if e.Result.Like != "" || kind.Money != 0 && kind.Currency == "" {
		r.report(source.BenchShow(), v.Span)
		return
	}
	if _, t := quantity.ParseShow(e.Show, kind); t != nil {
		r.report(t.Problem, v.Span)
	}
}

// source reads where something comes from, of an entry or of a check.
func (r *reader) source(parent *tree.Value, at source.Span) Source {
	v := parent.Get("source")
	const example = `source: common practice, no source, source: from memory, or source: {class: published, text: …}`
	if v == nil || v.Shape == tree.Nothing {
		r.report(source.MissingKey("source", example), at)
		return Source{}
	}
	if v.Shape == tree.Mapping {
		r.known(v, "class", "text")
		s := Source{Class: Class(r.needs(v, "class", "class: published", v.Span)), Text: r.text(v.Get("text"), "text")}
		switch s.Class {
		case Published, MeasuredHere:
			if s.Text == "" {
				r.report(source.MissingKey("text", "text: and the name of the source"), v.Span)
			}
		case CommonPractice, FromMemory, "":
		default:
			r.report(source.BenchClass(string(s.Class)), v.Get("class").Span)
		}
		return s
	}
	text := r.text(v, "source")
	for _, c := range []Class{CommonPractice, FromMemory, MeasuredHere} {
		if strings.HasPrefix(text, string(c)) {
			return Source{Class: c, Text: strings.TrimSpace(strings.TrimLeft(strings.TrimPrefix(text, string(c)), ":, "))}
		}
	}
	r.report(source.BenchClass(text), v.Span)
	return Source{}
}

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
