package quantity

import (
	"math"
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// Parse reads a whole text as one quantity, as it is written in a given, a cell or
// at a terminal. Places in a trouble are bytes into text.
func Parse(text string) (Value, *Trouble) {
	return parse(text, func(r *reader) (Value, *Trouble) { return r.quantity() })
}

// ParseUnit reads a whole text as a unit alone, as in the head of a column.
func ParseUnit(text string) (Unit, *Trouble) {
	return parse(text, func(r *reader) (Unit, *Trouble) {
		u, word, t := r.unit("")
		if t == nil && word == "" {
			t = trouble(source.NotAUnit(strings.TrimSpace(r.remaining())), r.pos, len(r.text))
		}
		return u, t
	})
}

// ParseDifference reads a step or a tolerance: 0.5 °C means 0.5 K.
func ParseDifference(text string) (Value, *Trouble) {
	return parse(text, func(r *reader) (Value, *Trouble) {
		r.difference = true
		return r.quantity()
	})
}

// Range is a range, both ends included, and the step of its values if HasStep.
type Range struct {
	From, To, By Value
	HasStep      bool
}

// ParseRange reads "18 °C .. 24 °C by 1 °C". The smaller end comes first; ends and
// step are of one kind.
func ParseRange(text string) (Range, *Trouble) {
	return parse(text, func(r *reader) (Range, *Trouble) {
		var out Range
		var t *Trouble
		start := r.pos
		if out.From, t = r.quantity(); t != nil {
			return out, t
		}
		r.blanks()
		if !strings.HasPrefix(r.remaining(), "..") {
			return out, trouble(source.RangeDots(), r.pos, r.pos+1)
		}
		r.pos += 2
		r.blanks()
		toStart := r.pos
		if out.To, t = r.quantity(); t != nil {
			return out, t
		}
		if out.To.Kind != out.From.Kind {
			return out, trouble(source.KindsDiffer("the ends of the range", out.From.Kind.Name(), out.To.Kind.Name()), toStart, r.pos)
		}
		if Less(out.To.Base, out.From.Base) {
			return out, trouble(source.RangeOrder(out.To.Text, out.From.Text), start, r.pos)
		}
		r.blanks()
		if !strings.HasPrefix(r.remaining(), "by ") {
			return out, nil
		}
		r.pos += 3
		r.blanks()
		byStart := r.pos
		r.difference = true
		if out.By, t = r.quantity(); t != nil {
			return out, t
		}
		out.HasStep = true
		if out.By.Kind != out.From.Kind.Difference() {
			return out, trouble(source.KindsDiffer("the range and its step", out.From.Kind.Difference().Name(), out.By.Kind.Name()), byStart, r.pos)
		}
		if out.From.Kind == Date && !WholeDays(out.By.Base) {
			return out, trouble(source.DateStep(out.By.Text), byStart, r.pos)
		}
		if out.By.Base <= 0 {
			return out, trouble(source.StepNotPositive(), byStart, r.pos)
		}
		return out, nil
	})
}

// IsRange reports whether a text looks like a range rather than one value.
func IsRange(text string) bool { return strings.Contains(text, "..") }

// Expected is a value and, where HasTolerance, how far off it may be, in base units.
type Expected struct {
	Value
	Tolerance    float64
	HasTolerance bool
	// ToleranceText is the tolerance as written.
	ToleranceText string
	// YesNo is set for a truth value, whose Base is 1 or 0.
	YesNo bool
}

// ParseExpected reads "4.95 ml ± 0.01 ml", "5 ml ± 1 %", "yes", "f/8". A tolerance in
// percent is a share of the value, but percentage points beside a value in %.
func ParseExpected(text string) (Expected, *Trouble) {
	return parse(text, func(r *reader) (Expected, *Trouble) {
		if out, ok := r.yesOrNo(); ok {
			return out, nil
		}
		var out Expected
		var t *Trouble
		if v, ok := r.displayedDate(); ok {
			out.Value = v
		} else if out.Value, t = r.quantity(); t != nil {
			return out, t
		}
		r.blanks()
		for _, sign := range []string{"±", "+-"} {
			if strings.HasPrefix(r.remaining(), sign) {
				r.pos += len(sign)
				t = r.tolerance(&out)
				return out, t
			}
		}
		return out, nil
	})
}

// yesOrNo reads a truth value, if that is the whole text.
func (r *reader) yesOrNo() (Expected, bool) {
	out := Expected{YesNo: true}
	out.Kind = Yes
	switch strings.TrimSpace(r.text) {
	case "yes", "true":
		out.Base, out.Text = 1, "yes"
	case "no", "false":
		out.Text = "no"
	default:
		return Expected{}, false
	}
	r.pos = len(r.text)
	return out, true
}

// aperture reports whether an f-number is here: f/8.
func (r *reader) aperture() bool {
	return strings.HasPrefix(r.remaining(), "f/") && isDigit(r.peekAt(2))
}

// fNumber reads f/8, which is the plain number 8.
func (r *reader) fNumber() (Value, *Trouble) {
	r.pos += len("f/")
	n, t := number(r.remaining(), false)
	if t != nil {
		t.Start, t.End = t.Start+r.pos, t.End+r.pos
		return Value{}, t
	}
	text := r.remaining()[:n]
	r.pos += n
	v, _ := strconv.ParseFloat(text, 64)
	return Value{Kind: Number, Base: v, Unit: Unit{Factor: 1, Decimals: -1}, Form: Aperture, Text: "f/" + text}, nil
}

// tolerance reads what is after ±.
func (r *reader) tolerance(out *Expected) *Trouble {
	r.blanks()
	start := r.pos
	r.difference = true
	tol, t := r.quantity()
	if t != nil {
		return t
	}
	out.HasTolerance, out.ToleranceText = true, tol.Text
	switch {
	case tol.Unit.Text == "%" && out.Unit.Text != "%":
		out.Tolerance = math.Abs(out.Base) * tol.Base
		switch out.Kind {
		case Scale:
			return trouble(source.PercentOfTemperature(), start, r.pos)
		case Date:
			return trouble(source.PercentOfDate(), start, r.pos)
		}
	case tol.Kind != out.Kind.Difference():
		return trouble(source.KindsDiffer("the value and its tolerance", out.Kind.Difference().Name(), tol.Kind.Name()), start, r.pos)
	default:
		out.Tolerance = tol.Base
	}
	if out.Tolerance < 0 {
		return trouble(source.ToleranceNegative(), start, r.pos)
	}
	return nil
}

// parse runs a reader over a whole text and translates the place of a trouble back to the
// text as it was written.
func parse[T any](text string, read func(*reader) (T, *Trouble)) (T, *Trouble) {
	out, back := Normalise(text)
	r := &reader{text: out}
	r.blanks()
	v, t := read(r)
	if t == nil {
		r.blanks()
		if r.pos < len(r.text) {
			rest := strings.TrimRight(r.remaining(), " \n")
			t = trouble(source.TextAfterValue(rest), r.pos, r.pos+len(rest))
		}
	}
	if t != nil && back != nil {
		t.Start, t.End = back[min(t.Start, len(back)-1)], back[min(t.End, len(back)-1)]
	}
	if t != nil {
		t.Start = min(t.Start, len(text))
		t.End = min(max(t.End, t.Start), len(text))
	}
	return v, t
}

// ReadInFormula reads the quantity or number at text[at:] of a normalised formula, and gives
// where it ends.
func ReadInFormula(text string, at int) (v Value, end int, t *Trouble) {
	r := &reader{text: text, pos: at, inFormula: true}
	v, t = r.quantity()
	return v, r.pos, t
}
