package page

import "labsite/recipes/source/tree"

// Key is a key of a page's front matter. What an editor says of it is in entries.go.
type Key struct {
	Name string
	// Shape is the shape of its value.
	Shape tree.Shape
	// Head says that it is read before the rest of the page, since lists of pages, the register or
	// the order in which pages draw on one another need it.
	Head bool
	// Example is the key as a page without errors may write it.
	Example string

	// decode reads its value, which is nil if the page has none.
	decode func(d *decoder, front, v *value)
}

// keys are those of a page, in the order in which they are decoded: whichever claims a name
// first has it. A key that is not here is unknown, and the nearest of these is suggested.
var keys []Key

// pageKeys are their names, in the same order.
var pageKeys []string

// The decoders refer to these lists, and the lists to the decoders, so an initializer cannot
// fill them.
func init() {
	keys = []Key{
		{"title", scalar, true, "title: Washing film", (*decoder).title},
		{"audience", scalar, true, "audience: staff", (*decoder).audience},
		{"summary", scalar, true, "summary: What it is for.", func(d *decoder, _, v *value) { d.sheet.Summary = d.text(v, "summary") }},
		{"topics", list, true, "topics: [film]", func(d *decoder, _, v *value) {
			for _, v := range d.items(v, "topics") {
				d.sheet.Topics = append(d.sheet.Topics, d.text(v, "topics"))
			}
		}},
		{"season", list, true, "season: [June, July]", func(d *decoder, _, v *value) { d.sheet.Season = d.season(v) }},
		{"order", scalar, true, "order: 3", func(d *decoder, _, v *value) {
			if v != nil {
				d.sheet.Order, d.sheet.HasOrder = d.number(v, "order"), true
			}
		}},
		{"control", mapping, true, "control: {number: G-1, revision: 1, status: draft}", func(d *decoder, _, v *value) { d.sheet.Control = d.control(v) }},
		{"cautions", mapping, false, "cautions:\n  wet: {word: CAUTION, text: The floor is wet.}", func(d *decoder, _, v *value) { d.cautions(v) }},
		{"supplies", list, false, "supplies: [Water]", func(d *decoder, _, v *value) { d.sheet.Supplies = d.proses(v, "supplies") }},
		{"tools", list, false, "tools: [A tank]", func(d *decoder, _, v *value) { d.sheet.Tools = d.proses(v, "tools") }},
		{"draws_on", mapping, true, "draws_on: {mix: mixing.md}", func(d *decoder, _, v *value) { d.uses(v) }},
		{"keeps", scalar, false, "keeps: mixing-log.csv\ndata: {kept: mixing-log.csv}", func(d *decoder, _, v *value) { d.keeps(v) }},
		{"data", mapping, false, "data: {times: times.csv}", func(d *decoder, _, v *value) { d.data(v) }},
		{"given", mapping, false, "given: {tank: 500 ml}", func(d *decoder, _, v *value) { d.givens(v) }},
		{"figures", mapping, false, "figures: {part: 1 ml + 2 ml}", func(d *decoder, _, v *value) { d.figures(v) }},
		{"limits", list, false, "limits:\n  - {when: 1 ml < 2 ml, notice: Little.}", func(d *decoder, _, v *value) { d.limits(v) }},
		{"checks", list, false, "checks:\n  - always: tank > 1 ml\ngiven:\n  tank: {value: 5 ml, from: 2 ml, to: 9 ml}", func(d *decoder, _, v *value) { d.checks(v) }},
		{"steps", list, false, "steps:\n  - do: Rinse", func(d *decoder, _, v *value) { d.steps(v) }},
		{"tables", mapping, false, "tables:\n  t: {caption: T, list: []}", func(d *decoder, _, v *value) { d.tables(v) }},
		{"charts", mapping, false, "charts: {}", func(d *decoder, _, v *value) { d.charts(v) }},
		{"substances", list, false, "substances: [pyrogallol]", func(d *decoder, _, v *value) { d.substances(v) }},
		// what a product contains joins the substances, so it is read after them
		{"makes", mapping, false, "makes:\n  wash: {label: Wash water, amount: 1 l, contains: [pyrogallol], lasts: 12 months, opened: 7 days, store: dark and cool}", func(d *decoder, _, v *value) { d.makes(v) }},
	}
	for _, k := range keys {
		pageKeys = append(pageKeys, k.Name)
	}
}

// shapeOf is the shape of the value of a key of a page.
func shapeOf(name string) tree.Shape {
	for _, k := range keys {
		if k.Name == name {
			return k.Shape
		}
	}
	return scalar
}

// Keys lists the keys of a page's front matter.
func Keys() []Key { return keys }
