package quantity

import (
	"math"
	"math/big"
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// Style is the way in which a value is written.
type Style uint8

const (
	// Digits writes three significant digits, the whole part always in full.
	Digits Style = iota
	// Steps writes the nearest multiple of a step in one unit.
	Steps
	// Clock writes a time as 10 min 30 s, to a step in seconds where there is one.
	Clock
	// Part writes stops in thirds or other k-ths: 1 2/3 stop.
	Part
	// Added writes a dilution as 1+n.
	Added
	// OneOver writes a short time as 1/n s.
	OneOver
	// Engraved writes a number as f/n.
	Engraved
	// Usual writes in the trade's own bands.
	Usual
	// Written writes all digits in one unit: a value that somebody set.
	Written
	// Truth writes yes and no.
	Truth
	// Choice writes the text of the choice with that number.
	Choice
)

// Show says how values of one kind are displayed. Build one with ParseShow,
// DefaultShow or a Value's AsWritten.
type Show struct {
	Style Style
	Unit  Unit
	// Step is the step in Unit; StepText the step as written, for its decimals.
	Step     float64
	StepText string
	// Of is k of a Part.
	Of int
	// Words are the texts of a Choice.
	Words []string
}

// Shown is a value as it is displayed: Text with plain blanks, Number in Unit.
type Shown struct {
	Text   string
	Number float64
	Unit   string
}

// ParseShow reads what stands after `show:` or after `in` in a placement, for a
// value of a kind.
func ParseShow(text string, kind Kind) (Show, *Trouble) {
	norm, _ := Normalise(text)
	norm = strings.TrimSpace(norm)
	wrong := func(p source.Problem) (Show, *Trouble) { return Show{}, trouble(p, 0, len(text)) }
	want := func(k Kind, s Show) (Show, *Trouble) {
		if kind != k && kind != Any {
			return wrong(source.ShowKind(norm, k.Name(), kind.Name()))
		}
		return s, nil
	}
	if kind.Sort == YesNo || kind.Sort == Word {
		return wrong(source.ShowNothing(kind.Name()))
	}
	switch norm {
	case "1+n":
		return want(Number, Show{Style: Added, Unit: plainUnit})
	case "f/n":
		return want(Number, Show{Style: Engraved, Unit: plainUnit})
	case "1/n s":
		return want(Time, Show{Style: OneOver, Unit: must("s")})
	case "usual":
		switch kind {
		case Volume:
			return Show{Style: Usual, Unit: must("ml")}, nil
		case Mass:
			return Show{Style: Usual, Unit: must("g")}, nil
		case Time:
			return Show{Style: Usual, Unit: must("s")}, nil
		}
		return wrong(source.ShowUsual(kind.Name()))
	}
	if norm == "" {
		return wrong(source.ShowEmpty())
	}
	if !isDigit(norm[0]) && norm[0] != '-' && norm[0] != '.' {
		u, n, ok := ReadUnit(norm)
		if !ok || n != len(norm) {
			return wrong(source.ShowUnknown(norm, shows(norm)...))
		}
		if kind.Sort != Point && u.Kind.Sort == Point {
			u = Difference(u)
		}
		if kind != Any && u.Kind != kind {
			if kind == Number {
				return wrong(source.ShowKind(norm, u.Kind.Name(), kind.Name()))
			}
			return wrong(source.ShowKind(norm, u.Kind.Name(), kind.Name()))
		}
		if u.Text == "s" {
			return Show{Style: Clock, Unit: u}, nil
		}
		if u.Decimals >= 0 {
			return DefaultShow(u.Kind, u), nil
		}
		return Show{Style: Digits, Unit: u}, nil
	}
	v, t := Parse(text)
	if t != nil {
		return Show{}, t
	}
	switch {
	case v.Form == Dilution:
		return wrong(source.ShowUnknown(norm, "1+n"))
	case v.Form == Duration:
		return wrong(source.ShowUnknown(norm))
	case v.Base <= 0 && v.Kind != Scale:
		return wrong(source.StepNotPositive())
	}
	u := v.Unit
	if u.exact == nil {
		u = plainUnit
	}
	if v.Kind == Scale && kind.Sort != Point {
		u = Difference(u)
		v.Kind = Degree
	} else if kind.Sort == Point && v.Kind == Degree {
		// a step of 0.5 K shows a point on the Celsius scale, one of 1 Δ°F on Fahrenheit's
		if u.Text == "Δ°F" {
			u = must("°F")
		} else {
			u = must("°C")
		}
		v.Kind = Scale
	}
	if kind != Any && v.Kind != kind {
		return wrong(source.ShowKind(norm, v.Kind.Name(), kind.Name()))
	}
	stepText, _, _ := strings.Cut(v.Text, " ")
	step, _ := strconv.ParseFloat(stepText, 64)
	if v.Form == Fraction {
		over, under, _ := strings.Cut(stepText, "/")
		if over != "1" || under == "" || v.Kind != Stops {
			return wrong(source.ShowFraction())
		}
		k, _ := strconv.Atoi(under)
		return Show{Style: Part, Unit: u, Of: k}, nil
	}
	if step <= 0 {
		return wrong(source.StepNotPositive())
	}
	if stepDecimals(stepText) > mostDecimals {
		return wrong(source.ShowTooFine(mostDecimals))
	}
	if u.Text == "s" {
		return Show{Style: Clock, Unit: u, Step: step, StepText: stepText}, nil
	}
	return Show{Style: Steps, Unit: u, Step: step, StepText: stepText}, nil
}

var plainUnit = Unit{Factor: 1, Decimals: -1, exact: big.NewRat(1, 1), zero: new(big.Rat)}

// Difference is the unit of a step on a scale: K for °C, Δ°F for °F, any other unit
// unchanged.
func Difference(u Unit) Unit {
	switch u.Text {
	case "°F":
		return must("Δ°F")
	case "°C":
		return must("K")
	}
	return u
}

// DefaultShow is how a value is shown without a show of its own, in the unit given
// or, where that is not of the kind, in the kind's default unit.
func DefaultShow(kind Kind, unit Unit) Show {
	switch kind.Sort {
	case YesNo:
		return Show{Style: Truth}
	case Word:
		return Show{Style: Choice}
	}
	if kind == Number {
		return Show{Style: Digits, Unit: plainUnit}
	}
	if kind == Time {
		return Show{Style: Clock, Unit: must("s")}
	}
	if unit.Kind != kind || unit.exact == nil {
		unit = kind.Default()
	}
	if unit.Decimals >= 0 {
		step := math.Pow10(-unit.Decimals)
		return Show{Style: Steps, Unit: unit, Step: step, StepText: strconv.FormatFloat(step, 'f', unit.Decimals, 64)}
	}
	return Show{Style: Digits, Unit: unit}
}

// AsWritten is how values of a given are shown: in the unit, and in the form, of the
// value that the page gives it.
func (v Value) AsWritten() Show {
	switch v.Kind.Sort {
	case YesNo:
		return Show{Style: Truth}
	case Word:
		return Show{Style: Choice}
	}
	u := v.Unit
	if u.exact == nil {
		u = plainUnit
	}
	switch {
	case v.Form == Dilution:
		return Show{Style: Added, Unit: u}
	case v.Form == Duration:
		return Show{Style: Clock, Unit: u}
	case v.Form == Fraction && v.Kind == Time && strings.HasPrefix(v.Text, "1/"):
		return Show{Style: OneOver, Unit: u}
	case v.Form == Fraction && v.Kind == Stops:
		k := 3
		if i := strings.IndexByte(v.Text, '/'); i > 0 {
			k, _ = strconv.Atoi(v.Text[i+1 : i+1+digits(v.Text[i+1:])])
		}
		return Show{Style: Part, Unit: u, Of: k}
	case u.Decimals >= 0:
		step := math.Pow10(-u.Decimals)
		return Show{Style: Steps, Unit: u, Step: step, StepText: strconv.FormatFloat(step, 'f', u.Decimals, 64)}
	}
	return Show{Style: Written, Unit: u}
}
