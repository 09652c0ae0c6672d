package formulary

import (
	"slices"
	"strings"

	"labsite/recipes/formula"
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
	// partial says that some parameters of the current entry could not be read, so that a
	// missing name is not reported again.
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

// readPiece reads the entry that is in a part of a built-in file.
func readPiece(f *source.File, group string, start, end int) *Entry {
	root, list := tree.Parse(f, start, end)
	r := &reader{file: f, list: list, group: group}
	if root == nil || len(root.Keys) == 0 {
		return nil
	}
	return r.entry(root.Keys[0], root.Items[0])
}

func (r *reader) known(v *tree.Value, keys ...string) {
	for _, k := range v.Keys {
		if !slices.Contains(keys, k.Text) {
			r.report(source.UnknownKey(k.Text, source.Nearest(k.Text, keys), keys), k.Span)
		}
	}
}

// text is a scalar with its spaces joined, "" if there is none.
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
	case slices.Contains(formula.Functions(), e.Name) || formula.IsWord(e.Name):
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
