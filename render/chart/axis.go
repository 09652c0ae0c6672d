package chart

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// AxisKind says what the numbers of an axis are, and so which ticks are round.
type AxisKind int

const (
	// Plain numbers have ticks at 1, 2 and 5 times powers of ten.
	Plain AxisKind = iota
	// Duration is in seconds, with ticks at 15 s, 30 s, 1 min, 2 min and so on.
	Duration
	// Date is in days since 1970-01-01, with ticks at days, Mondays, months and
	// years.
	Date
	// Stops are in stops, with ticks at thirds and whole stops.
	Stops
	// Money has the ticks of plain numbers, written with two decimals or none.
	Money
)

// Axis is one of the two axes.
type Axis struct {
	// Label says what the axis shows, and Unit in which unit. Durations and dates have their units
	// in their ticks and need none here.
	Label, Unit string
	// Low and High are the range that the axis shows at least; it shows more if a point lies
	// outside. If High is not above Low, it shows what the points need.
	Low, High float64
	Kind      AxisKind
	// Least is the smallest step between two ticks: the one in which the value is shown. 0 allows
	// any step.
	Least float64
	// Format writes a value with its unit, as the page does. It is used in the text alternative,
	// and for a point without a text of its own. If it is nil, a value has three significant digits
	// and the unit.
	Format func(v float64) string
	// Tick writes a value at a tick, without the unit; if it is nil, the kind decides how. Two ticks
	// side by side never have the same text.
	Tick func(v float64) string
}

// title is the label with its unit.
func (a Axis) title() string {
	unit := a.Unit
	if unit == "" && a.Kind == Stops {
		unit = "stop"
	}
	switch {
	case unit == "" || a.Kind == Duration || a.Kind == Date:
		return a.Label
	case a.Label == "":
		return unit
	}
	return a.Label + " (" + unit + ")"
}

// full writes a value with its unit.
func (a Axis) full(v float64) string {
	if a.Format != nil {
		return sign(a.Format(v))
	}
	switch a.Kind {
	case Duration:
		return spellTime(v)
	case Date:
		if t, ok := day(v); ok {
			return t.Format("2 January 2006")
		}
	case Stops:
		unit := a.Unit
		if unit == "" {
			unit = "stop"
		}
		return spellStops(v) + " " + unit
	}
	return strings.TrimSpace(spellNumber(v) + " " + a.Unit)
}

// about writes a value as somebody who looks at the chart would say it, with no more than three digits,
// since it may lie between two samples.
func (a Axis) about(v float64) string {
	said := a.full(v)
	digits, parts := 0, false
	for _, r := range strings.TrimLeft(said, "-−0") {
		if r >= '0' && r <= '9' {
			digits++
		} else if r == '.' {
			parts = true
		} else {
			break
		}
	}
	switch {
	case a.Kind == Duration && digits > 3:
		return spellTime(v)
	case a.Kind == Plain && digits > 3 && parts:
		return strings.TrimSpace(spellNumber(v) + " " + a.Unit)
	}
	return said
}

// placed says where something is along the axis.
func (a Axis) placed(v float64) string {
	if a.Kind == Date {
		return "on " + a.about(v)
	}
	return "at " + a.about(v)
}

// shown writes the Y of a point.
func (a Axis) shown(p Point) string {
	if p.Shown != "" {
		return sign(p.Shown)
	}
	return a.full(p.Y)
}

// sign writes a number with a typographic minus.
func sign(s string) string { return strings.Replace(s, "-", "−", 1) }

// spellNumber writes three significant digits, the whole part always in full.
func spellNumber(v float64) string {
	size := math.Abs(v)
	if size >= 1e15 || size > 0 && size < 1e-9 {
		return sign(strconv.FormatFloat(v, 'g', 3, 64))
	}
	digits := 0
	if size > 0 {
		digits = max(0, 2-int(math.Floor(math.Log10(size))))
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return sign(s)
}

// spellTime writes seconds as `8.5 s`, `10 min 30 s`, `1 h 5 min`, `3 days`.
func spellTime(v float64) string {
	if v < 0 {
		return "−" + spellTime(-v)
	}
	if v < 59.95 {
		return spellNumber(v) + " s"
	}
	if v >= 48*3600 {
		if v >= 1e12 {
			return spellNumber(v/86400) + " days"
		}
		return spellNumber(math.Round(v/86400*100)/100) + " days"
	}
	whole := int64(math.Round(v))
	var parts []string
	for _, u := range []struct {
		size int64
		name string
	}{{3600, "h"}, {60, "min"}, {1, "s"}} {
		if n := whole / u.size; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, u.name))
		}
		whole %= u.size
	}
	return strings.Join(parts, " ")
}

// spellStops writes a number of stops as a whole number and a fraction, or as a decimal number if it is
// no multiple of a twelfth.
func spellStops(v float64) string {
	twelfths := math.Round(v * 12)
	if math.Abs(v*12-twelfths) > 1e-6 || math.Abs(twelfths) > 1e9 {
		return spellNumber(v)
	}
	n := int64(twelfths)
	minus := ""
	if n < 0 {
		minus, n = "−", -n
	}
	whole, part, parts := n/12, n%12, int64(12)
	if part == 0 {
		return minus + strconv.FormatInt(whole, 10)
	}
	for _, f := range []int64{2, 2, 3} {
		if part%f == 0 && parts%f == 0 {
			part, parts = part/f, parts/f
		}
	}
	if whole == 0 {
		return fmt.Sprintf("%s%d/%d", minus, part, parts)
	}
	return fmt.Sprintf("%s%d %d/%d", minus, whole, part, parts)
}

// day is the date of a day since 1970-01-01, for years of four digits.
func day(v float64) (time.Time, bool) {
	const first, last = -719162, 2932896 // 0001-01-01, 9999-12-31
	if !(v >= first && v < last+1) {
		return time.Time{}, false
	}
	return time.Unix(0, 0).UTC().AddDate(0, 0, int(math.Floor(v))), true
}

// since is the number of days from 1970-01-01 to a date.
func since(t time.Time) float64 { return float64(t.Unix() / 86400) }
