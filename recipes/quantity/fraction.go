package quantity

import (
	"math/big"
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// fraction reads "/125 s" after a whole number, or "2/3 stop" after a whole number
// and a space. Without a unit it is a fraction only outside formulas, which would
// divide there.
func (r *reader) fraction(start int, text string, negative bool) (Value, bool, *Trouble) {
	save := r.pos
	if strings.ContainsAny(text, ".eE") {
		return Value{}, false, nil
	}
	whole, over := "", text
	if r.blanks() {
		n := digits(r.remaining())
		if n == 0 || r.peekAt(n) != '/' {
			r.pos = save
			return Value{}, false, nil
		}
		whole, over = text, r.remaining()[:n]
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
	u, word, t := r.fractionUnit(over + "/" + under)
	if t != nil {
		return Value{}, false, t
	}
	if word == "" {
		r.pos = fractionEnd
		if r.inFormula && whole == "" {
			r.pos = save
			return Value{}, false, nil
		}
	}
	exact, shown, p := fractionOf(whole, over, under)
	if p != nil {
		return Value{}, false, trouble(*p, start, fractionEnd)
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

// fractionUnit reads the unit after a fraction and a space, that of a plain number if there is
// none.
func (r *reader) fractionUnit(fraction string) (u Unit, word string, t *Trouble) {
	u = Unit{Factor: 1, Decimals: -1}
	if !r.blanks() {
		return u, "", nil
	}
	read, word, t := r.unit(fraction)
	if word != "" {
		u = read
	}
	return u, word, t
}

// fractionOf is the number that three whole numbers make, and how it is written.
func fractionOf(whole, over, under string) (exact *big.Rat, shown string, p *source.Problem) {
	below, _ := strconv.ParseInt(under, 10, 64)
	above, _ := strconv.ParseInt(over, 10, 64)
	shown = over + "/" + under
	if below == 0 {
		p := source.FractionByZero()
		return nil, "", &p
	}
	exact = big.NewRat(above, below)
	if whole == "" {
		return exact, shown, nil
	}
	if above >= below {
		p := source.FractionTooLarge(whole + " " + shown)
		return nil, "", &p
	}
	w, _ := strconv.ParseInt(whole, 10, 64)
	return exact.Add(exact, big.NewRat(w, 1)), whole + " " + shown, nil
}
