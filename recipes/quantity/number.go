package quantity

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// Trouble is a problem at a place in the text that was read, in bytes.
type Trouble struct {
	source.Problem
	Start, End int

	colon [2]string // the two numbers of 1:30
}

func trouble(p source.Problem, start, end int) *Trouble {
	return &Trouble{Problem: p, Start: start, End: end}
}

// Bounds of a number as it is written: more than any bench needs, and small enough that
// exact arithmetic stays cheap.
const (
	mostDigits   = 40
	mostExponent = 99
)

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func digits(text string) int {
	n := 0
	for n < len(text) && isDigit(text[n]) {
		n++
	}
	return n
}

// number reads an unsigned decimal number at the start of text: digits on both
// sides of a point, no leading zeros, perhaps an exponent. inFormula leaves a
// comma to the formula, where it separates arguments.
func number(text string, inFormula bool) (n int, t *Trouble) {
	n = digits(text)
	if n == 0 {
		if strings.HasPrefix(text, ".") && digits(text[1:]) > 0 {
			return 0, trouble(source.NumberPoint("0"+text[:1+digits(text[1:])]), 0, 1+digits(text[1:]))
		}
		return 0, trouble(source.NotANumber(firstWord(text)), 0, max(1, len(firstWord(text))))
	}
	whole := n
	at := func(i int) byte {
		if i < len(text) {
			return text[i]
		}
		return 0
	}
	if at(n) == '.' && isDigit(at(n+1)) {
		n += 1 + digits(text[n+1:])
	} else if at(n) == '.' && at(n+1) != '.' {
		return 0, trouble(source.NumberPoint(text[:n]), 0, n+1)
	}
	if at(n) == 'e' || at(n) == 'E' {
		i := n + 1
		if at(i) == '+' || at(i) == '-' {
			i++
		}
		if d := digits(text[min(i, len(text)):]); d > 0 {
			exponent, err := strconv.Atoi(text[i : i+d])
			n = i + d
			if err != nil || exponent > mostExponent {
				return 0, trouble(source.NumberTooLong(), 0, n)
			}
		}
	}
	switch {
	case whole > 1 && text[0] == '0':
		trimmed, _ := leadingZeros(text[:n])
		return 0, trouble(source.LeadingZeros(text[:n], trimmed), 0, n)
	case at(n) == '_' && isDigit(at(n+1)):
		end := n
		for at(end) == '_' || isDigit(at(end)) {
			end++
		}
		return 0, trouble(source.NumberUnderscore(strings.ReplaceAll(text[:end], "_", "")), 0, end)
	case text[0] == '0' && n == 1 && (at(1) == 'x' || at(1) == 'X'):
		return 0, hexadecimal(text)
	case n > mostDigits:
		return 0, trouble(source.NumberTooLong(), 0, n)
	case !inFormula && (at(n) == ',' || at(n) == '.' && n > whole) && isDigit(at(n+1)):
		end := n
		for (at(end) == ',' || at(end) == '.' || isDigit(at(end))) && !strings.HasPrefix(text[end:], "..") {
			end++
		}
		end = len(strings.TrimRight(text[:end], ".,"))
		return 0, trouble(SeparatorProblem(text[:end]), 0, end)
	}
	return n, nil
}

// hexadecimal reports 0x1F, with its decimal value.
func hexadecimal(text string) *Trouble {
	end := 2
	for end < len(text) && strings.IndexByte("0123456789abcdefABCDEF", text[end]) >= 0 {
		end++
	}
	decimal := ""
	if v, err := strconv.ParseUint(text[2:end], 16, 64); err == nil {
		decimal = strconv.FormatUint(v, 10)
	}
	return trouble(source.Hexadecimal(decimal), 0, end)
}

// SeparatorProblem words the problem of a number with commas or several points, perhaps with a
// unit after it.
func SeparatorProblem(text string) source.Problem {
	n := 0
	for n < len(text) && (isDigit(text[n]) || text[n] == ',' || text[n] == '.') {
		n++
	}
	readings := separatorReadings(text[:n])
	for i := range readings {
		readings[i] += text[n:]
	}
	switch {
	case len(readings) == 2:
		return source.WhichComma(readings[0], readings[1])
	case len(readings) == 1 && strings.Count(text, ",") == 1 && !strings.Contains(text[:n], "."):
		return source.DecimalComma(readings[0])
	}
	return source.DigitGroups(strings.Join(readings, ""))
}

// Digits in groups of three: 1,234,567.8 and 1.234.567,8.
var (
	groupedByComma = regexp.MustCompile(`^[1-9]\d{0,2}(,\d{3})+(\.\d+)?$`)
	groupedByPoint = regexp.MustCompile(`^[1-9]\d{0,2}(\.\d{3})+(,\d+)?$`)
)

// separatorReadings lists what a number with commas or several points can mean; nothing if there is no
// telling.
func separatorReadings(text string) []string {
	commas, points := strings.Count(text, ","), strings.Count(text, ".")
	if commas == 1 && points == 0 {
		out := []string{strings.Replace(text, ",", ".", 1)}
		if groupedByComma.MatchString(text) {
			out = append(out, strings.Replace(text, ",", "", 1))
		}
		return out
	}
	switch {
	case groupedByComma.MatchString(text):
		return []string{strings.ReplaceAll(text, ",", "")}
	case groupedByPoint.MatchString(text):
		return []string{strings.Replace(strings.ReplaceAll(text, ".", ""), ",", ".", 1)}
	}
	return nil
}

// leadingZeros gives a number without its leading zeros, and whether it had any.
func leadingZeros(text string) (trimmed string, zeros bool) {
	trimmed = strings.TrimLeft(text, "0")
	if trimmed == "" || !isDigit(trimmed[0]) {
		trimmed = "0" + trimmed
	}
	return trimmed, trimmed != text
}

func firstWord(text string) string {
	if i := strings.IndexAny(text, " \n,;()"); i > 0 {
		return text[:i]
	}
	return text
}

// exactly is the float64 nearest to the number times the unit's factor plus its
// zero, worked out in fractions so that 68 °F is 20 °C to the last bit.
func exactly(text string, negative bool, u Unit) float64 {
	if u.Factor == 1 && u.Zero == 0 {
		v, _ := strconv.ParseFloat(text, 64)
		if negative {
			v = -v
		}
		return v
	}
	r, _ := new(big.Rat).SetString(text)
	if r == nil {
		return 0
	}
	return scaled(r, negative, u)
}

func scaled(r *big.Rat, negative bool, u Unit) float64 {
	if negative {
		r.Neg(r)
	}
	if u.exact != nil {
		r.Mul(r, u.exact)
		r.Add(r, u.zero)
	}
	v, _ := r.Float64()
	return v
}
