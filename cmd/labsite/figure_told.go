package main

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/write"
)

// figureValue is a value in JSON; a withdrawn figure has neither text nor number.
type figureValue struct {
	Label string   `json:"label"`
	Shown *string  `json:"shown"`
	Value *float64 `json:"value"`
	Unit  string   `json:"unit"`
	// AsOf is the day for which the figure was worked out, if it follows the calendar.
	AsOf string `json:"as_of,omitempty"`
}

// shownGiven writes a given value. One that was typed stays as typed if it is in the given's own
// unit or is a duration; any other is converted to that unit, and written in full if the form of
// the page's own value would round it.
func shownGiven(g *page.Given, run *prove.Case, typed map[*page.Given]quantity.Value) quantity.Shown {
	shown := run.ShownGiven(g)
	if shown.Date {
		return shown
	}
	q, is := typed[g]
	switch base := run.Frame.V[g.Slot]; {
	case shown.Missing:
	case !is || base == g.Own || !quantity.Equal(base, q.Base):
	case q.Form == quantity.Duration:
		shown = q.AsWritten().Format(base)
		shown.Text = q.Text
	case q.Unit.Text == g.Value.Unit.Text && q.Form != quantity.Dilution:
		shown.Text = q.Text
	default:
		if back, t := quantity.Parse(shown.Text); t != nil || !quantity.Equal(back.Base, base) {
			shown = quantity.Show{Style: quantity.Written, Unit: q.Unit}.Format(base)
			if q.Form == quantity.Dilution {
				shown.Text = q.Text
			}
		}
	}
	return shown
}

// dayIn is the day for which a case is worked out.
func dayIn(run *prove.Case) float64 {
	slot, _, _ := run.Sheet.Day()
	return run.Frame.V[slot]
}

func value(label string, shown quantity.Shown, show quantity.Show) figureValue {
	if shown.Missing { // there is no number, perhaps a text in its place
		v := figureValue{Label: label, Unit: show.Format(0).Unit}
		if shown.Text != "" {
			v.Shown = &shown.Text
		}
		return v
	}
	number, text := clean(shown.Number), shown.Machine()
	v := figureValue{Label: label, Shown: &text, Value: &number, Unit: shown.Unit}
	if shown.Date {
		v.Value = nil // a date has no number
	}
	return v
}

// clean removes the noise that conversion to base units and back leaves in the last bits: 28 %
// would be 28.000000000000004.
func clean(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	if err != nil {
		return x
	}
	return y
}

func (s *screen) figureObject(f *figured) any {
	sheet, run := f.page.Sheet, f.run
	given, figures := map[string]figureValue{}, map[string]figureValue{}
	for _, g := range sheet.Given {
		v := value(g.Label, shownGiven(g, run, f.typed), g.Show)
		if len(g.Words) > 0 {
			v.Value = nil // a text has no number
		}
		given[g.Name] = v
	}
	for _, x := range sheet.Figures {
		v := value(x.Label, run.Shown(x), x.Show)
		if x.Kind == quantity.Text {
			v.Value = nil // a text has no number
		}
		if sheet.DependsOnToday(x.Node) {
			v.AsOf = quantity.ISODate(dayIn(run))
		}
		if f.withdrawn {
			v.Shown, v.Value = nil, nil
		}
		figures[x.Name] = v
	}
	holding := []write.LimitText{}
	for _, l := range f.limits {
		if l.Kind == "refused" {
			l.Kind = string(page.Refuse) // as pages write it
		}
		holding = append(holding, l)
	}
	return map[string]any{"page": f.page.Path, "given": given, "figures": figures, "limits": holding, "cautions": write.CautionTexts(f.desk, run), "diagnostics": s.machine(f.said)}
}

func (s *screen) printFigure(f *figured) {
	fmt.Fprintf(s.out, "%s\n", paint(s.out, bold, f.page.Title()))
	if c := f.page.Sheet.Control; c != nil {
		fmt.Fprintf(s.out, "%s\n", paint(s.out, faint, fmt.Sprintf("%s, revision %d, %s", c.Number, c.Revision, c.Status)))
	}
	for _, c := range write.CautionTexts(f.desk, f.run) {
		fmt.Fprintf(s.out, "\n%s\n", c)
	}
	s.part("Given", givenRows(f))
	for _, l := range f.limits {
		fmt.Fprintf(s.out, "\n%s: %s\n", paint(s.out, limitColour(l.Kind), strings.ToUpper(l.Kind)), l.Text)
	}
	switch {
	case f.page.Status() == page.Withdrawn:
		return
	case f.withdrawn:
		fmt.Fprintln(s.out, "\nNo figures: the recipe does not hold at these values.")
		return
	case len(f.page.Sheet.Figures) == 0:
		fmt.Fprintln(s.out, "\nThis page has no figures.")
		return
	}
	s.part("Figures", figureRows(f))
}

func givenRows(f *figured) (rows [][]string) {
	for _, g := range f.page.Sheet.Given {
		text := shownGiven(g, f.run, f.typed).Text
		if f.run.Missing(g.Slot) {
			text = "not read"
		}
		rows = append(rows, []string{g.Name, text, g.Label, settableTo(g)})
	}
	return rows
}

// settableTo says what a given may be set to; "" if it is fixed.
func settableTo(g *page.Given) string {
	switch {
	case g.From != nil:
		return g.From.Text + " to " + g.To.Text
	case g.Today:
		return "follows the calendar"
	case len(g.Choices) > 0:
		var c []string
		for _, v := range g.Choices {
			c = append(c, v.Text)
		}
		return "one of " + strings.Join(c, ", ")
	}
	return ""
}

func figureRows(f *figured) (rows [][]string) {
	for _, x := range f.page.Sheet.Figures {
		shown, number := f.run.Shown(x), ""
		if x.Kind != quantity.Text {
			number = unroundedText(shown)
		}
		if f.page.Sheet.DependsOnToday(x.Node) {
			shown.Text += " as of " + quantity.ISODate(dayIn(f.run))
		}
		rows = append(rows, []string{x.Name, shown.Text, x.Label, number})
	}
	return rows
}

// part prints a heading and rows below it; nothing if there are no rows.
func (s *screen) part(heading string, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	fmt.Fprintln(s.out, "\n"+heading)
	s.columns(rows)
}

func limitColour(kind string) string {
	if kind == "refused" || kind == "warning" {
		return red
	}
	return yellow
}

// unroundedText is the number behind a shown value.
func unroundedText(v quantity.Shown) string {
	switch {
	case v.Missing && v.Text == "":
		return "waits for a reading"
	case v.Missing:
		return ""
	case v.Date:
		return v.Machine()
	case v.Text == "yes", v.Text == "no":
		return ""
	}
	return strings.TrimSpace(fmt.Sprintf("%.12g %s", v.Number, v.Unit))
}

func (s *screen) columns(rows [][]string) {
	var width [4]int
	for _, r := range rows {
		for i, c := range r {
			width[i] = max(width[i], utf8.RuneCountInString(c))
		}
	}
	for _, r := range rows {
		line := " "
		for i, c := range r {
			line += " " + c + strings.Repeat(" ", width[i]-utf8.RuneCountInString(c)+1)
		}
		fmt.Fprintln(s.out, strings.TrimRight(line, " "))
	}
}
