package formulary

import (
	"math"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Verdict is what one check of an entry found.
type Verdict struct {
	// What is the call with its values.
	What string
	// Source names where the expected value comes from, Provenance its class.
	Source     string
	Provenance string
	Expected   string
	Found      string
	// Deviation is the found value minus the expected one, "" unless both are numbers.
	Deviation string
	OK        bool
}

// Worked is what a formula came to.
type Worked struct {
	Kind quantity.Kind
	// Base is the value in base units; ignore it if Refused is set.
	Base float64
	Show quantity.Show
	// Refused says why the formula refuses, "" if it does not.
	Refused string
}

// Work computes a formula that uses no names but those of bench formulas. Constants that a
// shop must own may be plain numbers here, since nothing is published from it.
func (s *Set) Work(text string) (Worked, source.List) {
	return s.work(text, &entryScope{set: s.unowned(), symbols: map[string]formula.Symbol{}}, nil)
}

// unowned gives a set whose entries take numbers where they otherwise need owned constants.
func (s *Set) unowned() *Set {
	free := *s
	free.free = true
	return &free
}

func (e *Entry) unowned() *Entry {
	c, t := *e, *e.trade
	t.Params = slices.Clone(t.Params)
	for i := range t.Params {
		t.Params[i].Owned = false
	}
	c.trade = &t
	return &c
}

func (s *Set) work(text string, scope *entryScope, values []float64) (Worked, source.List) {
	r, list := prepare(text, scope)
	if r == nil {
		return Worked{}, list
	}
	w, more := r.work(values)
	return w, append(list, more...)
}

// prepared is a formula that is read and inferred, to be worked out at many values.
type prepared struct {
	formula *formula.Formula
	node    *formula.Node
	slots   int
	text    string
}

// prepare reads and infers a formula; it gives nil if the list says why it cannot be worked out.
func prepare(text string, scope *entryScope) (*prepared, source.List) {
	f, list := formula.Parse(text, nil)
	if f == nil {
		return nil, list
	}
	n, list := formula.Infer(f, scope)
	if n == nil {
		return nil, list
	}
	return &prepared{f, n, scope.slots, text}, list
}

func (r *prepared) work(values []float64) (w Worked, list source.List) {
	frame := formula.Frame{V: make([]float64, r.slots)}
	copy(frame.V, values)
	unit, _ := r.node.FirstUnit()
	w = Worked{Kind: r.node.Kind, Base: r.node.Eval(&frame), Show: quantity.DefaultShow(r.node.Kind, unit)}
	switch {
	case frame.Fault == formula.None:
	case frame.Fault.Refuses():
		w.Refused = frame.Fault.Reason(frame.At, r.text)
	default:
		list = source.List{r.formula.Fault(source.NotFinite(r.text, "these values"), frame.At)}
	}
	return w, list
}

// RunChecks runs the checks of an entry of the set.
func (s *Set) RunChecks(e *Entry) []Verdict {
	out := make([]Verdict, 0, len(e.Checks))
	for _, c := range e.Checks {
		v, _ := s.run(e, c)
		out = append(out, v)
	}
	return out
}

// run runs a check through a call of the entry, as a page would make it.
func (s *Set) run(e *Entry, c Check) (Verdict, Worked) {
	scope := &entryScope{set: s, symbols: map[string]formula.Symbol{}}
	var values []float64
	var words []string
	for i, p := range e.Params {
		q := c.At[i]
		scope.symbols[p.Name] = formula.Symbol{Kind: q.Kind, Slot: scope.Slot(), Unit: q.Unit, Ownership: formula.Owned}
		values = append(values, q.Base)
		words = append(words, q.Text)
	}
	v := Verdict{What: e.Name + "(" + strings.Join(words, ", ") + ")", Source: c.Source.String(), Provenance: string(c.Source.Class)}
	v.Expected = "refused"
	if !c.Refused {
		v.Expected = ExpectedText(c.Expect)
	}
	w, list := s.work(e.trade.Form(), scope, values)
	switch {
	case len(list) > 0:
		v.Found = list[0].Message
	case w.Refused != "":
		v.Found, v.OK = "refused: "+w.Refused, c.Refused
	default:
		if e.Show != "" {
			w.Show, _ = quantity.ParseShow(e.Show, w.Kind)
		}
		if c.Refused {
			v.Found = w.Show.Format(w.Base).Text
		} else {
			v.Found, v.Deviation, v.OK = meets(w, c.Expect)
		}
	}
	return v, w
}

// ExpectedText is what a check expects, with its tolerance, as it was written.
func ExpectedText(e quantity.Expected) string {
	if e.HasTolerance {
		return e.Text + " ± " + e.ToleranceText
	}
	return e.Text
}

// meets compares a value with the expected one: within the tolerance if there is one, otherwise
// as displayed.
func meets(w Worked, want quantity.Expected) (found, deviation string, ok bool) {
	if w.Kind != want.Kind {
		return w.Show.Format(w.Base).Text + ", " + w.Kind.Name(), "", false
	}
	if want.YesNo {
		return w.Show.Format(w.Base).Text, "", quantity.Equal(w.Base, want.Base)
	}
	exact := quantity.Show{Style: quantity.Written, Unit: want.Unit}
	if want.Unit.Factor == 0 {
		exact.Unit.Factor = 1
	}
	off := exact
	if want.Kind == quantity.Scale {
		off.Unit = quantity.Difference(want.Unit)
	}
	deviation = off.Format(w.Base - want.Base).Text
	if quantity.Equal(w.Base, want.Base) {
		deviation = "0"
	}
	if want.HasTolerance {
		return exact.Format(w.Base).Text, deviation, quantity.LessOrEqual(math.Abs(w.Base-want.Base), want.Tolerance)
	}
	found = w.Show.Format(w.Base).Text
	back, t := quantity.ParseExpected(found)
	if t != nil {
		return found, deviation, quantity.Equal(w.Base, want.Base)
	}
	return found, deviation, quantity.Equal(back.Base, want.Base)
}

// prove reports the checks of an entry that fail.
func (s *Set) prove(e *Entry) source.List {
	var list source.List
	for _, c := range e.Checks {
		v, w := s.run(e, c)
		switch {
		case v.OK:
		case w.Refused != "":
			list = append(list, source.BenchCheckRefused(v.What, w.Refused).At(c.span))
		default:
			list = append(list, source.CheckFails(v.What, "this check", v.Expected, v.Found).At(c.span))
		}
	}
	return list
}

// Over gives a function that computes an entry with the values of its first check, except for
// one parameter, which it takes in base units; ok is false if the result is not a finite number.
// Over itself is nil for an entry without checks, and for one that cannot be called so.
func (s *Set) Over(e *Entry, param int) func(base float64) (w Worked, ok bool) {
	if len(e.Checks) == 0 {
		return nil
	}
	scope := &entryScope{set: s, symbols: map[string]formula.Symbol{}}
	var values []float64
	for i, p := range e.Params {
		q := e.Checks[0].At[i]
		scope.symbols[p.Name] = formula.Symbol{Kind: q.Kind, Slot: scope.Slot(), Unit: q.Unit, Ownership: formula.Owned}
		values = append(values, q.Base)
	}
	r, list := prepare(e.trade.Form(), scope)
	if r == nil || list.Errors() > 0 {
		return nil
	}
	return func(base float64) (Worked, bool) {
		values[param] = base
		w, list := r.work(values)
		return w, list.Errors() == 0
	}
}
