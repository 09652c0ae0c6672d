package write

import (
	"fmt"
	"math"
	"path"
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/formulary"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/theme"
	"labsite/render/work"
)

// Readers can try a bench formula with their own numbers. What they try is a page like any other,
// written here: its given values are the parameters, with the values of the formula's first worked
// example, and its one figure is a call of the formula. So its controls, its reasons for giving no
// number and its script are like those of every page.

// BenchTrial writes the page on which a bench formula is tried; nil if no worked example gives a
// number.
func (s *Site) BenchTrial(e *formulary.Entry) *work.Page {
	text := benchTrialText(e)
	if text == "" {
		return nil
	}
	file, list := source.New(path.Join(BenchFolder, e.Name+".md"), []byte(text))
	if list.Errors() > 0 {
		return nil
	}
	full := work.Aside(s.Content, &content.Page{Path: file.Path, File: file, Folder: &content.Folder{Path: BenchFolder, Parent: s.Content.Top}})
	if full.Sheet != nil {
		for _, g := range full.Sheet.Given {
			g.Owner = "" // the source already says whose value it is
		}
	}
	return full
}

// tried puts controls and results on the page of a bench formula.
func (w *Writer) tried(of *work.Page, v *theme.Instruction) source.List {
	if of == nil || of.Proof == nil {
		return nil
	}
	p := w.pager(of)
	for _, row := range p.givenView().Settable() {
		v.SetTo = append(v.SetTo, theme.Setting{Name: row.Name, Label: row.Label, Value: row.Value})
	}
	v.Cautions = p.cautions(p.cautionsAtTop())
	v.Panel = p.unplaced(page.AtNumbers)
	v.Notice = p.notice()
	v.Straight = p.skipLinks(v.Cautions != "")
	p.linkScripts(&v.Shell)
	return p.list
}

// benchTrialText is the text of the page on which a bench formula is tried.
func benchTrialText(e *formulary.Entry) string {
	first := -1
	for i, c := range e.Checks {
		if first < 0 && !c.Refused {
			first = i
		}
	}
	if first < 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "---\ntitle: %s\naudience: customers\n", strconv.Quote(work.Words(e.Name)))
	if handles(e, first) {
		fmt.Fprintf(&b, "cautions:\n  unknown: {word: WARNING, text: %s}\n", strconv.Quote(benchCaution))
	}
	var ranges []trial
	b.WriteString("given:\n")
	for i, p := range e.Params {
		own := e.Checks[first].At[i]
		fmt.Fprintf(&b, "  %s: {label: %s, value: %s", trialName(p.Name), strconv.Quote(p.Label), strconv.Quote(own.Text))
		if own.Kind != quantity.Yes {
			r := trialRange(e, i, own.Unit)
			ranges = append(ranges, r)
			fmt.Fprintf(&b, ", from: %s, to: %s", strconv.Quote(r.from), strconv.Quote(r.to))
			if r.step != "" {
				fmt.Fprintf(&b, ", step: %s", strconv.Quote(r.step))
			}
		} else {
			ranges = append(ranges, trial{})
			b.WriteString(", choices: [yes, no]")
		}
		if p.Owned {
			fmt.Fprintf(&b, ", source: %s, owner: whoever tries it", exampleSource)
		}
		b.WriteString("}\n")
	}
	fmt.Fprintf(&b, "figures:\n  tried: {label: %s, formula: %s", strconv.Quote(work.Words(e.Name)), strconv.Quote(trialCall(e)))
	if e.Show != "" {
		fmt.Fprintf(&b, ", show: %s", strconv.Quote(e.Show))
	}
	b.WriteString("}\nchecks:\n")
	for _, c := range e.Checks {
		writeTrialCheck(&b, e, c, ranges)
	}
	b.WriteString("---\n")
	return b.String()
}

// exampleSource is the source of a value that a lab has to find out for itself.
const exampleSource = "that of a worked example; set your own"

// writeTrialCheck writes a worked example as a check of the page, at which publish compares its
// script with Go; nothing if the example lies outside what a reader can set.
func writeTrialCheck(b *strings.Builder, e *formulary.Entry, c formulary.Check, ranges []trial) {
	var at []string
	for i, v := range c.At {
		if from, t := quantity.Parse(ranges[i].from); t == nil && quantity.Less(v.Base, from.Base) {
			return
		}
		if to, t := quantity.Parse(ranges[i].to); t == nil && quantity.Less(to.Base, v.Base) {
			return
		}
		if v.Kind != e.Checks[0].At[i].Kind { // some formulas take any kind; the page takes that of the first example
			return
		}
		at = append(at, trialName(e.Params[i].Name)+": "+strconv.Quote(v.Text))
	}
	expect := "refused"
	if !c.Refused {
		expect = "{tried: " + strconv.Quote(formulary.ExpectedText(c.Expect)) + "}"
	}
	fmt.Fprintf(b, "  - {at: {%s}, expect: %s, source: %s}\n", strings.Join(at, ", "), expect, strconv.Quote(c.Source.String()))
}

// trialName is the name of a parameter on that page; one that the language has a meaning for, such
// as first or deviation, is changed.
func trialName(name string) string {
	if formula.IsFunction(name) || formula.IsWord(name) || quantity.IsUnit(name) {
		return name + "_set"
	}
	return name
}

func trialCall(e *formulary.Entry) string {
	var names []string
	for _, p := range e.Params {
		names = append(names, trialName(p.Name))
	}
	return e.Name + "(" + strings.Join(names, ", ") + ")"
}

// benchCaution stands above the numbers of a formula whose results are weighed, poured or warmed,
// since the formula does not know what with.
const benchCaution = "A formula knows no substance. Read the hazards on the page that you work by and on the supplier's safety data sheet before you weigh, pour or warm anything."

// handles reports whether a formula is about masses, volumes, amounts of substance or temperatures.
func handles(e *formulary.Entry, check int) bool {
	kinds := []quantity.Kind{e.Checks[check].Expect.Kind}
	for _, v := range e.Checks[check].At {
		kinds = append(kinds, v.Kind)
	}
	for _, k := range kinds {
		if k.Mass != 0 || k.Amount != 0 || k.Length >= 3 || k == quantity.Scale {
			return true
		}
	}
	return false
}

// trial is the range in which a parameter can be tried, as a page writes it.
type trial struct{ from, to, step string }

// wide is how many times beyond its worked examples a parameter without bounds can be set.
const wide = 20

// trialRange is the range of a parameter: its own ends or, if it has none, far enough beyond its
// worked examples.
func trialRange(e *formulary.Entry, i int, unit quantity.Unit) trial {
	p := e.Params[i]
	w := writtenIn{unit}
	low, high, finest := math.Inf(1), math.Inf(-1), math.Inf(1)
	for _, c := range e.Checks {
		if v := c.At[i]; !c.Refused && v.Kind == e.Checks[0].At[i].Kind {
			n := w.number(v)
			low, high, finest = min(low, n), max(high, n), min(finest, stepOf(n))
		}
	}
	step := max(finest, stepOf(high)/10)
	if p.Whole {
		step = 1
	}
	t := trial{w.end(p.Range.From, p.Range.Above, math.Min(step, math.Abs(low)/wide)), w.end(p.Range.To, p.Range.Below, -step), w.text(step)}
	scale := unit.Kind == quantity.Scale
	if t.from == "" {
		switch {
		case scale:
			t.from = w.text(low - 2*wide)
		case low > 0:
			t.from = w.text(oneDigit(low/wide, math.Floor))
		default:
			t.from = w.text(math.Min(-10*step, oneDigit(low*wide, math.Floor)))
		}
	}
	if t.to == "" {
		switch {
		case scale:
			t.to = w.text(high + 2*wide)
		case high > 0:
			t.to = w.text(oneDigit(high*wide, math.Ceil))
		default:
			t.to = w.text(10 * step)
		}
	}
	if scale {
		t.step = "0.5 K"
	}
	return t
}

// stepOf is how far one press of a control goes from a value: one in its last digit, but at least
// in its third and at most in its second.
func stepOf(n float64) float64 {
	first := math.Pow(10, math.Floor(math.Log10(math.Max(math.Abs(n), 1e-6))))
	_, decimals, _ := strings.Cut(strconv.FormatFloat(n, 'f', -1, 64), ".")
	return math.Max(first/100, math.Min(first/10, math.Pow(10, -float64(len(decimals)))))
}

// writtenIn writes numbers in a unit.
type writtenIn struct{ quantity.Unit }

func (w writtenIn) text(n float64) string {
	n, _ = strconv.ParseFloat(strconv.FormatFloat(n, 'g', 9, 64), 64) // drops the noise of the last digits
	text := strconv.FormatFloat(n, 'f', -1, 64)
	if w.Unit.Text != "" {
		text += " " + w.Unit.Text
	}
	return text
}

// end writes an end of a range: one that belongs to the range, or else one step inside an end that
// does not; "" if there is neither.
func (w writtenIn) end(belongs, beyond string, step float64) string {
	if q, t := quantity.Parse(belongs); t == nil && belongs != "" {
		return w.text(w.number(q))
	}
	if q, t := quantity.Parse(beyond); t == nil && beyond != "" {
		return w.text(w.number(q) + step)
	}
	return ""
}

// number is a value in the unit; a plain number, such as an end that is 0, stays as it is.
func (w writtenIn) number(q quantity.Value) float64 {
	if q.Kind != w.Kind {
		return q.Base
	}
	n, _ := strconv.ParseFloat(strconv.FormatFloat(w.Of(q.Base), 'g', 12, 64), 64)
	return n
}

// oneDigit rounds to one significant digit.
func oneDigit(n float64, round func(float64) float64) float64 {
	if n == 0 {
		return 0
	}
	digit := math.Pow(10, math.Floor(math.Log10(math.Abs(n))))
	out, _ := strconv.ParseFloat(strconv.FormatFloat(round(n/digit)*digit, 'g', 3, 64), 64)
	return out
}
