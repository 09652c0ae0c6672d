package write

import (
	"strconv"
	"strings"

	"labsite/recipes/approval"
	"labsite/render/theme"
	"labsite/render/work"
)

// mostCellsChanged is how many changed cells of tables are listed.
const mostCellsChanged = 4

// changed lists for readers which numbers the page's revision changed.
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
		c := theme.NumberChange{Label: label, Before: valueText(d.Before), After: valueText(d.After), Because: p.because(d.Causes)}
		if d.Over != nil && d.Over.At != "" && d.Over.Before == d.Before && d.Over.After == d.After {
			c.At = p.settingsInWords(d.Over.At)
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

// because names causes for readers: values by their labels, pages by their titles.
func (p *pager) because(causes []approval.Cause) string {
	said := make([]approval.Cause, len(causes))
	for i, c := range causes {
		c.Name = p.labelOn(c.Page, c.Name)
		if other := p.Content.Page(c.Page); other != nil {
			c.Page = "“" + other.Title() + "”"
		}
		said[i] = c
	}
	return approval.BecauseFor(said)
}

// labelOn is how a page labels a value, or its name if it has no label.
func (p *pager) labelOn(path, name string) string {
	sheet := p.page.Sheet
	if path != p.page.Path {
		other := p.Content.Page(path)
		if other == nil {
			return work.Words(name)
		}
		sheet = p.desk.Resolved(other).Sheet
	}
	if sheet == nil {
		return name
	}
	if g := sheet.GivenNamed(name); g != nil {
		return work.LabelOf(g.Label, g.Name)
	}
	if f := sheet.Figure(name); f != nil {
		return work.LabelOf(f.Label, f.Name)
	}
	return name
}

// settingsInWords is a case such as "rolls 2, bath 18 °C" with labels for names.
func (p *pager) settingsInWords(at string) string {
	parts := strings.Split(at, ", ")
	for i, part := range parts {
		name, value, ok := strings.Cut(part, " ")
		if g := p.page.Sheet.GivenNamed(name); ok && g != nil {
			parts[i] = work.LabelOf(g.Label, g.Name) + " " + value
		}
	}
	return strings.Join(parts, ", ")
}

// readersName is what readers know a number by; "" for one that they see only in the arithmetic or
// within a sentence.
func readersName(d approval.Difference) string {
	switch {
	case d.Label != "":
		return d.Label
	case strings.HasPrefix(d.Name, "time of "):
		return work.Words(d.Name)
	}
	return ""
}
