package quantity

import (
	"math/big"
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// dilution reads 1+100 and 1 in 100. In a formula both are refused.
func (r *reader) dilution() (Value, bool, *Trouble) {
	first := partLength(r.remaining())
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
			added = addedIn(a, b)
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

// addedIn is how much to add to some parts to make a whole: 99 for 1 in 100.
func addedIn(parts, whole string) string {
	x, y := ratOf(parts), ratOf(whole)
	if x == nil || y == nil {
		return whole
	}
	added := new(big.Rat).Sub(y, x)
	f, _ := added.Float64()
	return strconv.FormatFloat(f, 'g', -1, 64)
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
