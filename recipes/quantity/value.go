package quantity

import (
	"math/big"
	"strconv"
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

func (r *reader) rest() string { return r.text[r.pos:] }

// word is the run of a unit's characters that stands here, "" where there is none.
func (r *reader) word() string { return r.rest()[:nameLength(r.rest())] }

// words that follow a number without being a unit.
var notUnits = map[string]bool{"and": true, "or": true, "not": true, "in": true, "if": true, "else": true, "let": true, "by": true}

// quantity reads one quantity: a sign, then a dilution, a duration, a fraction or a
// number, and its unit.
func (r *reader) quantity() (Value, *Trouble) {
	start := r.pos
	negative := false
	if r.peek() == '-' {
		negative = true
		r.pos++
	}
	first := r.pos
	if n := digits(r.rest()); n > 0 && !r.inFormula {
		if t := r.clockOrRatio(n); t != nil {
			return Value{}, t
		}
	}
	if !negative {
		if v, ok, t := r.dilution(); ok || t != nil {
			return v, t
		}
	}
	n, t := number(r.rest(), r.inFormula)
	if t != nil {
		t.Start, t.End = t.Start+r.pos, t.End+r.pos
		return Value{}, t
	}
	text := r.text[r.pos : r.pos+n]
	r.pos += n
	if v, ok, t := r.fraction(start, text, negative); ok || t != nil {
		return v, t
	}
	after := r.pos
	if word := r.word(); word != "" && !(r.inFormula && word == "%") {
		return Value{}, trouble(source.BlankBeforeUnit(text, word), first, r.pos+len(word))
	}
	if !r.blanks() {
		return r.made(start, text, negative, Unit{Factor: 1, Decimals: -1}, ""), nil
	}
	u, word, t := r.unit(text)
	if t != nil {
		return Value{}, t
	}
	if word == "" {
		r.pos = after
		return r.made(start, text, negative, Unit{Factor: 1, Decimals: -1}, ""), nil
	}
	if rank := durationRank(word); rank > 0 && rank < 4 {
		if v, ok, t := r.duration(start, first, text, negative, rank); ok || t != nil {
			return v, t
		}
	}
	return r.made(start, text, negative, u, word), nil
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' }

func (r *reader) made(start int, text string, negative bool, u Unit, word string) Value {
	v := Value{Kind: u.Kind, Base: exactly(text, negative, u), Unit: u, Text: text}
	if negative {
		v.Text = "-" + text
	}
	if u.Text != "" {
		shown := u.Text
		if strings.HasPrefix(word, u.Text) && (word == u.Text+"s" || word == u.Text+"es") {
			shown = word
		}
		v.Text += " " + shown
	}
	return v
}

// unit reads the unit after a number and its blank; where there is no number, it reads
// the unit alone. word is the unit as written,
// empty where no unit stands there.
func (r *reader) unit(numberText string) (u Unit, word string, t *Trouble) {
	rest := r.rest()
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
		if IsUnit(strings.TrimRight(name, "0123456789")) {
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

// unknown says what may have been meant by the word some bytes on, which is no unit.
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
	rest := r.rest()
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

// durationRank orders the units of a duration: day 1, h 2, min 3, s 4; 0 for others.
func durationRank(word string) int {
	switch word {
	case "day", "days":
		return 1
	case "h":
		return 2
	case "min":
		return 3
	case "s":
		return 4
	}
	return 0
}

var rankSeconds = [5]float64{0, 86400, 3600, 60, 1}
var rankNames = [5]string{"", "day", "h", "min", "s"}

// duration reads the further parts after a first one of day, h or min; ok is false
// where no number follows, and then nothing more was read.
func (r *reader) duration(start, first int, text string, negative bool, rank int) (Value, bool, *Trouble) {
	save := r.pos
	total, shown := 0.0, ""
	if !r.blanks() || !isDigit(r.peek()) {
		r.pos = save
		return Value{}, false, nil
	}
	if strings.ContainsAny(text, ".eE") {
		return Value{}, false, trouble(source.DurationWhole(text+" "+rankNames[rank]), first, save)
	}
	whole, _ := strconv.ParseFloat(text, 64)
	total = whole * rankSeconds[rank]
	shown = text + " " + rankNames[rank]
	for rank < 4 {
		if !isDigit(r.peek()) {
			break
		}
		partStart := r.pos
		n, t := number(r.rest(), true)
		if t != nil {
			t.Start, t.End = t.Start+r.pos, t.End+r.pos
			return Value{}, false, t
		}
		part := r.text[r.pos : r.pos+n]
		r.pos += n
		hadBlank := r.blanks()
		u, size, ok := ReadUnit(r.rest())
		word := ""
		if ok {
			word = r.rest()[:size]
		}
		next := durationRank(word)
		if !hadBlank || next <= rank {
			end := max(r.pos+size, partStart+n)
			switch {
			case !hadBlank && r.word() != "":
				word := r.word()
				return Value{}, false, trouble(source.BlankBeforeUnit(part, word), partStart, r.pos+len(word))
			case !ok:
				return Value{}, false, trouble(source.DurationUnit(part, rankNames[rank+1]), partStart, partStart+n)
			case u.Kind == Time:
				return Value{}, false, trouble(source.DurationOrder(), start, end)
			}
			return Value{}, false, trouble(source.OperatorMissing(strings.TrimSpace(r.text[partStart:end])), partStart, end)
		}
		r.pos += size
		if next < 4 && strings.ContainsAny(part, ".eE") || strings.ContainsAny(part, "eE") {
			return Value{}, false, trouble(source.DurationWhole(part+" "+word), partStart, r.pos)
		}
		v, _ := strconv.ParseFloat(part, 64)
		if most := rankSeconds[rank] / rankSeconds[next]; v >= most {
			return Value{}, false, trouble(source.DurationBelow(part+" "+word, int(most), rankNames[next], rankNames[rank]), partStart, r.pos)
		}
		total += v * rankSeconds[next]
		shown += " " + part + " " + rankNames[next]
		rank = next
		save = r.pos
		r.blanks()
	}
	r.pos = save
	if negative {
		total, shown = -total, "-"+shown
	}
	return Value{Kind: Time, Base: total, Unit: must("s"), Form: Duration, Text: shown}, true, nil
}

// fraction reads "/125 s" after a whole number, or "2/3 stop" after a whole number
// and a blank. Without a unit it is a fraction only outside formulas, where there is
// no division to take it for.
func (r *reader) fraction(start int, text string, negative bool) (Value, bool, *Trouble) {
	save := r.pos
	if strings.ContainsAny(text, ".eE") {
		return Value{}, false, nil
	}
	whole, over := "", text
	if r.blanks() {
		n := digits(r.rest())
		if n == 0 || r.peekAt(n) != '/' {
			r.pos = save
			return Value{}, false, nil
		}
		whole, over = text, r.rest()[:n]
		r.pos += n
	}
	if r.peek() != '/' {
		r.pos = save
		return Value{}, false, nil
	}
	n := digits(r.text[r.pos+1:])
	if n == 0 || n > 9 || len(over) > 9 || len(whole) > 9 {
		r.pos = save
		return Value{}, false, nil
	}
	under := r.text[r.pos+1 : r.pos+1+n]
	r.pos += 1 + n
	fractionEnd := r.pos
	if trimmed, zeros := leadingZeros(under); zeros {
		return Value{}, false, trouble(source.LeadingZeros(under, trimmed), fractionEnd-n, fractionEnd)
	}
	if word := r.word(); word != "" && !(r.inFormula && word == "%") {
		shown := strings.TrimSpace(whole + " " + over + "/" + under)
		return Value{}, false, trouble(source.BlankBeforeUnit(shown, word), r.pos-len(shown), r.pos+len(word))
	}
	var u Unit
	word := ""
	if r.blanks() {
		var t *Trouble
		u, word, t = r.unit(over + "/" + under)
		if t != nil {
			return Value{}, false, t
		}
	}
	if word == "" {
		u = Unit{Factor: 1, Decimals: -1}
		r.pos = fractionEnd
		if r.inFormula && whole == "" {
			r.pos = save
			return Value{}, false, nil
		}
	}
	below, _ := strconv.ParseInt(under, 10, 64)
	above, _ := strconv.ParseInt(over, 10, 64)
	if below == 0 {
		return Value{}, false, trouble(source.FractionByZero(), start, fractionEnd)
	}
	exact := big.NewRat(above, below)
	shown := over + "/" + under
	if whole != "" {
		if above >= below {
			return Value{}, false, trouble(source.FractionTooLarge(whole+" "+shown), start, fractionEnd)
		}
		w, _ := strconv.ParseInt(whole, 10, 64)
		exact.Add(exact, big.NewRat(w, 1))
		shown = whole + " " + shown
	}
	v := Value{Kind: u.Kind, Base: scaled(exact, negative, u), Unit: u, Form: Fraction, Text: shown}
	if negative {
		v.Text = "-" + v.Text
	}
	if u.Text != "" {
		v.Text += " " + u.Text
	}
	return v, true, nil
}

// dilution reads 1+100 and 1 in 100. In a formula both are refused.
func (r *reader) dilution() (Value, bool, *Trouble) {
	first := partLength(r.rest())
	if first == 0 {
		return Value{}, false, nil
	}
	start, i := r.pos, first
	in := false
	switch {
	case r.peekAt(i) == '+' && isDigit(r.peekAt(i+1)):
		i++
	case strings.HasPrefix(r.text[r.pos+i:], " in ") && isDigit(r.peekAt(i+4)):
		i += 4
		in = true
	case !r.inFormula && strings.HasPrefix(r.text[r.pos+i:], " + ") && isDigit(r.peekAt(i+3)):
		n := partLength(r.text[r.pos+i+3:])
		end := r.pos + i + 3 + n
		return Value{}, false, trouble(source.DilutionBlanks(r.text[start:start+first]+"+"+r.text[end-n:end]), start, end)
	default:
		return Value{}, false, nil
	}
	second := partLength(r.text[r.pos+i:])
	if second == 0 {
		return Value{}, false, nil
	}
	a, b := r.text[start:start+first], r.text[r.pos+i:r.pos+i+second]
	if trimmed, zeros := leadingZeros(a); zeros {
		return Value{}, false, trouble(source.LeadingZeros(a, trimmed), start, start+first)
	}
	if trimmed, zeros := leadingZeros(b); zeros {
		return Value{}, false, trouble(source.LeadingZeros(b, trimmed), r.pos+i, r.pos+i+second)
	}
	r.pos += i + second
	if !in && r.peek() == '+' && isDigit(r.peekAt(1)) {
		for r.peek() == '+' || r.peek() == '.' || isDigit(r.peek()) {
			r.pos++
		}
		return Value{}, false, trouble(source.DilutionThreeParts(r.text[start:r.pos]), start, r.pos)
	}
	if r.inFormula {
		added := b
		if in {
			if x, y := ratOf(a), ratOf(b); x != nil && y != nil {
				added = new(big.Rat).Sub(y, x).RatString()
				if f, _ := new(big.Rat).Sub(y, x).Float64(); added != strconv.FormatFloat(f, 'g', -1, 64) {
					added = strconv.FormatFloat(f, 'g', -1, 64)
				}
			}
		}
		return Value{}, false, trouble(source.DilutionInFormula(r.text[start:r.pos], a, added), start, r.pos)
	}
	x, y := ratOf(a), ratOf(b)
	if x == nil || y == nil {
		return Value{}, false, trouble(source.NumberTooLong(), start, r.pos)
	}
	whole, shown := y, a+" in "+b
	if !in {
		whole, shown = new(big.Rat).Add(x, y), a+"+"+b
	}
	if whole.Sign() == 0 || x.Cmp(whole) > 0 {
		return Value{}, false, trouble(source.DilutionEmpty(shown), start, r.pos)
	}
	v, _ := new(big.Rat).Quo(x, whole).Float64()
	return Value{Kind: Number, Base: v, Unit: Unit{Factor: 1, Decimals: -1}, Form: Dilution, Text: shown}, true, nil
}

// partLength is the length of a part of a dilution: digits, perhaps a point and digits.
func partLength(text string) int {
	n := digits(text)
	if n > 0 && n < len(text)-1 && text[n] == '.' && isDigit(text[n+1]) {
		n += 1 + digits(text[n+1:])
	}
	if n > mostDigits {
		return 0
	}
	return n
}

func ratOf(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return nil
	}
	return r
}

// clockOrRatio refuses 10:30 and 1:100, which people read in more than one way.
func (r *reader) clockOrRatio(n int) *Trouble {
	if r.peekAt(n) != ':' || !isDigit(r.peekAt(n+1)) {
		return nil
	}
	m := digits(r.text[r.pos+n+1:])
	a, b := r.rest()[:n], r.text[r.pos+n+1:r.pos+n+1+m]
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

// Wanting words the trouble for a place where only one kind can stand: 1:30 is a time
// where a time is wanted, and a dilution where a plain number is.
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
