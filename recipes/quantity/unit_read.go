package quantity

import (
	"math/big"
	"strings"
)

// read reads a unit, single or joined, from the start of a text: see ReadUnit.
func (t *table) read(text string) (u Unit, n int, ok bool) {
	if text == "" {
		return Unit{}, 0, false
	}
	sign := int8(1)
	var shown strings.Builder
	pos := 0
	if text[0] == '/' {
		sign, pos = -1, 1
		shown.WriteByte('/')
	}
	for {
		one, power, size, found := t.atom(text[pos:])
		if !found {
			break
		}
		if !ok && sign > 0 && power == 1 && (!joins(text[pos+size:]) || one.Kind.Sort == Point) {
			return one, size, true // the common case: a single unit
		}
		if one.Kind.Sort == Point {
			break // a scale joins nothing: write K
		}
		if !ok {
			u = Unit{Factor: 1, Decimals: -1, exact: big.NewRat(1, 1), zero: new(big.Rat)}
		}
		if !u.join(one, sign, power) {
			return Unit{}, 0, false
		}
		shown.WriteString(one.Text)
		shown.WriteString(powerText(power))
		pos += size
		n, ok = pos, true
		if pos >= len(text) || text[pos] != '/' && text[pos] != '*' {
			break
		}
		sign = 1
		if text[pos] == '/' {
			sign = -1
		}
		// what follows must be a unit, or the sign is an operator
		if _, _, _, found := t.atom(text[pos+1:]); !found {
			break
		}
		shown.WriteByte(text[pos])
		pos++
	}
	if !ok {
		return Unit{}, 0, false
	}
	u.Factor, _ = u.exact.Float64()
	u.Text = shown.String()
	return u, n, true
}

// join multiplies a unit by a power of another, or divides it where the sign is negative;
// false says that there is no such kind.
func (u *Unit) join(one Unit, sign int8, power int) (fits bool) {
	for range power {
		if sign > 0 {
			u.Kind, fits = u.Kind.Times(one.Kind)
			u.exact = new(big.Rat).Mul(u.exact, one.exact)
		} else {
			u.Kind, fits = u.Kind.Over(one.Kind)
			u.exact = new(big.Rat).Quo(u.exact, one.exact)
		}
		if !fits {
			return false
		}
	}
	return true
}

// powerText is how a power is shown after a unit.
func powerText(power int) string {
	switch power {
	case 1:
		return ""
	case 2:
		return "²"
	case 3:
		return "³"
	}
	return string(rune('0' + power))
}

func joins(rest string) bool {
	return len(rest) > 1 && (rest[0] == '/' || rest[0] == '*')
}

// atom reads one name and its power.
func (t *table) atom(text string) (u Unit, power, n int, ok bool) {
	n = nameLength(text)
	if n == 0 {
		return Unit{}, 0, 0, false
	}
	name := text[:n]
	power = 1
	if d := name[n-1]; d >= '1' && d <= '9' {
		name, power = name[:n-1], int(d-'0')
	}
	if u, ok = t.byName[name]; !ok {
		if u, ok = countNamed(name); !ok {
			return Unit{}, 0, 0, false
		}
	}
	if power == 1 {
		if rest := text[n:]; strings.HasPrefix(rest, "²") {
			power, n = 2, n+len("²")
		} else if strings.HasPrefix(rest, "³") {
			power, n = 3, n+len("³")
		}
	}
	if n < len(text) && text[n] == '(' {
		return Unit{}, 0, 0, false
	}
	return u, power, n, true
}

// nameLength is the length of the run of characters that a unit's name may have,
// a power's digits included.
func nameLength(text string) int {
	if strings.HasPrefix(text, "%") {
		return 1
	}
	for i, r := range text {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '_' || r == '°' || r == 'µ' || r == 'Δ' ||
			r == '℃' || r == '℉' || i > 0 && r >= '0' && r <= '9' {
			continue
		}
		return i
	}
	return len(text)
}
