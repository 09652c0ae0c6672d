package page

import (
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// MostFigures bounds the figures of a page, MostBytes the size of its file.
const (
	MostFigures = 500
	MostBytes   = 1 << 20
)

// Decode reads a page's front matter; the library, which may be nil, finds its data files. It
// reports all that is wrong except for the kinds of formulas, which Resolve infers. The sheet
// is nil only if there is no front matter that can be read.
func Decode(f *source.File, library Library) (*Sheet, source.List) {
	if len(f.Text) >= MostBytes {
		return nil, source.List{source.PageTooLarge(int64(len(f.Text))).At(f.Span(0, 3))}
	}
	start, end, body, list := split(f)
	if list != nil {
		return nil, list
	}
	front, list := tree.Parse(f, start, end)
	if front == nil {
		return nil, list
	}
	d := &decoder{file: f, library: library, list: list, sheet: &Sheet{File: f, Body: body, names: map[string]source.Span{},
		given: map[string]*Given{}, figs: map[string]*Figure{}, misnamed: map[string]bool{}, misnamedData: map[string]bool{}}}
	for _, x := range list {
		if x.Code == source.NotOpened("").Code { // the rest of its line was not read as it was meant
			d.owned = append(d.owned, owned{f.Span(f.Offset(x.Line), f.Offset(x.Line)+len(f.Line(x.Line))), x.Code, nil})
		}
	}
	d.page(front)
	d.list = d.once(d.list)
	d.sheet.lists = d.list
	return d.sheet, d.list
}

type decoder struct {
	file    *source.File
	library Library
	sheet   *Sheet
	list    source.List
	// later decodes what needs the names of the whole page
	later []func()
	// owned are texts with a reported error, from which all other errors in them follow
	owned []owned
}

func (d *decoder) report(p source.Problem, at source.Span) {
	d.list = append(d.list, p.At(at))
}

func (d *decoder) page(front *value) {
	d.known(front, pageKeys)
	for _, k := range keys {
		k.decode(d, front, front.Get(k.Name))
	}
	for _, f := range d.later {
		f()
	}
}

func (d *decoder) title(front, _ *value) {
	if v := d.required(front, "title", "title: Washing film", d.file.Span(0, 3)); v != nil {
		d.sheet.Title = d.text(v, "title")
	}
}

func (d *decoder) audience(front, _ *value) {
	v := d.required(front, "audience", "audience: customers, or audience: staff", d.file.Span(0, 3))
	if v == nil {
		return
	}
	switch a := Audience(d.text(v, "audience")); a {
	case Customers, Staff:
		d.sheet.Audience = a
	case "":
	default:
		d.report(source.NotOneOf("audience", string(a), []string{"customers", "staff"}), v.Span)
	}
}

// required finds a key's value; nil after a report. A missing one is reported at the key that
// opens the block, or, if there is none, at the caller's place.
func (d *decoder) required(v *value, key, example string, at source.Span) *value {
	x := v.Get(key)
	if x != nil && x.Shape != nothing && !(x.Shape == scalar && strings.TrimSpace(x.Text) == "") {
		return x
	}
	if x != nil {
		d.report(source.ValueMissing(key, example), x.Key)
		return nil
	}
	if v.Key.File != nil {
		at = v.Key
	}
	if !d.reportedBetween(at, v) {
		d.report(source.MissingKey(key, example), at)
	}
	return nil
}

// reportedBetween reports whether a character that YAML takes for its own was reported inside a
// value: the key that seems to be missing is probably there, but was read as something else.
func (d *decoder) reportedBetween(at source.Span, v *value) bool {
	first, _ := d.file.Place(at.Start)
	last := first
	for _, x := range v.Items {
		line, _ := d.file.Place(x.Span.Start)
		last = max(last, line)
	}
	return v.Key.File != nil && slices.ContainsFunc(d.list, func(x source.Diagnostic) bool {
		return x.Line >= first && x.Line <= last && slices.Contains([]string{"quote-for-yaml", "cut-short", "typographic-quotes"}, x.Code)
	})
}

// text is a scalar's text; anything else is reported, and gives "".
func (d *decoder) text(v *value, key string) string {
	if v == nil || v.Shape == nothing {
		return ""
	}
	if v.Shape != scalar {
		d.notScalar(v, key, "a text")
		return ""
	}
	return strings.TrimSpace(v.Text)
}

// notScalar reports a list or a mapping in the place of a text. One in brackets was most likely
// meant as a text that begins with a placement, and one after a dash as a text with a colon.
func (d *decoder) notScalar(v *value, key, want string) {
	switch {
	case v.Shape == nothing:
		d.report(source.WantsShape(key, want), v.Span)
	case v.Flow:
		d.report(source.QuoteForYAML(d.file.Text[v.Span.Start:v.Span.Start+1]), v.Span)
	case v.Shape == mapping && len(v.Keys) == 1 && d.behindDash(v.Keys[0]):
		at := v.Keys[0].Span.End
		d.report(source.QuoteForYAML("colon"), d.file.Span(at, at+1))
	default:
		d.report(source.WantsShape(key, want), v.Span)
	}
}

// behindDash reports whether a key is the first thing after the dash of a list.
func (d *decoder) behindDash(key *value) bool {
	line, _ := d.file.Place(key.Span.Start)
	before := d.file.Text[d.file.Offset(line):key.Span.Start]
	return strings.HasSuffix(strings.TrimRight(before, " "), "-")
}

func (d *decoder) number(v *value, key string) float64 {
	q, t := quantity.Parse(d.text(v, key))
	if t != nil {
		d.report(t.Problem, v.Place(t.Start, t.End))
		return 0
	}
	if q.Kind != quantity.Number {
		d.report(source.WantsShape(key, "a plain number"), v.Span)
	}
	return q.Base
}

func (d *decoder) items(v *value, key string) []*value {
	if v == nil || v.Shape == nothing {
		return nil
	}
	if v.Shape != list {
		d.report(source.WantsShape(key, "a list"), v.Span)
		return nil
	}
	return v.Items
}

func (d *decoder) mapping(v *value, key string) *value {
	if v == nil || v.Shape == nothing {
		return nil
	}
	if v.Shape != mapping {
		d.notKeys(v, key, "a set of names")
		return nil
	}
	return v
}

// notKeys reports something else in the place of keys: most likely keys without their colons,
// or without the space after them.
func (d *decoder) notKeys(v *value, key, want string) {
	if v.Shape == scalar {
		if faults := v.MissedKeys(); len(faults) > 0 {
			d.list = append(d.list, faults...)
			return
		}
	}
	d.report(source.WantsShape(key, want), v.Span)
}

func (d *decoder) proses(v *value, key string) []Prose {
	var out []Prose
	for _, item := range d.items(v, key) {
		d.text(item, key)
		out = append(out, prose(item))
	}
	return out
}

func prose(v *value) Prose { return Prose{Text: v.Text, Place: v.Place} }

// formula reads a formula; nil after a report.
func (d *decoder) formula(v *value, key string) *formula.Formula {
	if v == nil || v.Shape != scalar {
		if v != nil {
			d.notScalar(v, key, "a formula")
		}
		return nil
	}
	d.dropQuotes(v)
	f, list := formula.Parse(v.Text, v.Place)
	d.list = append(d.list, list...)
	return f
}

// quantity reads a quantity; ok is false after a report.
func (d *decoder) quantity(v *value, key string) (quantity.Value, bool) {
	if v == nil || v.Shape != scalar {
		if v != nil {
			d.notScalar(v, key, "a quantity such as 500 ml")
		}
		return quantity.Value{}, false
	}
	d.dropQuotes(v)
	q, t := quantity.Parse(v.Text)
	if t != nil {
		d.trouble(t, v)
		return quantity.Value{}, false
	}
	return q, true
}

func (d *decoder) difference(v *value, key string) (quantity.Value, bool) {
	if v == nil || v.Shape != scalar {
		if v != nil {
			d.report(source.WantsShape(key, "a quantity such as 50 ml"), v.Span)
		}
		return quantity.Value{}, false
	}
	d.dropQuotes(v)
	q, t := quantity.ParseDifference(v.Text)
	if t != nil {
		d.trouble(t, v)
		return quantity.Value{}, false
	}
	return q, true
}
