package write

import (
	"strconv"
	"strings"

	"labsite/recipes/approval"
	"labsite/render/theme"
	"labsite/render/work"
)

// mostCellsChanged is how many cells of tables are told one by one that changed.
const mostCellsChanged = 4

// changed tells a page's readers what its revision changed in numbers.
func (p *pager) changed(v *theme.Control) {
	s := p.page.Standard
	if v == nil || s == nil {
		return
	}
	v.Recorded = s.Record != nil && p.sees("approval")
	if s.Before == nil {
		return
	}
	v.Since = strconv.Itoa(s.Before.Revision)
	cells := 0
	for _, d := range approval.Numbers(s.Changed) {
		label := readersName(d)
		if label == "" {
			continue
		}
		if d.Table != "" {
			if cells++; cells > mostCellsChanged {
				v.More++
				continue
			}
		}
		c := theme.NumberChange{Label: label, Before: valueText(d.Before), After: valueText(d.After), Because: d.Because()}
		if d.Over != nil && d.Over.At != "" && d.Over.Before == d.Before && d.Over.After == d.After {
			c.At = d.Over.At
		}
		v.Changed = append(v.Changed, c)
	}
}

func valueText(text string) theme.Value {
	if text == "" {
		return theme.Value{}
	}
	return plainValue(text)
}

// readersName is what readers know a number by; "" for one that they meet in the arithmetic
// alone, or as a part of a sentence.
func readersName(d approval.Difference) string {
	switch {
	case d.Label != "":
		return d.Label
	case strings.HasPrefix(d.Name, "time of "):
		return work.Words(d.Name)
	}
	return ""
}
