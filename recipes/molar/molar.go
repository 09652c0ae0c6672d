package molar

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"unicode/utf8"
)

// Bounds of a formula; beyond them it is refused.
const (
	Longest  = 200   // characters
	Deepest  = 8     // brackets within brackets
	Largest  = 10000 // largest count of an element or group
	smallest = 1e-3  // smallest factor of a part
)

// Element is a symbol and how often it is in one formula unit.
type Element struct {
	Symbol string
	Count  float64
}

// Mass gives the molar mass of a formula in grams per mole, from the abridged
// standard atomic weights. Formulas look like `Na2CO3`, `(NH4)2S2O3`,
// `K3[Fe(CN)6]`, `Na2S2O3·5H2O` (also with `.` or `*` for the dot) or
// `C12H21N3O2S·1.5H2SO4·H2O`; subscript digits are read as digits. The error
// says what is wrong and where.
func Mass(formula string) (gramsPerMole float64, err error) {
	elements, err := Elements(formula)
	if err != nil {
		return 0, err
	}
	for _, e := range elements {
		gramsPerMole += e.Count * weights[e.Symbol]
	}
	return gramsPerMole, nil
}

// Elements counts the elements of a formula: carbon first, then hydrogen, then
// the rest by symbol if there is carbon, otherwise all by symbol (the order of
// E. A. Hill, 1900). The errors are those of Mass.
func Elements(formula string) ([]Element, error) {
	if n := utf8.RuneCountInString(formula); n > Longest {
		return nil, fmt.Errorf("the formula has %d characters; the limit is %d", n, Longest)
	}
	r := reader{text: plain.Replace(strings.TrimSpace(formula))}
	if r.text == "" {
		return nil, fmt.Errorf("the formula is empty")
	}
	total := map[string]float64{}
	for part := 1; ; part++ {
		factor := 1.0
		if r.digit() {
			var err error
			if factor, err = r.factor(); err != nil {
				return nil, err
			}
		}
		counts, err := r.group(0, 0)
		if err != nil {
			return nil, err
		}
		for symbol, n := range counts {
			total[symbol] += factor * n
		}
		if r.at == len(r.text) {
			break
		}
		r.at++ // group stops at a dot or at the end
	}
	list := make([]Element, 0, len(total))
	for symbol, n := range total {
		list = append(list, Element{symbol, n})
	}
	_, organic := total["C"]
	rank := func(s string) string {
		switch {
		case organic && s == "C":
			return " 0"
		case organic && s == "H":
			return " 1"
		}
		return s
	}
	sort.Slice(list, func(i, j int) bool { return rank(list[i].Symbol) < rank(list[j].Symbol) })
	return list, nil
}

var plain = strings.NewReplacer("₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9",
	"•", "·", "⋅", "·", "∙", "·", "*", "·")

// reader walks over a formula; at counts bytes.
type reader struct {
	text string
	at   int
}

func (r *reader) digit() bool {
	return r.at < len(r.text) && r.text[r.at] >= '0' && r.text[r.at] <= '9'
}

// dot gives the width of the sign that joins two parts, 0 if there is none. A
// full stop is one too: a count of atoms never has decimals, so `CO3.10H2O` can
// only mean ten of water.
func (r *reader) dot() int {
	switch {
	case strings.HasPrefix(r.text[r.at:], "·"):
		return len("·")
	case strings.HasPrefix(r.text[r.at:], "."):
		return 1
	}
	return 0
}

// factor reads the number before a part: `5` of 5H2O, `1.5` of 1.5H2SO4.
func (r *reader) factor() (float64, error) {
	start := r.at
	n, err := r.count()
	if err != nil {
		return 0, err
	}
	if strings.HasPrefix(r.text[r.at:], ".") {
		r.at++
		if !r.digit() {
			return 0, r.fault("a figure is missing after the decimal point")
		}
		unit := 1.0
		for r.digit() {
			unit /= 10
			n += float64(r.text[r.at]-'0') * unit
			r.at++
		}
	}
	if n < smallest {
		r.at = start
		return 0, r.fault("a part taken %g times means nothing", n)
	}
	return n, nil
}

// count reads a whole number.
func (r *reader) count() (float64, error) {
	start, n := r.at, 0.0
	for r.digit() {
		n = n*10 + float64(r.text[r.at]-'0')
		r.at++
	}
	if n > Largest {
		r.at = start
		return 0, r.fault("the count is above %d", Largest)
	}
	return n, nil
}

// group reads elements and brackets up to the closing sign of its own bracket
// (open, 0 for none), to a dot or to the end.
func (r *reader) group(open byte, depth int) (map[string]float64, error) {
	if depth > Deepest {
		return nil, r.fault("brackets are nested more than %d deep", Deepest)
	}
	counts := map[string]float64{}
	for r.at < len(r.text) {
		if ended, err := r.groupEnds(open, len(counts) == 0); ended || err != nil {
			return counts, err
		}
		inner, err := r.unit(depth)
		if err != nil {
			return nil, err
		}
		n, err := r.times()
		if err != nil {
			return nil, err
		}
		for symbol, k := range inner {
			counts[symbol] += k * n
			if counts[symbol] > math.Pow(Largest, 2) {
				return nil, r.fault("the formula holds too many atoms")
			}
		}
	}
	if open != 0 {
		return nil, r.fault("a bracket is not closed")
	}
	if len(counts) == 0 {
		return nil, r.fault("a part of the formula is missing here")
	}
	return counts, nil
}

// groupEnds reports whether the group ends here; it consumes a closing bracket, and all of a dot
// but its last byte.
func (r *reader) groupEnds(open byte, empty bool) (bool, error) {
	switch c := r.text[r.at]; {
	case c == ')' || c == ']':
		if open == 0 || (open == '(') != (c == ')') {
			return false, r.fault("this bracket closes nothing")
		}
		if empty {
			return false, r.fault("the bracket holds nothing")
		}
		r.at++
		return true, nil
	case r.dot() > 0 && open == 0:
		if empty {
			return false, r.fault("a part of the formula is missing here")
		}
		if r.at += r.dot() - 1; r.at+1 == len(r.text) {
			return false, r.fault("a part of the formula is missing after the dot")
		}
		return true, nil
	}
	return false, nil
}

// unit reads what a count may follow: an element, or a bracket with all that it holds.
func (r *reader) unit(depth int) (map[string]float64, error) {
	switch c := r.text[r.at]; {
	case c == '(' || c == '[':
		r.at++
		return r.group(c, depth+1)
	case c >= 'A' && c <= 'Z':
		symbol, err := r.symbol()
		return map[string]float64{symbol: 1}, err
	}
	return nil, r.fault("no element begins here")
}

// times reads the count after an element or a bracket, 1 if there is none.
func (r *reader) times() (float64, error) {
	if !r.digit() {
		return 1, nil
	}
	n, err := r.count()
	if err == nil && n == 0 {
		r.at--
		return 0, r.fault("a count cannot be zero")
	}
	return n, err
}

// symbol reads the longest symbol that is an element.
func (r *reader) symbol() (string, error) {
	for _, n := range []int{2, 1} {
		if r.at+n <= len(r.text) {
			if s := r.text[r.at : r.at+n]; weights[s] > 0 {
				r.at += n
				return s, nil
			}
		}
	}
	return "", r.fault("no element with a standard atomic weight begins here")
}

// fault names the place by its character.
func (r *reader) fault(format string, args ...any) error {
	at := min(r.at, len(r.text))
	place := fmt.Sprintf("at character %d of %q", utf8.RuneCountInString(r.text[:at])+1, r.text)
	if at == len(r.text) {
		place = fmt.Sprintf("at the end of %q", r.text)
	}
	return fmt.Errorf("%s, %s", fmt.Sprintf(format, args...), place)
}
