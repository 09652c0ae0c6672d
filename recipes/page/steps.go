package page

import (
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Step is one step of a process.
type Step struct {
	Do   Prose
	For  *formula.Formula
	Node *formula.Node
	// Show is how the step's time is written; the clock and totals use the time so rounded.
	Show    quantity.Show
	Agitate *Agitation
	Drain   *quantity.Value
	// Aim is a value with its tolerance, AimText one with placements.
	Aim     *quantity.Expected
	AimText *Prose
	Hold    string
	Dark    bool
	Note    *Prose
	// Caution is the number of a caution of the page, or -1; Own is the step's own.
	Caution int
	Own     *Caution
	Span    source.Span
}

// Agitation says how a tank is moved during a step: in words, or at which moments.
type Agitation struct {
	Text       *Prose
	First      *quantity.Value
	Every      *quantity.Value
	Turning    *quantity.Value
	Inversions int
}

// Moments are the times after the step's start at which the tank is moved again, until
// pouring out begins; all in seconds.
func (a *Agitation) Moments(length, drain float64) []float64 {
	if a == nil || a.Every == nil || a.Every.Base <= 0 {
		return nil
	}
	var out []float64
	first := 0.0
	if a.First != nil {
		first = a.First.Base
	}
	busy := 0.0
	if a.Turning != nil {
		busy = a.Turning.Base
	}
	for k := 1; len(out) < 1000; k++ {
		at := float64(k) * a.Every.Base
		if !quantity.LessOrEqual(at+busy, length-drain) || quantity.LessOrEqual(length-drain, at) {
			break
		}
		if quantity.Less(at, first) {
			continue
		}
		out = append(out, at)
	}
	return out
}

func (d *decoder) steps(v *value) {
	for _, item := range d.items(v, "steps") {
		if item.Shape != mapping {
			d.notKeys(item, "a step", "a set of keys with do among them")
			continue
		}
		d.known(item, underFront("steps", ""))
		st := &Step{Span: item.Span, Caution: -1}
		if len(item.Keys) > 0 {
			st.Span = item.Keys[0].Span
		}
		if v := d.required(item, "do", "do: and what is done", st.Span); v != nil {
			d.text(v, "do")
			st.Do = prose(v)
		}
		if v := item.Get("for"); v != nil && !d.colonTime(v) {
			st.For = d.formula(v, "for")
		}
		d.agitation(st, item.Get("agitate"))
		st.Drain = d.duration(item.Get("drain"), "drain")
		if v := item.Get("aim"); v != nil && v.Shape == scalar && strings.Contains(v.Text, "{") {
			p := prose(v)
			st.AimText = &p
		} else if v != nil && v.Shape == scalar {
			aim, t := quantity.ParseExpected(v.Text)
			if t != nil {
				d.report(t.Problem, v.Place(t.Start, t.End))
			} else {
				st.Aim = &aim
			}
		} else if v != nil {
			d.report(source.WantsShape("aim", "a value with its tolerance: 20 °C ± 0.5 K, or \"{bath} ± 0.5 K\""), v.Span)
		}
		st.Hold = d.text(item.Get("hold"), "hold")
		if v := item.Get("dark"); v != nil {
			switch d.text(v, "dark") {
			case "true", "yes":
				st.Dark = true
			case "false", "no":
			default:
				d.report(source.NotOneOf("dark", v.Text, []string{"true", "false"}), v.Span)
			}
		}
		if v := item.Get("note"); v != nil {
			d.text(v, "note")
			p := prose(v)
			st.Note = &p
		}
		d.stepCaution(st, item.Get("caution"))
		d.sheet.Steps = append(d.sheet.Steps, st)
	}
}

// colonTime reports a time that is written with a colon, and reports whether it is.
func (d *decoder) colonTime(v *value) bool {
	if v.Shape != scalar {
		return false
	}
	_, t := quantity.Parse(v.Text)
	if t == nil || t.Wanting(quantity.Time).Code != "clock-time" {
		return false
	}
	d.report(t.Problem, v.Place(t.Start, t.End))
	return true
}

func (d *decoder) duration(v *value, key string) *quantity.Value {
	if v == nil || d.colonTime(v) {
		return nil
	}
	q, ok := d.quantity(v, key)
	if !ok {
		return nil
	}
	if q.Kind != quantity.Time || q.Base < 0 {
		d.report(source.WantsKind(key, "a time", q.Kind.Name()), v.Span)
		return nil
	}
	return &q
}

func (d *decoder) agitation(st *Step, v *value) {
	if v == nil || v.Shape == nothing {
		return
	}
	if v.Shape == scalar {
		p := prose(v)
		st.Agitate = &Agitation{Text: &p}
		return
	}
	if v = d.mapping(v, "agitate"); v == nil {
		return
	}
	d.known(v, underFront("steps", "", "agitate"))
	a := &Agitation{First: d.duration(v.Get("first"), "first"), Every: d.duration(v.Get("every"), "every"), Turning: d.duration(v.Get("turning"), "turning")}
	if n := v.Get("inversions"); n != nil {
		count, err := strconv.Atoi(d.text(n, "inversions"))
		if err != nil || count < 1 || count > 1000 {
			d.report(source.WantsWholeNumber("inversions"), n.Span)
		}
		a.Inversions = count
		if turning := v.Get("turning"); turning != nil && turning.Shape != nothing {
			d.report(source.TurnedTwice(), turning.Key)
		}
	}
	if a.Every != nil && a.Every.Base == 0 {
		d.report(source.StepNotPositive(), v.Get("every").Span)
		a.Every = nil
	}
	if v.Get("first") == nil && v.Get("every") == nil {
		d.report(source.MissingKey("every", "first: 30 s, every: 60 s, or write how in words"), v.Key)
	}
	st.Agitate = a
}

// stepCaution reads a caution's name, a text with its word, or "WORD: text".
func (d *decoder) stepCaution(st *Step, v *value) {
	if v == nil || v.Shape == nothing {
		return
	}
	if v.Shape == mapping {
		c := d.ownCaution(v, v.Span)
		st.Own = &c
		return
	}
	text := d.text(v, "caution")
	for i, c := range d.sheet.Cautions {
		if c.Name == text {
			st.Caution = i
			return
		}
	}
	for _, w := range SignalWords {
		for _, sep := range []string{": ", ". ", " "} {
			if rest, ok := strings.CutPrefix(text, w+sep); ok && strings.TrimSpace(rest) != "" {
				start := strings.Index(v.Text, w) + len(w) + len(sep)
				st.Own = &Caution{Word: w, Span: v.Span, Text: Prose{Text: v.Text[start:], Place: func(a, b int) source.Span { return v.Place(a+start, b+start) }}}
				return
			}
		}
	}
	if isName(text) {
		if c, ok := standing(text, v); ok {
			st.Own = &c
			return
		}
		var names []string
		for _, c := range d.sheet.Cautions {
			names = append(names, c.Name)
		}
		d.missing(text, source.UnknownCautionName(text, source.Nearest(text, names)), v.Span)
		return
	}
	d.missing(text, source.CautionWord(), v.Span)
}
