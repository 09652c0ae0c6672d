package prove

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// GiveOrTake is the form in which twice a standard uncertainty (k = 2) is written beside a figure.
func GiveOrTake(f *page.Figure) quantity.Show {
	if f.Kind == quantity.Number && f.Show.Unit.Text != "" { // DefaultShow would drop the per cent
		if show, trouble := quantity.ParseShow(f.Show.Unit.Text, f.Kind); trouble == nil {
			return show
		}
	}
	return quantity.DefaultShow(f.Kind.Difference(), quantity.Difference(f.Show.Unit))
}

// TwoDigits rounds a value to two significant digits in the unit with this factor.
func TwoDigits(base, factor float64) float64 {
	if factor == 0 {
		factor = 1
	}
	v := math.Abs(base / factor)
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(v/step) * step * factor
}

// Shown is the ± of a figure in its unit; "" if no number may be shown.
func (s Sureness) Shown() string {
	if s.Unknown || !s.Straight {
		return ""
	}
	show := GiveOrTake(s.Figure)
	return show.Format(TwoDigits(2*s.Standard, show.Unit.Factor)).Text
}

// Cause says how much comes from the source that contributes most.
func (s Sureness) Cause() string {
	if s.Most == nil || s.Standard == 0 {
		return ""
	}
	return MostOf(s.Share) + " from " + s.Most.Words()
}

// MostOf is a share in words.
func MostOf(share float64) string {
	switch {
	case share >= 0.9:
		return "nearly all"
	case share >= 0.5:
		return "most"
	}
	return "the largest part"
}

// Words is the source as it stands within a sentence.
func (s Source) Words() string { return lowered(s.Label) }

// lowered begins a label with a small letter, unless it begins with an abbreviation.
func lowered(label string) string {
	first, n := utf8.DecodeRuneInString(label)
	if second, _ := utf8.DecodeRuneInString(label[n:]); unicode.IsUpper(second) {
		return label
	}
	return strings.ToLower(string(first)) + label[n:]
}

// What stands in place of a number that would mislead, or that is not known.
const (
	Bends   = "not told as one number: it bends too much within what the given values may be off by"
	Unknown = "not known here: it lies at the edge of what was tested, or goes in jumps"
)

// NotTold is which of the two stands in place of the number.
func (s Sureness) NotTold() string {
	if s.Unknown {
		return Unknown
	}
	return Bends
}
