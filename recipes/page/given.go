package page

import (
	"math"
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func (d *decoder) givens(v *value) {
	if v = d.mapping(v, "given"); v == nil {
		return
	}
	for i, k := range v.Keys {
		if !d.claim(k) {
			continue
		}
		g := &Given{Name: k.Text, Span: k.Span, Slot: d.sheet.slots, Kind: quantity.Any}
		d.sheet.slots++
		d.sheet.Given = append(d.sheet.Given, g)
		d.sheet.given[g.Name] = g
		item := v.Items[i]
		before := d.list.Errors()
		if item.Shape == scalar {
			item = &value{Shape: mapping, Span: item.Span, Keys: []*value{{Text: "value", Span: item.Span}}, Items: []*value{item}}
		}
		if item.Shape != mapping {
			d.report(source.WantsShape("given "+g.Name, "a value, or a set of keys with value among them"), k.Span)
			continue
		}
		d.known(item, underFront("given", "x"))
		d.given(g, item)
		g.unsure = d.list.Errors() > before
	}
}

func (d *decoder) given(g *Given, v *value) {
	g.Label, g.LabelText = d.label(v.Get("label"))
	g.Source = d.origin(v.Get("source"))
	g.Owner = d.text(v.Get("owner"), "owner")
	g.Review = d.period(v.Get("review"), "review")
	at := d.ownValue(g, v)
	choices := v.Get("choices")
	if at != nil && at.Shape == scalar && strings.TrimSpace(at.Text) == "today" && d.today(g, v, at, choices) {
		return
	}
	if choices != nil {
		d.choices(g, choices, at)
		d.within(g, v.Get("within"))
		for _, key := range []string{"from", "to", "step"} {
			if x := v.Get(key); x != nil {
				d.report(source.ChoicesAndRange(key), x.Span)
			}
		}
		return
	}
	if at == nil {
		return
	}
	if at.Shape == scalar && truth(at) != "" {
		d.yesNo(g, at)
		return
	}
	q, ok := d.quantity(at, "value")
	if !ok {
		return
	}
	g.Value, g.Kind, g.Own, g.Show = q, q.Kind, q.Base, q.AsWritten()
	d.bounds(g, v, at)
	d.within(g, v.Get("within"))
}

// within reads how far the true value may lie from the one that is set: a difference above
// zero in the given's kind.
func (d *decoder) within(g *Given, v *value) {
	if v == nil {
		return
	}
	text := d.text(v, "within")
	if text == "" {
		return
	}
	q, t := quantity.ParseDifference(text)
	if t != nil {
		d.report(t.Problem, v.Place(t.Start, t.End))
		return
	}
	want := g.Kind.Difference()
	if g.Kind.Sort != quantity.Measure && g.Kind.Sort != quantity.Point || q.Kind != want || q.Base <= 0 {
		d.report(source.WithinOfKind(g.Name, want.Name()), v.Span)
		return
	}
	g.Within, g.WithinText = q.Base, q.Text
}

// ownValue finds the page's own value, or the example that a reading has in its place and that
// only checks, cases and tables use.
func (d *decoder) ownValue(g *Given, v *value) *value {
	example := v.Get("example")
	if example == nil {
		return d.required(v, "value", "value: and a quantity, or example: where somebody reads it off", g.Span)
	}
	g.Reading = true
	if x := v.Get("value"); x != nil {
		d.report(source.ExampleAndValue(g.Name), x.Key)
		return nil
	}
	at := d.required(v, "example", "example: and a quantity", g.Span)
	if at != nil && v.Get("from") == nil && v.Get("to") == nil && v.Get("choices") == nil && (at.Shape != scalar || truth(at) == "") {
		d.report(source.ReadingUnbounded(g.Name), g.Span)
	}
	return at
}

// truth is yes or no, which may be written true or false; "" for any other value.
func truth(v *value) string {
	switch strings.TrimSpace(v.Text) {
	case "true", "yes":
		return "yes"
	case "false", "no":
		return "no"
	}
	return ""
}

// yesNoChoices reports whether choices are yes and no, which make a given a yes/no.
func yesNoChoices(items []*value) bool {
	if len(items) != 2 || items[0].Shape != scalar || items[1].Shape != scalar {
		return false
	}
	a, b := truth(items[0]), truth(items[1])
	return a != "" && b != "" && a != b
}

// yesNo makes a given a yes/no.
func (d *decoder) yesNo(g *Given, at *value) {
	g.Kind, g.Show = quantity.Yes, quantity.Show{Style: quantity.Truth}
	if at == nil {
		return
	}
	word := truth(at)
	if word == "" {
		d.report(source.NotAChoiceOf(g.Name, strings.TrimSpace(at.Text), "", []string{"yes", "no"}), at.Span)
		return
	}
	if word == "yes" {
		g.Own = 1
	}
	g.Value = quantity.Value{Kind: quantity.Yes, Text: at.Text, Base: g.Own}
}

// bounds reads from, to and step, and reports a page's own value outside them.
func (d *decoder) bounds(g *Given, v, at *value) {
	from, to, step := v.Get("from"), v.Get("to"), v.Get("step")
	if from == nil && to == nil {
		if step != nil {
			d.report(source.StepAlone(), step.Span)
		}
		return
	}
	if from == nil || to == nil {
		missing, there := "to", from
		if from == nil {
			missing, there = "from", to
		}
		d.report(source.HalfRange(missing), there.Span)
		return
	}
	low, okLow := d.quantity(from, "from")
	high, okHigh := d.quantity(to, "to")
	if !okLow || !okHigh {
		return
	}
	for _, end := range []struct {
		q  quantity.Value
		at *value
	}{{low, from}, {high, to}} {
		if end.q.Kind != g.Kind {
			d.report(source.KindsDiffer("the value and its range", quantity.KindIn(g.Kind, g.Value.Unit), quantity.KindIn(end.q.Kind, end.q.Unit)), end.at.Span)
			return
		}
	}
	if quantity.Less(high.Base, low.Base) {
		d.report(source.EndsTurned("from", low.Text, "to", high.Text), from.Span)
		return
	}
	if quantity.Less(g.Own, low.Base) || quantity.Less(high.Base, g.Own) {
		d.report(source.OutsideOwnRange(g.Value.Text, low.Text, high.Text), at.Span)
	}
	g.From, g.To = &low, &high
	if step != nil {
		s, ok := d.difference(step, "step")
		switch {
		case !ok:
		case s.Kind != g.Kind.Difference():
			d.report(source.KindsDiffer("the value and its step", g.Kind.Difference().Name(), s.Kind.Name()), step.Span)
		case s.Base <= 0:
			d.report(source.StepNotPositive(), step.Span)
		case g.Kind == quantity.Date && !quantity.WholeDays(s.Base):
			d.report(source.DateStep(s.Text), step.Span)
		default:
			g.Step = &s
		}
	} else if g.Kind == quantity.Date {
		g.Step = &oneDay
	}
	whole := func(q quantity.Value) bool {
		return q.Unit.Text == "" && q.Form == quantity.Plain && q.Base == math.Trunc(q.Base)
	}
	g.Whole = g.Kind == quantity.Number && whole(g.Value) && whole(low) && whole(high) && (g.Step == nil || whole(*g.Step))
}

// MostChoices is how many choices a given value may have: each is on the page, and each makes
// a case to be worked out.
const MostChoices = 1000

// distinct lists the values of a column without repeats, in the order in which they first
// occur. Values count as repeats if quantity.Equal says so, but past MostChoices only if they
// are the same to the last bit: so many are refused anyway.
func distinct(all []quantity.Value) (out []quantity.Value) {
	seen := make(map[float64]bool, len(all))
	for _, x := range all {
		known := seen[x.Base]
		seen[x.Base] = true
		for i := 0; i < len(out) && !known && len(out) <= MostChoices; i++ {
			known = quantity.Equal(x.Base, out[i].Base)
		}
		if !known {
			out = append(out, x)
		}
	}
	return out
}

// choices reads a list of quantities or of texts; it is one of quantities if every item is.
func (d *decoder) choices(g *Given, v, at *value) {
	if v.Shape == scalar {
		d.columnChoices(g, v, at)
		return
	}
	items := d.items(v, "choices")
	if len(items) == 0 {
		d.report(source.NoChoices(), v.Span)
		return
	}
	if yesNoChoices(items) {
		d.yesNo(g, at)
		return
	}
	if len(items) > MostChoices {
		d.report(source.TooManyChoices(len(items), MostChoices), v.Span)
		return
	}
	var values []quantity.Value
	troubles := map[*value]*quantity.Trouble{}
	odd, ratios := 0, 0 // items that are not quantities but begin like one; those like 1:31
	for _, item := range items {
		if item.Shape != scalar {
			d.report(source.WantsShape("a choice", "a quantity or a text"), item.Span)
			return
		}
		d.dropQuotes(item)
		q, t := quantity.Parse(item.Text)
		if t != nil {
			troubles[item] = t
			if startsLikeNumber(item.Text) {
				odd++
			}
			if strings.HasPrefix(strings.TrimSpace(item.Text), "1:") {
				ratios++
			}
			continue
		}
		values = append(values, q)
	}
	if len(troubles) > 0 {
		if odd > 0 && (len(values) > 0 || ratios == len(items)) {
			d.oddChoices(items, at, troubles)
			return
		}
		words := make([]string, len(items))
		for i, item := range items {
			words[i] = strings.TrimSpace(item.Text)
		}
		d.words(g, words, items, at)
		return
	}
	if d.allDiffer(values, items) {
		d.chosen(g, values, at)
	}
}

// oddChoices reports choices, and a value, that begin like a quantity and cannot be read as one.
func (d *decoder) oddChoices(items []*value, at *value, troubles map[*value]*quantity.Trouble) {
	for _, item := range append(items[:len(items):len(items)], at) {
		t := troubles[item]
		if item == at && at != nil && at.Shape == scalar {
			_, t = quantity.Parse(at.Text)
		}
		if t != nil && startsLikeNumber(item.Text) {
			d.report(t.Problem, item.Place(t.Start, t.End))
		}
	}
}

// allDiffer reports whether choices are all of one kind and no two are equal, and reports the first
// that is not.
func (d *decoder) allDiffer(values []quantity.Value, items []*value) bool {
	for i, q := range values {
		if q.Kind != values[0].Kind {
			d.report(source.KindsDiffer("the choices", values[0].Kind.Name(), q.Kind.Name()), items[i].Span)
			return false
		}
		for j, earlier := range values[:i] {
			if quantity.Equal(earlier.Base, q.Base) {
				d.report(source.ChoiceTwice(q.Text).Also(items[j].Span, "the first one"), items[i].Span)
				return false
			}
		}
	}
	return true
}

// chosen takes quantities as the choices, and reports a page's own value that is none of them.
func (d *decoder) chosen(g *Given, values []quantity.Value, at *value) {
	g.Choices = values
	if at == nil {
		return
	}
	q, ok := d.quantity(at, "value")
	if !ok {
		return
	}
	g.Value, g.Kind, g.Own, g.Show = q, q.Kind, q.Base, q.AsWritten()
	if q.Kind != values[0].Kind {
		d.report(source.KindsDiffer("the value and its choices", q.Kind.Name(), values[0].Kind.Name()), at.Span)
		return
	}
	for _, c := range values {
		if quantity.Equal(c.Base, q.Base) {
			g.Own = c.Base
			return
		}
	}
	d.report(source.NotAChoiceOf(g.Name, q.Text, "", texts(values)), at.Span)
}

// columnChoices takes the distinct values of a data column as the choices.
func (d *decoder) columnChoices(g *Given, v, at *value) {
	file, name, ok := strings.Cut(strings.TrimSpace(v.Text), ".")
	if !ok {
		d.report(source.WantsShape("choices", "a list, or a column of a data file such as times.film"), v.Span)
		return
	}
	data := d.sheet.dataNamed(file)
	if data == nil {
		var names []string
		for _, x := range d.sheet.Data {
			names = append(names, x.Name)
		}
		d.missing(file, source.UnknownData(file, source.Nearest(file, names)), v.Span)
		return
	}
	if data.Table == nil {
		return
	}
	c, ok := data.Table.Column(name)
	if !ok {
		d.report(source.UnknownColumn(file, name, source.Nearest(name, data.Table.Names())), v.Span)
		return
	}
	if c.Kind.Sort == quantity.Word {
		if len(c.Words) > MostChoices {
			d.report(source.TooManyChoices(len(c.Words), MostChoices), v.Span)
			return
		}
		d.words(g, c.Words, nil, at)
		return
	}
	values := distinct(c.Values)
	if len(values) > MostChoices {
		d.report(source.TooManyChoices(len(values), MostChoices), v.Span)
		return
	}
	d.chosen(g, values, at)
}

func startsLikeNumber(text string) bool {
	text = strings.TrimLeft(strings.TrimSpace(text), "-−")
	return text != "" && text[0] >= '0' && text[0] <= '9'
}

func texts(values []quantity.Value) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = v.Text
	}
	return out
}

// words takes texts as the choices; items is nil if they come from a column.
func (d *decoder) words(g *Given, words []string, items []*value, at *value) {
	for i, w := range words {
		for j, earlier := range words[:i] {
			if earlier == w && items != nil {
				d.report(source.ChoiceTwice(w).Also(items[j].Span, "the first one"), items[i].Span)
				return
			}
		}
	}
	g.Kind, g.Words = quantity.Text, words
	g.Show = quantity.Show{Style: quantity.Choice, Words: words}
	for i, w := range words {
		g.Choices = append(g.Choices, quantity.Value{Kind: quantity.Text, Base: float64(i), Text: w})
	}
	if at == nil {
		return
	}
	text := d.text(at, "value")
	g.Value = quantity.Value{Kind: quantity.Text, Text: text}
	for i, w := range words {
		if w == text {
			g.Own, g.Value.Base = float64(i), float64(i)
			return
		}
	}
	d.report(source.NotAChoiceOf(g.Name, text, source.Nearest(text, words), words), at.Span)
}

// Set reads a value for the given as somebody wrote it, in any unit of its kind, and refuses
// one outside the given's range or choices. Places in the trouble are bytes of text.
func (g *Given) Set(text string) (float64, *quantity.Trouble) {
	text = strings.TrimSpace(text)
	whole := func(p source.Problem) (float64, *quantity.Trouble) {
		return 0, &quantity.Trouble{Problem: p, Start: 0, End: len(text)}
	}
	switch g.Kind.Sort {
	case quantity.YesNo:
		switch text {
		case "yes", "true":
			return 1, nil
		case "no", "false":
			return 0, nil
		}
		return whole(source.NotOneOf(g.Name, text, []string{"yes", "no"}))
	case quantity.Word:
		for i, w := range g.Words {
			if w == text {
				return float64(i), nil
			}
		}
		return whole(source.NotAChoiceOf(g.Name, text, source.Nearest(text, g.Words), g.Words))
	}
	q, t := quantity.Parse(text)
	if t != nil {
		return 0, t.Wanting(g.Kind)
	}
	if q.Kind != g.Kind {
		if q.Kind == quantity.Number && q.Form == quantity.Plain {
			return whole(source.UnitMissing(g.Name, q.Text, quantity.InNumber(q.Text, g.Value.Unit.Text)))
		}
		return whole(source.WantsKind(g.Name, quantity.KindIn(g.Kind, g.Value.Unit), quantity.KindIn(q.Kind, q.Unit)))
	}
	return g.hold(q)
}

// hold refuses a value that the given does not take.
func (g *Given) hold(q quantity.Value) (float64, *quantity.Trouble) {
	whole := func(p source.Problem) (float64, *quantity.Trouble) {
		return 0, &quantity.Trouble{Problem: p, Start: 0, End: len(q.Text)}
	}
	if len(g.Choices) > 0 {
		for _, c := range g.Choices {
			if quantity.Equal(c.Base, q.Base) {
				return c.Base, nil
			}
		}
		return whole(source.NotAChoiceOf(g.Name, q.Text, "", texts(g.Choices)))
	}
	if g.From == nil && g.Today {
		return q.Base, nil
	}
	if g.From == nil {
		if !quantity.Equal(q.Base, g.Own) {
			return whole(source.GivenFixed(g.Name, g.Value.Text))
		}
		return g.Own, nil
	}
	if quantity.Less(q.Base, g.From.Base) || quantity.Less(g.To.Base, q.Base) {
		return whole(source.OutOfRange(g.Name, q.Text, g.From.Text, g.To.Text))
	}
	if g.Whole && !quantity.Equal(q.Base, math.Round(q.Base)) {
		return whole(source.WholeOnly(g.Name, q.Text))
	}
	return q.Base, nil
}
