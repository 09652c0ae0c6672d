package script

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
)

// Page is what a page's script is written from.
type Page struct {
	Sheet *sheet.Sheet
	// Placed are formulas outside the figures whose values the page shows: those of its
	// body, its steps and its tables. The script gives them by their number.
	Placed []Placed
}

// Placed is a formula that was inferred in the sheet's scope, and how it is shown.
type Placed struct {
	Node *formula.Node
	Show quantity.Show
	// Given says that it is a given value, which stands where the page refuses as well.
	Given bool
}

// Emit writes the script of a sheet that has resolved without an error.
func Emit(s *sheet.Sheet) ([]byte, error) { return Page{Sheet: s}.Emit() }

// Emit writes the script of a page: the same bytes for the same page. An error is a
// fault of the program, not of the page.
func (p Page) Emit() ([]byte, error) {
	e := &emitter{reach: sheet.NewReach(p.Sheet), helpers: map[string]bool{}, pool: map[string]string{}}
	var body bytes.Buffer
	e.out = &body
	body.WriteString("{given:[")
	for i, g := range p.Sheet.Given {
		e.comma(i)
		e.given(g)
	}
	body.WriteString("\n]")
	e.program(p.Sheet, 0)
	e.process(p.Sheet)
	e.grids(p.Sheet)
	if len(p.Placed) > 0 {
		body.WriteString(",placed:[")
		for i, x := range p.Placed {
			e.comma(i)
			fmt.Fprintf(&body, "{show:%s,work:s=>%s", e.show(x.Show), e.root(x.Node))
			if x.Given {
				body.WriteString(",given:true")
			}
			body.WriteString("}")
		}
		body.WriteString("\n]")
	}
	body.WriteString("}")
	if e.err != nil {
		return nil, e.err
	}
	var out bytes.Buffer
	out.WriteString("labsite.page(({" + strings.Join(e.used(), ",") + "})=>")
	if len(e.consts) == 0 {
		out.WriteString("(" + body.String() + ")")
	} else {
		out.WriteString("{const " + strings.Join(e.consts, ",\n") + ";\nreturn" + body.String() + "}")
	}
	out.WriteString(");\n")
	return out.Bytes(), nil
}

// emitter writes one script.
type emitter struct {
	out     *bytes.Buffer
	reach   *sheet.Reach
	helpers map[string]bool
	// consts are data columns and searches, each written once; pool finds them again by
	// what they hold.
	consts []string
	pool   map[string]string
	// base is where the values of the sheet being written begin in the frame.
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

func (e *emitter) given(g *sheet.Given) {
	w := e.out
	fmt.Fprintf(w, "{name:%s,slot:%d,own:%s,text:%s", quoted(g.Name), e.base+g.Slot, number(g.Own), quoted(g.Value.Text))
	fmt.Fprintf(w, ",show:%s", e.show(g.Show))
	if g.Settable() { // what messages to a reader need
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
	if g.Kind.Sort != quantity.Word && len(g.Choices) > 0 {
		w.WriteString(",choices:[")
		for i, c := range g.Choices {
			if i > 0 {
				w.WriteByte(',')
			}
			// a choice in a unit of its own is shown in the given's
			asWritten := c.Form == quantity.Dilution || c.Form == quantity.Fraction || c.Unit.Text == g.Value.Unit.Text
			fmt.Fprintf(w, "[%s,%s", number(c.Base), quoted(c.Text))
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

// program writes what is worked out, in order, and the limits.
func (e *emitter) program(s *sheet.Sheet, base int) {
	was := e.base
	e.base = base
	e.out.WriteString(",steps:[")
	n := 0
	for _, step := range s.Program {
		switch {
		case step.Use != nil:
			if step.Use.Sheet == nil {
				e.fail("%s draws on a page that was not found", s.File.Path)
				return
			}
			e.comma(n)
			e.use(step.Use, s)
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
		fmt.Fprintf(e.out, "{kind:%s,when:s=>%s}", quoted(string(l.Kind)), e.root(l.Node))
	}
	e.out.WriteString("\n]")
	e.base = was
}

func (e *emitter) figure(f *sheet.Figure, s *sheet.Sheet) {
	fmt.Fprintf(e.out, "{name:%s,slot:%d,show:%s", quoted(f.Name), e.base+f.Slot, e.show(f.Show))
	if reads := e.reads(f.Node, s); reads != "" {
		fmt.Fprintf(e.out, ",reads:%s", reads)
	}
	fmt.Fprintf(e.out, ",work:s=>%s}", e.root(f.Node))
}

// use writes a page drawn on: what is set there, and all that it works out.
func (e *emitter) use(u *sheet.Use, s *sheet.Sheet) {
	w := e.out
	base := e.base + u.Base
	fmt.Fprintf(w, "{use:%s,title:%s,first:%d,count:%d,own:[", quoted(u.Name), quoted(u.Sheet.Title), base, u.Slots)
	for i, g := range u.Sheet.Given {
		if i > 0 {
			w.WriteByte(',')
		}
		fmt.Fprintf(w, "[%d,%s]", base+g.Slot, number(g.Own))
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
		e.base = base
		e.given(set.Given)
		e.base = was
		if reads := e.reads(set.Node, s); reads != "" {
			fmt.Fprintf(w, ",reads:%s", reads)
		}
		fmt.Fprintf(w, ",work:s=>%s}", e.root(set.Node))
	}
	w.WriteString("]")
	e.program(u.Sheet, base)
	w.WriteString("}")
}

// reads lists the slots whose lack of a value makes a formula of the sheet fail: not those
// that its own lets bind, and not the sheet's given values, which always have one.
func (e *emitter) reads(n *formula.Node, s *sheet.Sheet) string {
	bound, seen := map[int]bool{}, map[int]bool{}
	for _, g := range s.Given {
		bound[g.Slot] = true
	}
	var slots []int
	n.Walk(func(n *formula.Node) bool {
		if n.Op == formula.Let {
			bound[n.Slot] = true
		}
		return true
	})
	n.Walk(func(n *formula.Node) bool {
		if n.Op == formula.Var && !bound[n.Slot] && !seen[n.Slot] {
			seen[n.Slot] = true
			slots = append(slots, n.Slot)
		}
		return true
	})
	var b strings.Builder
	for _, s := range slots {
		if b.Len() > 0 {
			b.WriteByte(',')
		}
		b.WriteString(strconv.Itoa(e.base + s))
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
		return array("lens", "")
	case quantity.Usual:
		return array("usual", unit)
	case quantity.Written:
		return array("written", unit)
	case quantity.Truth:
		return array("truth", "")
	case quantity.Choice:
		return array("choice", "", s.Words)
	}
	e.fail("no such style as %d", s.Style)
	return ""
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

// quoted is a value as JSON, which is JavaScript as well.
func quoted(v any) string {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return "null"
	}
	return strings.TrimSuffix(b.String(), "\n")
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
