package chart

import (
	"math"
	"strconv"
	"time"
)

// tick is a labelled place on an axis. A date may have its year as a second line.
type tick struct {
	at            float64
	label, second string
}

// step is a round distance between ticks: top / under, or a number of months. Ticks lie at its multiples
// from origin. The fraction keeps a tick at 3 · 1/10 from becoming 0.30000000000000004.
type step struct {
	top, under, origin float64
	months             int
}

func (s step) size() float64 {
	if s.months > 0 {
		return float64(s.months) * 30.436875
	}
	return s.top / s.under
}

// mostTicks is how many ticks are tried: no axis has room for more.
const mostTicks = 16

// ticks returns the finest round ticks between low and high that fit. The caller's fits looks at labels
// and places; repeated labels never fit.
func (a Axis) ticks(low, high float64, fits func([]tick) bool) []tick {
	steps := a.steps(high - low)
	if usable(a.Least) && a.Least > 0 {
		steps = atLeast(a.Least, steps, high-low)
	}
	for _, s := range steps {
		t := a.at(s, low, high)
		if len(t) <= mostTicks && distinct(t) && fits(t) {
			return t
		}
	}
	return nil
}

// atLeast keeps the steps that are multiples of the least one; if there are none, it makes round multiples
// of it.
func atLeast(least float64, steps []step, span float64) []step {
	var kept []step
	for _, s := range steps {
		if s.months > 0 || s.size() >= least*(1-1e-9) && whole(s.size()/least) {
			kept = append(kept, s)
		}
	}
	if len(kept) > 0 {
		return kept
	}
	under := 1.0
	for under < 1e9 && !whole(least*under) {
		under *= 10
	}
	for _, s := range decades(span/least, 1, 1e200, 1) {
		kept = append(kept, step{top: s.top * math.Round(least*under), under: under})
	}
	return kept
}

// whole reports whether a number is whole, except for noise.
func whole(v float64) bool { return math.Abs(v-math.Round(v)) < 1e-6 }

func distinct(t []tick) bool {
	for i := 1; i < len(t); i++ {
		if t[i].label == t[i-1].label && t[i].second == t[i-1].second {
			return false
		}
	}
	return true
}

// steps lists the round steps for a span, from too fine to too coarse.
func (a Axis) steps(span float64) []step {
	var all []step
	switch a.Kind {
	case Duration:
		all = append(all, decades(span, 1e-100, 0.5, 1)...)
		for _, s := range []float64{1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200} {
			all = append(all, step{top: s, under: 1})
		}
		all = append(all, decades(span, 86400, 1e200, 86400)...)
	case Date:
		if span > 3e6 {
			return decades(span, 1, 1e200, 1)
		}
		const monday = 4 // 1970-01-05
		all = append(all, step{top: 1, under: 1}, step{top: 2, under: 1},
			step{top: 7, under: 1, origin: monday}, step{top: 14, under: 1, origin: monday})
		for _, m := range []int{1, 2, 3, 6} {
			all = append(all, step{months: m})
		}
		for _, y := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000} {
			all = append(all, step{months: 12 * y})
		}
	case Stops:
		// cameras and enlargers use thirds; finer steps are for axes too short for two of them
		switch {
		case span < 0.25:
			all = append(all, decades(span, 1e-100, 0.05, 1)...)
		case span < 2./3:
			all = append(all, step{top: 1, under: 12}, step{top: 1, under: 6})
		}
		all = append(all, step{top: 1, under: 3})
		all = append(all, decades(span, 1, 1e200, 1)...)
	default:
		return decades(span, 1e-200, 1e200, 1)
	}
	kept := all[:0]
	for _, s := range all {
		if s.size() >= span/mostTicks*0.999 {
			kept = append(kept, s)
		}
	}
	return kept
}

// decades lists 1, 2 and 5 times powers of ten, times unit, from a sixteenth of the span to twice the
// span, between least and most.
func decades(span, least, most, unit float64) []step {
	var all []step
	for e := int(math.Floor(math.Log10(span/unit))) - 2; ; e++ {
		for _, m := range []float64{1, 2, 5} {
			s := step{top: m * unit, under: 1}
			if e < 0 {
				s.under = math.Pow10(-e)
			} else {
				s.top *= math.Pow10(e)
			}
			switch size := s.size(); {
			case size > 2*span || size > most*(1+1e-9):
				return all
			case size >= span/mostTicks*0.999 && size >= least*(1-1e-9):
				all = append(all, s)
			}
		}
	}
}

// at lists the ticks of a step from low to high, ends included.
func (a Axis) at(s step, low, high float64) []tick {
	if s.months > 0 {
		return a.atMonths(s.months, low, high)
	}
	var t []tick
	size := s.size()
	first := math.Ceil((low-s.origin)/size - 1e-9)
	for i := first; len(t) <= mostTicks; i++ {
		v := i*s.top/s.under + s.origin
		if v > high+1e-9*size {
			break
		}
		v = min(max(v, low), high)
		t = append(t, tick{at: v})
	}
	a.name(t, s)
	return t
}

// atMonths lists the first days of months, at intervals of so many months.
func (a Axis) atMonths(months int, low, high float64) []tick {
	from, ok := day(low)
	if !ok {
		return nil
	}
	var t []tick
	count := from.Year()*12 + int(from.Month()) - 1
	count -= count % months
	for ; len(t) <= mostTicks; count += months {
		at := since(time.Date(count/12, time.Month(count%12+1), 1, 0, 0, 0, 0, time.UTC))
		if at > high {
			break
		}
		if at >= low {
			t = append(t, tick{at: at})
		}
	}
	a.name(t, step{months: months})
	return t
}

// name writes the labels.
func (a Axis) name(t []tick, s step) {
	year := 0
	for i := range t {
		v := t[i].at
		switch {
		case a.Tick != nil:
			t[i].label = a.Tick(v)
		case a.Kind == Duration:
			t[i].label = tickTime(v, s.size())
		case a.Kind == Date:
			date, ok := day(v)
			switch {
			case !ok:
				t[i].label = tickNumber(v, s.under)
			case s.months > 0 && s.months%12 == 0:
				t[i].label = date.Format("2006")
			case s.months > 0:
				t[i].label = date.Format("Jan")
			default:
				t[i].label = date.Format("2 Jan")
			}
			if ok && s.months%12 != 0 || ok && s.months == 0 {
				if date.Year() != year {
					t[i].second = date.Format("2006")
				}
				year = date.Year()
			}
		case a.Kind == Stops && whole(s.size()*12):
			t[i].label = spellStops(v)
		case a.Kind == Money && s.under == 10:
			t[i].label = tickNumber(v, 100) // people write 0.50, never 0.5
		default:
			t[i].label = tickNumber(v, s.under)
		}
	}
}

// tickTime writes a duration, with the decimals of its step below a minute.
func tickTime(v, size float64) string {
	if math.Abs(v) < size*1e-6 {
		return "0"
	}
	if size < 1 {
		return tickNumber(v, math.Pow10(int(math.Ceil(-math.Log10(size)-1e-9)))) + " s"
	}
	return spellTime(math.Round(v))
}

// tickNumber writes a number with as many decimals as its step has.
func tickNumber(v, under float64) string {
	digits := int(math.Round(math.Log10(under)))
	var s string
	if size := math.Abs(v); size >= 1e12 || digits > 9 {
		s = strconv.FormatFloat(v, 'g', 6, 64)
	} else {
		s = strconv.FormatFloat(v, 'f', digits, 64)
	}
	if f, err := strconv.ParseFloat(s, 64); err == nil && f == 0 {
		return "0"
	}
	return sign(s)
}
