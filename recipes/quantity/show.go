package quantity

import (
	"math"
	"math/big"
	"strconv"
	"strings"
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
	// Choice writes the text whose index in Words is the value.
	Choice
	// Day writes a date as 28 November 2026.
	Day
	// DayOfWeek writes a date with its weekday: Saturday, 28 November 2026.
	DayOfWeek
)

// Show says how values of one kind are displayed. Build one with ParseShow,
// DefaultShow or a Value's AsWritten.
type Show struct {
	Style Style
	Unit  Unit
	// Step is the step in Unit; StepText the step as written, for its decimals.
	Step     float64
	StepText string
	// Of is k of a Part, and how many digits of an Engraved number are written, at least 2.
	Of int
	// Signed writes + before what is above zero.
	Signed bool
	// Words are the texts of a Choice.
	Words []string
}

// Shown is a value as it is displayed: Text with plain spaces, Number in Unit.
type Shown struct {
	Text   string
	Number float64
	Unit   string
	// Date says that it is a day of the calendar; Number counts days from 1970-01-01.
	Date bool
	// Missing says that there is no value: Text takes its place, and may be empty.
	Missing bool
}

// Machine is the text for programs: a date as 2026-11-28, all else as it is shown.
func (s Shown) Machine() string {
	if s.Date {
		return ISODate(s.Number * DayLength)
	}
	return s.Text
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
	if kind == Date {
		return Show{Style: Day, Unit: dateUnit}
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
	case v.Kind == Date:
		return Show{Style: Day, Unit: dateUnit}
	case v.Form == Dilution:
		return Show{Style: Added, Unit: u}
	case v.Form == Aperture:
		return Show{Style: Engraved, Unit: u, Of: 10}
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
