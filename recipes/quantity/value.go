package quantity

import (
	"strings"

	"labsite/recipes/source"
)

// Form is how a quantity was written, where that is more than a number and a unit.
type Form uint8

const (
	// Plain is a number, perhaps with a unit.
	Plain Form = iota
	// Duration is a time in several units: 10 min 30 s.
	Duration
	// Dilution is parts: 1+100, 1 in 100.
	Dilution
	// Fraction is a whole number and a fraction, or a fraction: 1 2/3 stop, 1/125 s.
	Fraction
	// Aperture is a number as it is engraved on a lens: f/8.
	Aperture
)

// Value is a quantity that was read.
type Value struct {
	Kind Kind
	// Base is the value in base units.
	Base float64
	// Unit is the unit it was written in; seconds for a duration in several units.
	Unit Unit
	Form Form
	// Text is the value as it was written, in the spelling that it is shown in.
	Text string
}

// reader goes through a normalised text.
type reader struct {
	text      string
	pos       int
	inFormula bool
	// difference makes °C and °F mean a step on the scale.
	difference bool
}

func (r *reader) blanks() bool {
	start := r.pos
	for r.pos < len(r.text) && (r.text[r.pos] == ' ' || r.text[r.pos] == '\n') {
		r.pos++
	}
	return r.pos > start
}

func (r *reader) peek() byte { return r.peekAt(0) }

func (r *reader) peekAt(i int) byte {
	if r.pos+i < len(r.text) {
		return r.text[r.pos+i]
	}
	return 0
}

func (r *reader) remaining() string { return r.text[r.pos:] }

// word is the run of a unit's characters that is here, "" if there is none.
func (r *reader) word() string { return r.remaining()[:nameLength(r.remaining())] }

// notUnits are words that may follow a number without being a unit.
var notUnits = map[string]bool{"and": true, "or": true, "not": true, "in": true, "if": true, "else": true, "let": true, "by": true}

// quantity reads one quantity: an f-number, or a sign, then a dilution, a duration, a
// fraction or a number, and its unit.
func (r *reader) quantity() (Value, *Trouble) {
	signed := false
	if !r.inFormula {
		if r.aperture() {
			return r.fNumber()
		}
		if r.peek() == '+' && isDigit(r.peekAt(1)) {
			r.pos++ // show: +0.1 stop writes values so
			signed = true
		}
	}
	start := r.pos
	negative := false
	if r.peek() == '-' {
		negative = true
		r.pos++
	}
	first := r.pos
	if v, ok, t := r.date(negative || signed); ok || t != nil {
		return v, t
	}
	if n := digits(r.remaining()); n > 0 && !r.inFormula {
		if t := r.clockOrRatio(n); t != nil {
			return Value{}, t
		}
	}
	if !negative {
		if v, ok, t := r.dilution(); ok || t != nil {
			return v, t
		}
	}
	n, t := number(r.remaining(), r.inFormula)
	if t != nil {
		t.Start, t.End = t.Start+r.pos, t.End+r.pos
		return Value{}, t
	}
	text := r.text[r.pos : r.pos+n]
	r.pos += n
	if v, ok, t := r.fraction(start, text, negative); ok || t != nil {
		return v, t
	}
	return r.withUnit(start, first, text, negative)
}

// withUnit reads the unit after a number, and the further parts of a duration. start is where
// the value begins, first where its number does.
func (r *reader) withUnit(start, first int, text string, negative bool) (Value, *Trouble) {
	after := r.pos
	if word := r.word(); word != "" && !(r.inFormula && word == "%") {
		return Value{}, trouble(source.BlankBeforeUnit(text, word), first, r.pos+len(word))
	}
	if !r.blanks() {
		return r.newValue(start, text, negative, Unit{Factor: 1, Decimals: -1}, ""), nil
	}
	u, word, t := r.unit(text)
	switch rank := durationRank(word); {
	case t != nil:
		return Value{}, t
	case word == "":
		r.pos = after
		return r.newValue(start, text, negative, Unit{Factor: 1, Decimals: -1}, ""), nil
	case rank > 0 && rank < 4:
		if v, ok, t := r.duration(start, first, text, negative, rank); ok || t != nil {
			return v, t
		}
	}
	return r.newValue(start, text, negative, u, word), nil
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' }

func (r *reader) newValue(start int, text string, negative bool, u Unit, word string) Value {
	v := Value{Kind: u.Kind, Base: exactly(text, negative, u), Unit: u, Text: text}
	if negative {
		v.Text = "-" + text
	}
	if u.Text != "" {
		shown := InNumber(v.Text, u.Text)
		if Plural(u.Text) == u.Text && !strings.Contains(u.Text, "/") && strings.HasPrefix(word, u.Text) && (word == u.Text+"s" || word == u.Text+"es") {
			shown = word
		}
		v.Text += " " + shown
	}
	return v
}

// unit reads the unit after a number and its space, or a unit alone if there is no number.
// word is the unit as written, empty if there is none.
func (r *reader) unit(numberText string) (u Unit, word string, t *Trouble) {
	rest := r.remaining()
	before := numberText
	if before != "" {
		before += " "
	}
	u, n, ok := ReadUnit(rest)
	if !ok {
		if rest != "" && rest[0] == '/' {
			if r.inFormula || len(rest) < 2 || !isLetter(rest[1]) {
				return Unit{}, "", nil
			}
			return Unit{}, "", r.unknown(1, before+"/")
		}
		n = nameLength(rest)
		if n == 0 {
			return Unit{}, "", nil
		}
		if rest[0] == '%' {
			n = 1
		}
		name := rest[:n]
		if name == "by" || r.inFormula && notUnits[name] || n < len(rest) && rest[n] == '(' {
			return Unit{}, "", nil
		}
		if bare := strings.TrimRight(name, "0123456789"); IsUnit(bare) || IsCount(bare) {
			n = joinedLength(rest)
			return Unit{}, "", trouble(source.UnitsDoNotJoin(rest[:n]), r.pos, r.pos+n)
		}
		return Unit{}, "", r.unknown(0, before)
	}
	if t := r.scaleJoined(before, u, n); t != nil {
		return Unit{}, "", t
	}
	if !r.inFormula && n < len(rest) && (rest[n] == '/' || rest[n] == '*') {
		if nameLength(rest[n+1:]) > 0 {
			return Unit{}, "", r.unknown(n+1, before+rest[:n+1])
		}
	}
	if r.difference && u.Kind == Scale {
		if rest[:n] == "°F" {
			u = must("Δ°F")
		} else {
			u = must("K")
		}
	}
	word = rest[:n]
	r.pos += n
	return u, word, nil
}

// unknown suggests what was meant by a word that is not a unit, which begins from bytes on.
func (r *reader) unknown(from int, before string) *Trouble {
	p, n := unknownUnit(r.text[r.pos+from:], before)
	return trouble(p, r.pos+from, r.pos+from+n)
}

// joinedLength is the length of a joined unit, whether or not its parts fit together.
func joinedLength(text string) int {
	n := nameLength(text)
	for n < len(text) && (text[n] == '/' || text[n] == '*') {
		more := nameLength(text[n+1:])
		if more == 0 {
			break
		}
		n += 1 + more
	}
	return n
}

// scaleJoined refuses °C/min and J/°C: a joined unit takes K.
func (r *reader) scaleJoined(before string, u Unit, n int) *Trouble {
	rest := r.remaining()
	if n >= len(rest) || rest[n] != '/' && rest[n] != '*' {
		return nil
	}
	next, _, _, ok := units.atom(rest[n+1:])
	if !ok || u.Kind != Scale && next.Kind != Scale {
		return nil
	}
	all := rest[:joinedLength(rest)]
	repaired := strings.NewReplacer("°C", "K", "°F", "Δ°F", "ΔK", "K", "ΔΔ", "Δ").Replace(all)
	return trouble(source.ScaleJoined(u.Kind == Scale, before+repaired), r.pos, r.pos+len(all))
}

// clockOrRatio refuses 10:30 and 1:100, which can be read in more than one way.
func (r *reader) clockOrRatio(n int) *Trouble {
	if r.peekAt(n) != ':' || !isDigit(r.peekAt(n+1)) {
		return nil
	}
	m := digits(r.text[r.pos+n+1:])
	a, b := r.remaining()[:n], r.text[r.pos+n+1:r.pos+n+1+m]
	end := r.pos + n + 1 + m
	p := source.BareRatio(a, b)
	switch {
	case m != 2 || b >= "60":
	case a == "1":
		p = source.RatioOrTime(a, b)
	default:
		p = source.ClockTime(a, b)
	}
	t := trouble(p, r.pos, end)
	t.colon = [2]string{a, b}
	return t
}

// Wanting rewords the trouble for a place where only one kind fits: 1:30 is a time where a
// time is wanted, and a dilution where a plain number is.
func (t *Trouble) Wanting(k Kind) *Trouble {
	a, b := t.colon[0], t.colon[1]
	switch {
	case k == Time && len(b) == 2 && b < "60":
		t.Problem = source.ClockTime(a, b)
	case k == Number && a != "":
		t.Problem = source.BareRatio(a, b)
	}
	return t
}
