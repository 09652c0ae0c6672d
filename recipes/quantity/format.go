package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Format writes a value in base units. The browser's runtime writes the same text, to the
// character: change both together.
func (s Show) Format(base float64) Shown {
	if base == 0 {
		base = 0 // drops the sign of a negative zero
	}
	if !s.Signed || base <= 0 {
		return s.unsigned(base)
	}
	shown := s.unsigned(base)
	if number, _, _ := strings.Cut(shown.Text, " "); strings.ContainsAny(number, "123456789") {
		shown.Text = "+" + shown.Text
	}
	return shown
}

func (s Show) unsigned(base float64) Shown {
	switch s.Style {
	case Truth:
		if base != 0 {
			return Shown{Text: "yes", Number: base}
		}
		return Shown{Text: "no", Number: base}
	case Choice:
		if i := int(base); i >= 0 && i < len(s.Words) {
			return Shown{Text: s.Words[i], Number: base}
		}
		return Shown{Number: base}
	case Clock:
		return s.clock(base)
	case Added:
		return Shown{Text: added(base), Number: base}
	case Engraved:
		return Shown{Text: "f/" + significant(base, max(2, s.Of)), Number: base}
	case Day:
		return Shown{Text: writtenDate(base), Number: base / DayLength, Date: true}
	case DayOfWeek:
		return Shown{Text: weekdayDate(base), Number: base / DayLength, Date: true}
	case OneOver:
		return Shown{Text: oneOver(base), Number: base, Unit: "s"}
	case Usual:
		return s.usual(base)
	case Part:
		return Shown{Text: parts(base, s.Of) + " " + s.Unit.Text, Number: base, Unit: s.Unit.Text}
	}
	v := s.Unit.Of(base)
	var text string
	switch s.Style {
	case Steps:
		text = multiple(v, s.Step, s.StepText)
	case Written:
		text = written(v)
	default:
		text = significant(v, 3)
	}
	return s.with(text, v)
}

func (s Show) with(text string, v float64) Shown {
	if s.Unit.Text != "" {
		text += " " + InNumber(text, s.Unit.Text)
	}
	return Shown{Text: text, Number: v, Unit: s.Unit.Text}
}

// fixed writes n units of the last of some decimals: fixed(495, 2) is 4.95. n is whole.
func fixed(n float64, decimals int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	if n == 0 {
		n = 0 // strconv would write the sign of a negative zero
	}
	text := strconv.FormatFloat(n, 'f', 0, 64)
	if decimals <= 0 {
		return sign + text
	}
	if len(text) <= decimals {
		text = strings.Repeat("0", decimals+1-len(text)) + text
	}
	return sign + text[:len(text)-decimals] + "." + text[len(text)-decimals:]
}

func trimDecimals(text string) string {
	if strings.IndexByte(text, '.') < 0 {
		return text
	}
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// multiple writes the nearest multiple of a step with the decimals of the step.
func multiple(v, step float64, stepText string) string {
	decimals := min(stepDecimals(stepText), mostDecimals)
	whole := math.Round(step * pow10[decimals])
	return fixed(Nearest(v/step)*whole, decimals)
}

// mostDecimals is the most decimals that a value is shown with.
const mostDecimals = 15

func stepDecimals(text string) int {
	decimals := 0
	mantissa, exponent, _ := strings.Cut(strings.ToLower(text), "e")
	if i := strings.IndexByte(mantissa, '.'); i >= 0 {
		decimals = len(mantissa) - i - 1
	}
	e, _ := strconv.Atoi(exponent)
	return max(0, decimals-e)
}

var pow10 = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// significant writes some significant digits, the whole part always in full and no
// zeros at the end of the decimals.
func significant(v float64, count int) string {
	a := math.Abs(v)
	if a == 0 {
		return "0"
	}
	decimals := count - 1
	for x := a; x >= 10 && decimals > 0; x /= 10 {
		decimals--
	}
	for x := a; x < 1-1e-12 && decimals < 15; x *= 10 {
		decimals++
	}
	n := Nearest(a * pow10[decimals])
	// 9.996 becomes 10.00: one decimal fewer
	if decimals > 0 && decimals < 15 && n >= pow10[count] {
		decimals--
		n = Nearest(a * pow10[decimals])
	}
	if n == 0 {
		return "0"
	}
	if v < 0 {
		n = -n
	}
	return trimDecimals(fixed(n, decimals))
}

// written writes a value as fully as it was set: up to ten significant digits.
func written(v float64) string {
	return significant(v, 10)
}

func parts(base float64, of int) string {
	if of < 1 {
		of = 1
	}
	n := Nearest(base * float64(of))
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	k := float64(of)
	whole := math.Floor(n / k)
	rest := n - whole*k
	if rest == 0 {
		return trimMinus(sign + fixed(whole, 0))
	}
	common, other := k, rest // Euclid: k can be a million
	for other != 0 {
		common, other = other, math.Mod(common, other)
	}
	rest, k = rest/common, k/common
	text := fixed(rest, 0) + "/" + fixed(k, 0)
	if whole > 0 {
		text = fixed(whole, 0) + " " + text
	}
	return sign + text
}

func trimMinus(text string) string {
	if text == "-0" {
		return "0"
	}
	return text
}

func added(base float64) string {
	if base <= 0 || base > 1+relativeNoise {
		return significant(base, 3)
	}
	return "1+" + significant(math.Max(0, 1/base-1), 3)
}

func oneOver(base float64) string {
	if base <= 0 || base >= 0.4-1e-12 {
		return fixed(Nearest(base*10), 1) + " s"
	}
	return "1/" + fixed(Nearest(1/base), 0) + " s"
}

const (
	minute = 60
	hour   = 3600
	day    = 86400
)

// clock writes a time under a minute in seconds, a longer one in minutes, hours and
// days. Without a step it is three digits under a minute, whole seconds under 48
// hours and days beyond. The form is chosen after rounding.
func (s Show) clock(base float64) Shown {
	a := math.Abs(base)
	sign := ""
	if base < 0 {
		sign = "-"
	}
	seconds := func(text string) Shown {
		if text == "0" || strings.Trim(text, "0.") == "" {
			sign = ""
		}
		return Shown{Text: sign + text + " s", Number: base, Unit: "s"}
	}
	if s.Step > 0 {
		text := multiple(a, s.Step, s.StepText)
		v, _ := strconv.ParseFloat(text, 64)
		if v < minute {
			return seconds(text)
		}
		decimals := 0
		if i := strings.IndexByte(text, '.'); i >= 0 {
			decimals = len(text) - i - 1
		}
		return Shown{Text: sign + compound(v, decimals), Number: base, Unit: "s"}
	}
	if a < minute {
		text := significant(a, 3)
		if v, _ := strconv.ParseFloat(text, 64); v < minute {
			return seconds(text)
		}
	}
	if v := Nearest(a); v < 48*hour {
		return Shown{Text: sign + compound(v, 0), Number: base, Unit: "s"}
	}
	v := base / day
	text := significant(v, 3)
	return Shown{Text: text + " " + InNumber(text, "day"), Number: v, Unit: "day"}
}

// compound writes seconds as days (beyond 48 hours), hours, minutes and seconds, zero
// parts left out.
func compound(v float64, decimals int) string {
	scale := pow10[decimals]
	n := math.Round(v * scale)
	take := func(unit float64) float64 {
		k := math.Floor(n / (unit * scale))
		n -= k * unit * scale
		return k
	}
	var out []string
	if v >= 48*hour {
		if d := take(day); d > 0 {
			out = append(out, fixed(d, 0)+" "+InNumber(fixed(d, 0), "day"))
		}
	}
	if h := take(hour); h > 0 {
		out = append(out, fixed(h, 0)+" h")
	}
	if m := take(minute); m > 0 {
		out = append(out, fixed(m, 0)+" min")
	}
	if n > 0 || len(out) == 0 {
		out = append(out, fixed(n, decimals)+" s")
	}
	return strings.Join(out, " ")
}

// usual writes in the trade's bands (common practice, no source).
func (s Show) usual(base float64) Shown {
	a := math.Abs(base)
	step := func(step float64, text string) Shown {
		return s.with(multiple(base, step, text), base)
	}
	switch s.Unit.Text {
	case "ml":
		switch {
		case LessOrEqual(a, 1):
			return step(0.01, "0.01")
		case LessOrEqual(a, 10):
			return step(0.1, "0.1")
		case LessOrEqual(a, 100):
			return step(1, "1")
		case LessOrEqual(a, 1000):
			return step(5, "5")
		}
		return step(10, "10")
	case "g":
		if Less(a, 1) {
			return step(0.01, "0.01")
		}
		return step(0.1, "0.1")
	}
	t := Show{Style: Clock, Unit: s.Unit, Step: 15, StepText: "15"}
	if Less(a, 5*minute) {
		t.Step, t.StepText = 5, "5"
	}
	return t.clock(base)
}
