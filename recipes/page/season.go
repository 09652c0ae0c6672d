package page

import (
	"slices"
	"strings"
	"time"

	"labsite/recipes/source"
)

// Months are the names of the months, as season takes them.
var Months = func() (names []string) {
	for m := time.January; m <= time.December; m++ {
		names = append(names, m.String())
	}
	return names
}()

// season reads the months in which visitors come for a page.
func (d *decoder) season(v *value) (months []int) {
	for _, item := range d.items(v, "season") {
		word := d.text(item, "season")
		i := slices.IndexFunc(Months, func(name string) bool { return strings.EqualFold(name, word) })
		switch {
		case word == "":
		case i < 0:
			d.report(source.NotOneOf("season", word, Months), item.Span)
		case !slices.Contains(months, i+1):
			months = append(months, i+1)
		}
	}
	return months
}

// SeasonWords writes a season for readers: June to August, March and October. Consecutive months
// are joined, December and January too.
func SeasonWords(months []int) string {
	var runs []string
	for _, m := range months {
		if slices.Contains(months, before(m)) && len(months) < 12 {
			continue // part of a run that began earlier
		}
		last := m
		for next := after(last); next != m && slices.Contains(months, next); next = after(last) {
			last = next
		}
		switch last {
		case m:
			runs = append(runs, Months[m-1])
		default:
			runs = append(runs, Months[m-1]+" to "+Months[last-1])
		}
		if len(months) == 12 {
			return "all year"
		}
	}
	if n := len(runs) - 1; n > 0 {
		return strings.Join(runs[:n], ", ") + " and " + runs[n]
	}
	return strings.Join(runs, "")
}

func after(month int) int  { return month%12 + 1 }
func before(month int) int { return (month+10)%12 + 1 }
