package quantity

import (
	"strconv"
	"strings"

	"labsite/recipes/source"
)

// durationRank orders the units of a duration: day 1, h 2, min 3, s 4; 0 for others.
func durationRank(word string) int {
	switch word {
	case "day", "days":
		return 1
	case "h":
		return 2
	case "min":
		return 3
	case "s":
		return 4
	}
	return 0
}

var rankSeconds = [5]float64{0, 86400, 3600, 60, 1}
var rankNames = [5]string{"", "day", "h", "min", "s"}

// duration reads the parts that follow a first one in day, h or min; ok is false if no
// number follows, and then nothing was read.
func (r *reader) duration(start, first int, text string, negative bool, rank int) (Value, bool, *Trouble) {
	save := r.pos
	if !r.blanks() || !isDigit(r.peek()) {
		r.pos = save
		return Value{}, false, nil
	}
	if strings.ContainsAny(text, ".eE") {
		return Value{}, false, trouble(source.DurationWhole(text+" "+rankNames[rank]), first, save)
	}
	whole, _ := strconv.ParseFloat(text, 64)
	total, shown := whole*rankSeconds[rank], text+" "+InNumber(text, rankNames[rank])
	for rank < 4 && isDigit(r.peek()) {
		part, next, v, t := r.durationPart(start, rank)
		if t != nil {
			return Value{}, false, t
		}
		total += v * rankSeconds[next]
		shown += " " + part + " " + rankNames[next]
		rank = next
		save = r.pos
		r.blanks()
	}
	r.pos = save
	if negative {
		total, shown = -total, "-"+shown
	}
	return Value{Kind: Time, Base: total, Unit: must("s"), Form: Duration, Text: shown}, true, nil
}

// durationPart reads a number and its unit, which must be smaller than that of rank.
func (r *reader) durationPart(start, rank int) (part string, next int, v float64, t *Trouble) {
	partStart := r.pos
	n, t := number(r.remaining(), true)
	if t != nil {
		t.Start, t.End = t.Start+r.pos, t.End+r.pos
		return "", 0, 0, t
	}
	part = r.text[r.pos : r.pos+n]
	r.pos += n
	hadBlank := r.blanks()
	u, size, ok := ReadUnit(r.remaining())
	word := ""
	if ok {
		word = r.remaining()[:size]
	}
	if next = durationRank(word); !hadBlank || next <= rank {
		end := max(r.pos+size, partStart+n)
		switch {
		case !hadBlank && r.word() != "":
			word := r.word()
			t = trouble(source.BlankBeforeUnit(part, word), partStart, r.pos+len(word))
		case !ok:
			t = trouble(source.DurationUnit(part, rankNames[rank+1]), partStart, partStart+n)
		case u.Kind == Time:
			t = trouble(source.DurationOrder(), start, end)
		default:
			t = trouble(source.OperatorMissing(strings.TrimSpace(r.text[partStart:end])), partStart, end)
		}
		return "", 0, 0, t
	}
	r.pos += size
	if next < 4 && strings.ContainsAny(part, ".eE") || strings.ContainsAny(part, "eE") {
		return "", 0, 0, trouble(source.DurationWhole(part+" "+word), partStart, r.pos)
	}
	v, _ = strconv.ParseFloat(part, 64)
	if most := rankSeconds[rank] / rankSeconds[next]; v >= most {
		return "", 0, 0, trouble(source.DurationBelow(part+" "+word, int(most), rankNames[next], rankNames[rank]), partStart, r.pos)
	}
	return part, next, v, nil
}
