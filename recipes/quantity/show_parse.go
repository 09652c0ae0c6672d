package quantity

import (
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// showText is a text after `show:`, and the kind that it is for.
type showText struct {
	text, norm string
	kind       Kind
}

// ParseShow reads what comes after `show:` or after `in` in a placement, for a
// value of a kind: a form with a name (1+n, usual), a unit, or a step.
func ParseShow(text string, kind Kind) (Show, *Trouble) {
	norm, _ := Normalise(text)
	t := showText{text, strings.TrimSpace(norm), kind}
	switch {
	case kind.Sort == YesNo || kind.Sort == Word:
		return t.wrong(source.ShowNothing(kind.Name()))
	case t.norm == "":
		return t.wrong(source.ShowEmpty())
	}
	if show, named, trouble := t.named(); named {
		return show, trouble
	}
	if kind == Date {
		return t.wrong(source.ShowDate(t.norm))
	}
	if t.norm[0] == '+' {
		return t.signed()
	}
	if c := t.norm[0]; !isDigit(c) && c != '-' && c != '.' && !strings.HasPrefix(t.norm, "f/") {
		return t.unit()
	}
	return t.step()
}

// signed reads + and a step, which shows values above zero with their sign.
func (t showText) signed() (Show, *Trouble) {
	rest := t.norm[1:]
	if rest == "" || !isDigit(rest[0]) || rest == "1+n" || rest == "1/n s" {
		return t.wrong(source.ShowUnknown(t.norm, "+0.1", "+0.1 stop"))
	}
	at := strings.IndexByte(t.text, '+') + 1
	show, trouble := ParseShow(t.text[at:], t.kind)
	if trouble != nil {
		trouble.Start, trouble.End = trouble.Start+at, trouble.End+at
		return Show{}, trouble
	}
	show.Signed = true
	return show, nil
}

func (t showText) wrong(p source.Problem) (Show, *Trouble) {
	return Show{}, trouble(p, 0, len(t.text))
}

// named reads a form that has a name.
func (t showText) named() (show Show, named bool, trouble *Trouble) {
	of := func(k Kind, s Show) (Show, bool, *Trouble) {
		if t.kind != k && t.kind != Any {
			_, trouble := t.wrong(source.ShowKind(t.norm, k.Name(), t.kind.Name()))
			return Show{}, true, trouble
		}
		return s, true, nil
	}
	switch t.norm {
	case "1+n":
		return of(Number, Show{Style: Added, Unit: plainUnit})
	case "f/n":
		return of(Number, Show{Style: Engraved, Unit: plainUnit})
	case "weekday":
		return of(Date, Show{Style: DayOfWeek, Unit: dateUnit})
	case "1/n s":
		return of(Time, Show{Style: OneOver, Unit: must("s")})
	case "usual":
		unit, ok := map[Kind]string{Volume: "ml", Mass: "g", Time: "s"}[t.kind]
		if !ok {
			_, trouble := t.wrong(source.ShowUsual(t.kind.Name()))
			return Show{}, true, trouble
		}
		return Show{Style: Usual, Unit: must(unit)}, true, nil
	}
	return Show{}, false, nil
}

// unit reads a unit alone.
func (t showText) unit() (Show, *Trouble) {
	u, n, ok := ReadUnit(t.norm)
	if !ok || n != len(t.norm) {
		return t.wrong(source.ShowUnknown(t.norm, shows(t.norm)...))
	}
	if t.kind.Sort != Point && u.Kind.Sort == Point {
		u = Difference(u)
	}
	switch {
	case t.kind != Any && u.Kind != t.kind:
		return t.wrong(source.ShowKind(t.norm, u.Kind.Name(), t.kind.Name()))
	case u.Text == "s":
		return Show{Style: Clock, Unit: u}, nil
	case u.Decimals >= 0:
		return DefaultShow(u.Kind, u), nil
	}
	return Show{Style: Digits, Unit: u}, nil
}

// step reads a number with its unit.
func (t showText) step() (Show, *Trouble) {
	v, trouble := Parse(t.text)
	if trouble != nil {
		return Show{}, trouble
	}
	switch {
	case v.Form == Dilution:
		return t.wrong(source.ShowUnknown(t.norm, "1+n"))
	case v.Form == Aperture:
		return t.wrong(source.ShowUnknown(t.norm, "f/n"))
	case v.Form == Duration:
		return t.wrong(source.ShowUnknown(t.norm))
	case v.Base <= 0 && v.Kind != Scale:
		return t.wrong(source.StepNotPositive())
	}
	u, kind := t.stepUnit(v)
	if t.kind != Any && kind != t.kind {
		return t.wrong(source.ShowKind(t.norm, kind.Name(), t.kind.Name()))
	}
	text, _, _ := strings.Cut(v.Text, " ")
	if v.Form == Fraction {
		over, under, _ := strings.Cut(text, "/")
		if over != "1" || under == "" || kind != Stops {
			return t.wrong(source.ShowFraction())
		}
		k, _ := strconv.Atoi(under)
		return Show{Style: Part, Unit: u, Of: k}, nil
	}
	step, _ := strconv.ParseFloat(text, 64)
	if step <= 0 {
		return t.wrong(source.StepNotPositive())
	}
	if stepDecimals(text) > mostDecimals {
		return t.wrong(source.ShowTooFine(mostDecimals))
	}
	style := Steps
	if u.Text == "s" {
		style = Clock
	}
	return Show{Style: style, Unit: u, Step: step, StepText: text}, nil
}

// stepUnit is the unit that a step shows values in, and its kind: a step written in °C or °F is a
// difference unless points are shown.
func (t showText) stepUnit(v Value) (Unit, Kind) {
	u := v.Unit
	if u.exact == nil {
		u = plainUnit
	}
	switch {
	case v.Kind == Scale && t.kind.Sort != Point:
		return Difference(u), Degree
	case t.kind.Sort == Point && v.Kind == Degree && u.Text == "Δ°F":
		return must("°F"), Scale // a step of 1 Δ°F shows a point on Fahrenheit's scale
	case t.kind.Sort == Point && v.Kind == Degree:
		return must("°C"), Scale
	}
	return u, v.Kind
}
