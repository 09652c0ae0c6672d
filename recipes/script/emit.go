package script

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
)

// Page is what a page's script is written from.
type Page struct {
	Sheet *page.Sheet
	// Placed are formulas other than figures whose values the page shows: those of its body, its
	// steps and its tables. The script refers to them by number.
	Placed []Placed
	// Earlier is the number of the revision if the script is of an earlier one than the page that
	// loads it; otherwise 0.
	Earlier int
	// Sureness says that the page shows how sure its figures are.
	Sureness bool
}

// Placed is a formula that was inferred in the sheet's scope, and how it is shown.
type Placed struct {
	Node *formula.Node
	Show quantity.Show
	// Given says that it is a given value, which is shown even when the page refuses.
	Given bool
}

// Emit writes the script of a page, always the same bytes for the same page. The sheet must have
// resolved without an error; an error of Emit is a fault of the program, not of the page.
func (p Page) Emit() ([]byte, error) {
	e := &emitter{sheet: p.Sheet, writing: p.Sheet, lacking: lackingOf(p.Sheet), reach: prove.NewReach(p.Sheet), places: newPlaces(p.Sheet), helpers: map[string]bool{}, pool: map[string]string{}}
	var body bytes.Buffer
	e.out = &body
	body.WriteString("{given:[")
	for i, g := range p.Sheet.Given {
		e.comma(i)
		e.given(g)
	}
	body.WriteString("\n]")
	if _, day, follows := p.Sheet.Day(); follows {
		fmt.Fprintf(&body, ",day:%s", number(day))
	}
	e.program(p.Sheet, nil)
	e.process(p.Sheet)
	e.sureness(p)
	e.grids(p.Sheet)
	e.rowTables(p.Sheet)
	e.livePoints(p.Sheet)
	e.outside(p.Sheet)
	if len(p.Placed) > 0 {
		body.WriteString(",placed:[")
		for i, x := range p.Placed {
			e.comma(i)
			fmt.Fprintf(&body, "{show:%s,work:s=>%s", e.showOf(x.Node, x.Show), e.Value(x.Node))
			if x.Given {
				body.WriteString(",given:true")
			}
			body.WriteString("}")
		}
		body.WriteString("\n]")
	}
	e.counts(body.String())
	body.WriteString("}")
	if e.err != nil {
		return nil, e.err
	}
	var out bytes.Buffer
	call := "labsite.page("
	if p.Earlier > 0 {
		call = "labsiteEarlier.take(" + strconv.Itoa(p.Earlier) + ","
	}
	out.WriteString(call + "({" + strings.Join(e.used(), ",") + "})=>")
	if len(e.consts) == 0 {
		out.WriteString("(" + body.String() + ")")
	} else {
		out.WriteString("{const " + strings.Join(e.consts, ",\n") + ";\nreturn" + body.String() + "}")
	}
	out.WriteString(");\n")
	return out.Bytes(), nil
}

// counts writes the lab's own counted things that occur in the script: the runtime has only the
// built-in ones.
func (e *emitter) counts(body string) {
	var own []quantity.Count
	for _, c := range quantity.OwnCounts() {
		if strings.Contains(body, c.One) {
			own = append(own, c)
		}
	}
	if own != nil {
		fmt.Fprintf(e.out, ",counts:%s", quoted(countWords(own)))
	}
}

// emitter writes one script.
type emitter struct {
	out     *bytes.Buffer
	sheet   *page.Sheet
	writing *page.Sheet // whose formulas are being written: sheet, or one that it draws on
	lacking lacking
	reach   *prove.Reach
	places  *places
	helpers map[string]bool
	// consts are data columns and searches, each written once; pool has their names by their
	// text.
	consts []string
	pool   map[string]string
	// base is where the block of the sheet being written begins in the frame.
	base int
	err  error
}

func (e *emitter) fail(format string, args ...any) {
	if e.err == nil {
		e.err = fmt.Errorf("script: "+format, args...)
	}
}

func (e *emitter) comma(i int) {
	if i > 0 {
		e.out.WriteByte(',')
	}
	e.out.WriteByte('\n')
}

// used lists the helpers that the script takes from the runtime, in their fixed order.
func (e *emitter) used() []string {
	var out []string
	for _, h := range helperNames {
		if e.helpers[h] {
			out = append(out, h)
		}
	}
	return out
}

func (e *emitter) given(g *page.Given) {
	w := e.out
	fmt.Fprintf(w, "{name:%s,slot:%d,own:%s,text:%s", quoted(g.Name), e.place(g.Slot), number(g.Own), quoted(g.Shown(g.Own).Text))
	if g.Today {
		w.WriteString(",today:true")
	}
	fmt.Fprintf(w, ",show:%s", e.show(g.Show))
	if g.Settable() { // for messages to a reader
		fmt.Fprintf(w, ",kind:%s", quoted(g.Kind.Name()))
		if g.Label != "" {
			fmt.Fprintf(w, ",label:%s", quoted(g.Label))
		}
	}
	if t := g.Value.Unit.Text; t != "" {
		fmt.Fprintf(w, ",unit:%s", quoted(t))
	}
	if g.From != nil && g.To != nil {
		fmt.Fprintf(w, ",from:%s,to:%s", end(g.From), end(g.To))
	}
	if g.Step != nil {
		fmt.Fprintf(w, ",step:%s", end(g.Step))
		if show, ok := g.Stepped(); ok { // as a control writes them
			fmt.Fprintf(w, ",steps:%s", e.show(show))
		}
	}
	if g.Whole {
		w.WriteString(",whole:true")
	}
	if g.Reading {
		w.WriteString(",reading:true")
	}
	if g.Kind.Sort != quantity.Word && len(g.Choices) > 0 {
		w.WriteString(",choices:[")
		for i, c := range g.Choices {
			if i > 0 {
				w.WriteByte(',')
			}
			// a choice in a unit of its own is shown in the given's
			asWritten := c.Form == quantity.Dilution || c.Form == quantity.Fraction || c.Form == quantity.Aperture || c.Unit.Text == g.Value.Unit.Text
			text := c.Text
			if c.Kind == quantity.Date {
				text = g.Show.Format(c.Base).Text
			}
			fmt.Fprintf(w, "[%s,%s", number(c.Base), quoted(text))
			if !asWritten {
				w.WriteString(",1")
			}
			w.WriteByte(']')
		}
		w.WriteByte(']')
	}
	w.WriteByte('}')
}

func end(v *quantity.Value) string {
	return "[" + number(v.Base) + "," + quoted(v.Text) + "]"
}

// place is the place of a slot of the sheet being written.
func (e *emitter) place(slot int) int { return e.places.of(e.base + slot) }

// program writes what is worked out, in order, and the limits. A use that shares a part with
// another use is left out.
func (e *emitter) program(s *page.Sheet, part *page.Part) {
	was, wrote := e.base, e.writing
	e.base, e.writing = 0, s
	if part != nil {
		e.base = part.Base
	}
	e.out.WriteString(",steps:[")
	n := 0
	for _, step := range s.Program {
		switch {
		case step.Use != nil:
			if step.Use.Sheet == nil {
				e.fail("%s draws on a page that was not found", s.File.Path)
				return
			}
			to := e.sheet.PartFor(part, step.Use)
			if to == nil {
				continue
			}
			e.comma(n)
			e.use(to, s)
		case step.Added != nil:
			if step.Added.Node == nil || !step.Added.Column.Live {
				continue
			}
			e.comma(n)
			e.added(step.Added, s)
		case step.Figure.Node == nil:
			e.fail("%s: the figure %s was not inferred", s.File.Path, step.Figure.Name)
			return
		default:
			e.comma(n)
			e.figure(step.Figure, s)
		}
		n++
	}
	e.out.WriteString("\n],limits:[")
	for i, l := range s.Limits {
		if l.Node == nil {
			e.fail("%s: a limit was not inferred", s.File.Path)
			return
		}
		e.comma(i)
		fmt.Fprintf(e.out, "{kind:%s,when:s=>%s}", quoted(string(l.Kind)), e.Value(l.Node))
	}
	e.out.WriteString("\n]")
	e.base, e.writing = was, wrote
}

func (e *emitter) figure(f *page.Figure, s *page.Sheet) {
	fmt.Fprintf(e.out, "{name:%s,slot:%d,show:%s", quoted(f.Name), e.place(f.Slot), e.showOf(f.Node, f.Show))
	if reads := e.reads(f.Node, s); reads != "" {
		fmt.Fprintf(e.out, ",reads:%s", reads)
	}
	if f.Else != "" {
		fmt.Fprintf(e.out, ",instead:%s", quoted(f.Else))
	}
	fmt.Fprintf(e.out, ",work:s=>%s}", e.Value(f.Node))
}

// added writes a column whose cells depend on values that can be set.
func (e *emitter) added(a *page.Added, s *page.Sheet) {
	fmt.Fprintf(e.out, "{column:%d,count:%d,row:%s", e.place(a.Column.Slot), a.Column.Rows, e.row(a.File, allRows(a.File), a.Node))
	if reads := e.reads(a.Node, s); reads != "" {
		fmt.Fprintf(e.out, ",reads:%s", reads)
	}
	fmt.Fprintf(e.out, ",work:s=>%s}", e.Value(a.Node))
}

func allRows(f *page.DataFile) []int {
	rows := make([]int, f.Rows())
	for i := range rows {
		rows[i] = i
	}
	return rows
}

// row writes into which places formulas over the rows of a file expect the cells of which columns.
func (e *emitter) row(f *page.DataFile, rows []int, nodes ...*formula.Node) string {
	used := map[int]bool{}
	for _, n := range nodes {
		n.Walk(func(n *formula.Node) bool {
			if n.Op == formula.Var {
				used[n.Slot] = true
			}
			return true
		})
	}
	var parts []string
	for _, x := range f.Row {
		if used[x.Slot] {
			parts = append(parts, fmt.Sprintf("[%d,%s]", e.place(x.Slot), e.cellsOf(x.Column, rows)))
		}
	}
	return "[" + strings.Join(parts, ",") + "]"
}

// use writes a page drawn on: what this page sets there, and all that it works out.
func (e *emitter) use(to *page.Part, s *page.Sheet) {
	w := e.out
	u := to.Use
	fmt.Fprintf(w, "{use:%s,title:%s,first:%d,count:%d,own:[", quoted(u.Name), quoted(u.Sheet.Title), e.places.of(to.Base), e.places.count[to])
	for i, g := range u.Sheet.Given {
		if i > 0 {
			w.WriteByte(',')
		}
		own := number(g.Own)
		if g.Today {
			own = "null"
		}
		fmt.Fprintf(w, "[%d,%s", e.places.of(to.Base+g.Slot), own)
		if g.Reading {
			w.WriteString(",1")
		}
		w.WriteByte(']')
	}
	w.WriteString("],sets:[")
	n := 0
	for _, set := range u.At {
		if set.Node == nil || set.Given == nil {
			e.fail("draws_on %s: a setting was not inferred", u.Name)
			return
		}
		e.comma(n)
		n++
		w.WriteString("{given:")
		was := e.base
		e.base = to.Base
		e.given(set.Given)
		e.base = was
		if reads := e.reads(set.Node, s); reads != "" {
			fmt.Fprintf(w, ",reads:%s", reads)
		}
		fmt.Fprintf(w, ",work:s=>%s}", e.Value(set.Node))
	}
	w.WriteString("]")
	e.program(u.Sheet, to)
	w.WriteString("}")
}

// reads lists the slots from which a formula of the sheet takes values that may have failed: not
// those that its own lets bind, nor the sheet's given values, which do not fail.
func (e *emitter) reads(n *formula.Node, s *page.Sheet) string {
	bound, seen := map[int]bool{}, map[int]bool{}
	for _, g := range s.Given {
		bound[g.Slot] = true
	}
	live := map[int]*page.Column{} // a live column fails as a whole, by its state
	for _, d := range s.Data {
		for _, x := range d.Row {
			bound[x.Slot] = true
			if x.Column.Live {
				live[x.Slot] = x.Column
			}
		}
	}
	var slots []int
	n.Walk(func(n *formula.Node) bool {
		if n.Op == formula.Let {
			bound[n.Slot] = true
		}
		return true
	})
	n.Walk(func(n *formula.Node) bool {
		needs := func(slot int) {
			if !seen[slot] {
				seen[slot] = true
				slots = append(slots, slot)
			}
		}
		if n.Data != nil {
			for _, c := range n.Data.Live() {
				needs(c.State())
			}
		}
		if c := live[n.Slot]; c != nil && n.Op == formula.Var {
			needs(c.State())
		}
		if n.Op == formula.Var && !bound[n.Slot] {
			needs(n.Slot)
		}
		return true
	})
	var b strings.Builder
	for _, s := range slots {
		if b.Len() > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Itoa(e.place(s)))
	}
	if b.Len() == 0 {
		return ""
	}
	return "[" + b.String() + "]"
}

// show writes how a value is shown. The runtime knows units by their text.
func (e *emitter) show(s quantity.Show) string {
	unit := s.Unit.Text
	if unit != "" {
		if u, n, ok := quantity.ReadUnit(unit); !ok || n != len(unit) || u.Factor != s.Unit.Factor || u.Zero != s.Unit.Zero {
			e.fail("the unit %q does not read back", unit)
		}
	}
	if s.Signed {
		s.Signed = false
		return `["signed",` + quoted(unit) + "," + e.show(s) + "]"
	}
	switch s.Style {
	case quantity.Digits:
		return array("digits", unit)
	case quantity.Steps:
		return array("steps", unit, s.Step, s.StepText)
	case quantity.Clock:
		if s.Step > 0 {
			return array("clock", unit, s.Step, s.StepText)
		}
		return array("clock", unit)
	case quantity.Part:
		return array("part", unit, s.Of)
	case quantity.Added:
		return array("added", "")
	case quantity.OneOver:
		return array("over", "s")
	case quantity.Engraved:
		if s.Of > 0 {
			return array("lens", "", s.Of)
		}
		return array("lens", "")
	case quantity.Usual:
		return array("usual", unit)
	case quantity.Written:
		return array("written", unit)
	case quantity.Day:
		return array("day", "")
	case quantity.DayOfWeek:
		return array("weekday", "")
	case quantity.Truth:
		return array("truth", "")
	case quantity.Choice:
		return array("choice", "", s.Words)
	}
	e.fail("no such style as %d", s.Style)
	return ""
}

// showOf writes how a formula's value is shown; for a text, with only the words that it can come
// to.
func (e *emitter) showOf(n *formula.Node, s quantity.Show) string {
	if s.Style == quantity.Choice && n.Op != formula.Num {
		return `["choice","",` + reachedWords(s.Words, e.reach.Of(n, e.base)) + `]`
	}
	return e.show(s)
}

func array(parts ...any) string {
	var b strings.Builder
	b.WriteByte('[')
	for i, p := range parts {
		if i > 0 {
			b.WriteByte(',')
		}
		switch p := p.(type) {
		case float64:
			b.WriteString(number(p))
		default:
			b.WriteString(quoted(p))
		}
	}
	b.WriteByte(']')
	return b.String()
}

// quoted is a value as JSON, which is also JavaScript.
func quoted(v any) string {
	if s, ok := v.(string); ok && isPlain(s) {
		return `"` + s + `"`
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return "null"
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// isPlain reports whether a text needs no escapes between quotes.
func isPlain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= 0x7f || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}

// number is the shortest text that reads back as the same float.
func number(v float64) string {
	switch {
	case v == 0:
		return "0"
	case math.IsNaN(v):
		return "NaN"
	case math.IsInf(v, 1):
		return "1/0"
	case math.IsInf(v, -1):
		return "-1/0"
	}
	short := strconv.FormatFloat(v, 'g', -1, 64)
	if mantissa, exponent, ok := strings.Cut(short, "e"); ok {
		sign := ""
		if exponent[0] == '-' {
			sign = "-"
		}
		short = mantissa + "e" + sign + strings.TrimLeft(exponent[1:], "0")
	}
	return short
}
