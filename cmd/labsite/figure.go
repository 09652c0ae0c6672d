package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/work"
	"labsite/render/write"
)

func figureCommand(s *screen) *cobra.Command {
	var from, on string
	c := &cobra.Command{
		Use:   "figure PAGE [given=value …]",
		Short: "Work one page out at the bench",
		Long: `Figure works one page out for given values and prints its figures, as shown and
unrounded, the limits that hold, and its cautions. The page is named by its path or
by its file name alone where that is clear. Values are written as on pages, in any
unit of their kind. Where the page refuses, there is a reason and no number; that is
an answer, and the exit status is 0, unless the page was withdrawn.`,
		Example: `  labsite figure one-shot-developer
  labsite figure one-shot-developer tank="600 ml" bath="68 °F"`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("name a page: labsite figure PAGE [given=value …]")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			st, err := s.openFor(cmd.Context(), from, on)
			if err != nil {
				return err
			}
			p, err := s.pageNamed(st, args[0])
			if err != nil {
				return err
			}
			desk := st.Desk()
			var t *work.Page
			var list source.List
			err = whileWanted(cmd.Context(), func() {
				t = desk.Make(p)
				list = st.PageList(desk, p)
			})
			if err != nil {
				return err
			}
			var own, behind source.List
			files := desk.Behind(p)
			for _, d := range list {
				if d.File == t.Path {
					own = append(own, d)
				}
				if files[d.File] && (d.File == t.Path || d.Severity == source.Error) {
					behind = append(behind, d)
				}
			}
			if t.Proof == nil && behind.Errors() == 0 {
				behind = list // what keeps it from being worked out stands in a file of the whole lab
			}
			if behind.Errors() > 0 || t.Proof == nil {
				return s.refused(behind, "")
			}
			return s.figure(desk, t, args[1:], own)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
			return completeFigure(cmd, args, begun)
		},
	}
	pagesFlag(c, &from)
	onFlag(c, &on)
	return c
}

// completeFigure offers pages, then given values that may be set, then their choices.
func completeFigure(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	day, err := dayOf("")
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	findLab(cmd)
	st, _ := build.Open(cmd.Context(), cmd.Flag("from").Value.String(), build.Options{Day: day, Unwritten: true})
	if st == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	defer st.Close()
	var out []string
	if len(args) == 0 {
		for _, p := range st.Content.Pages {
			out = append(out, strings.TrimSuffix(p.Path, ".md"))
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
	p, _ := st.Find(args[0])
	if p == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	t := st.Desk().Resolved(p)
	if t.Sheet == nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	if name, _, is := strings.Cut(begun, "="); is {
		if g := t.Sheet.GivenNamed(name); g != nil {
			for _, c := range choices(g) {
				out = append(out, name+"="+c)
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
	for _, g := range t.Sheet.Given {
		if g.Settable() {
			out = append(out, g.Name+"=")
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}

// choices lists what a given may be set to, as pages write it; nil where that is a range.
func choices(g *page.Given) []string {
	switch {
	case g.Kind == quantity.Yes:
		return []string{"yes", "no"}
	case len(g.Words) > 0:
		return g.Words
	}
	var out []string
	for _, c := range g.Choices {
		out = append(out, c.Text)
	}
	return out
}

// figureValue is a value for machines; a withdrawn figure has neither text nor number.
type figureValue struct {
	Label string   `json:"label"`
	Shown *string  `json:"shown"`
	Value *float64 `json:"value"`
	Unit  string   `json:"unit"`
	// AsOf is the day on which the figure hangs, where it follows the calendar.
	AsOf string `json:"as_of,omitempty"`
}

func (s *screen) figure(desk *work.Desk, p *work.Page, settings []string, list source.List) error {
	run := prove.NewBlank(p.Sheet)
	typed := map[*page.Given]quantity.Value{}
	refused := []write.LimitText{}
	for i, arg := range settings {
		if strings.Contains(arg, "=") {
			continue
		}
		if i > 0 {
			name, text, _ := strings.Cut(settings[i-1], "=")
			return fmt.Errorf("%q stands alone; put the value in quotes: %s=\"%s %s\"", arg, name, text, arg)
		}
		return fmt.Errorf("%q is no setting; write given=value, such as tank=\"600 ml\"", arg)
	}
	for _, arg := range settings {
		name, text, ok := strings.Cut(arg, "=")
		name = strings.TrimSpace(name)
		if !ok {
			return fmt.Errorf("%q is no setting; write given=value, such as tank=\"600 ml\"", arg)
		}
		g := p.Sheet.GivenNamed(name)
		if g == nil {
			var names []string
			for _, g := range p.Sheet.Given {
				names = append(names, g.Name)
			}
			hint := "its given values are " + strings.Join(names, ", ")
			if near := source.Nearest(name, names); near != "" {
				hint = "did you mean " + near + "?"
			}
			return fmt.Errorf("%s has no given value %s; %s", p.Path, name, hint)
		}
		base, trouble := g.Set(text)
		if q, t := quantity.Parse(text); t == nil && q.Kind == g.Kind {
			typed[g] = q
		}
		if trouble == nil {
			run.Set(g, base)
			continue
		}
		switch trouble.Code {
		case "out-of-range", "not-a-choice", "whole-only", "given-fixed":
			// the answer is known: nobody tested that
			refused = append(refused, write.LimitText{Kind: "refused", Text: sentence(trouble.Message) + " " + trouble.Hint})
			if q, is := typed[g]; is {
				run.Set(g, q.Base) // so that what was asked is what is shown
			}
		default:
			return fmt.Errorf("%s=%s: %s. %s", name, text, trouble.Message, trouble.Hint)
		}
	}
	if p.Status() == page.Withdrawn {
		refused = append(refused, write.LimitText{Kind: "refused", Text: withdrawnText(p)})
	}
	if len(refused) == 0 {
		run.Work()
		for _, f := range run.Failed {
			if !run.Refused() {
				name := "a limit"
				if f.Figure != nil {
					name = f.Figure.Name
				}
				return s.broken(fmt.Errorf("%s gives no finite number at these values", name))
			}
		}
	}
	limits := refused
	if len(refused) == 0 {
		limits = write.LimitTexts(desk, run)
	}
	withdrawn := len(refused) > 0 || run.Refused()
	if s.json {
		s.object(s.figureObject(desk, p, run, typed, limits, withdrawn, list))
	} else {
		s.printFigure(desk, p, run, typed, limits, withdrawn)
		s.diagnostics(list)
	}
	if withdrawn && (len(settings) == 0 || p.Status() == page.Withdrawn) {
		return failed{wrong} // it is not the caller's values that are refused
	}
	return nil
}

func sentence(text string) string {
	if text == "" {
		return ""
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}

// shownGiven writes a given value. One that was typed stands as typed where it is in the
// given's own unit, or is a duration; any other is turned into that unit, and is written
// in full where the form of the page's own value would round it.
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

// withdrawnText says why a page that was taken back has no figures.
func withdrawnText(p *work.Page) string {
	ask := p.Sheet.Control.Owner
	if ask == "" {
		ask = "lab"
	}
	return "This page is withdrawn. Ask the " + ask + "."
}

// dayIn is the day that a case's figures hang on.
func dayIn(run *prove.Case) float64 {
	slot, _, _ := run.Sheet.Day()
	return run.Frame.V[slot]
}

func value(label string, shown quantity.Shown, show quantity.Show) figureValue {
	if shown.Missing { // what stands in its place is told, a number is not
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

// clean takes away the last bits, where a conversion to base units and back leaves noise:
// 28 % would be 28.000000000000004.
func clean(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	if err != nil {
		return x
	}
	return y
}

func (s *screen) figureObject(desk *work.Desk, p *work.Page, run *prove.Case, typed map[*page.Given]quantity.Value, limits []write.LimitText, withdrawn bool, list source.List) any {
	given, figures := map[string]figureValue{}, map[string]figureValue{}
	for _, g := range p.Sheet.Given {
		v := value(g.Label, shownGiven(g, run, typed), g.Show)
		if len(g.Words) > 0 {
			v.Value = nil // a text has no number
		}
		given[g.Name] = v
	}
	for _, f := range p.Sheet.Figures {
		v := value(f.Label, run.Shown(f), f.Show)
		if f.Kind == quantity.Text {
			v.Value = nil // a text has no number
		}
		if p.Sheet.HangsOnToday(f.Node) {
			v.AsOf = quantity.ISODate(dayIn(run))
		}
		if withdrawn {
			v.Shown, v.Value = nil, nil
		}
		figures[f.Name] = v
	}
	holding := []write.LimitText{}
	for _, l := range limits {
		if l.Kind == "refused" {
			l.Kind = string(page.Refuse) // as pages write it
		}
		holding = append(holding, l)
	}
	return map[string]any{"page": p.Path, "given": given, "figures": figures, "limits": holding, "cautions": write.CautionTexts(desk, run), "diagnostics": s.machine(list)}
}

func (s *screen) printFigure(desk *work.Desk, p *work.Page, run *prove.Case, typed map[*page.Given]quantity.Value, limits []write.LimitText, withdrawn bool) {
	fmt.Fprintf(s.out, "%s\n", paint(s.out, bold, p.Title()))
	if c := p.Sheet.Control; c != nil {
		fmt.Fprintf(s.out, "%s\n", paint(s.out, faint, fmt.Sprintf("%s, revision %d, %s", c.Number, c.Revision, c.Status)))
	}
	for _, c := range write.CautionTexts(desk, run) {
		fmt.Fprintf(s.out, "\n%s\n", c)
	}
	var rows [][]string
	for _, g := range p.Sheet.Given {
		note := ""
		if g.From != nil {
			note = g.From.Text + " to " + g.To.Text
		} else if g.Today {
			note = "follows the calendar"
		} else if len(g.Choices) > 0 {
			var c []string
			for _, v := range g.Choices {
				c = append(c, v.Text)
			}
			note = "one of " + strings.Join(c, ", ")
		}
		text := shownGiven(g, run, typed).Text
		if run.Missing(g.Slot) {
			text = "not read"
		}
		rows = append(rows, []string{g.Name, text, g.Label, note})
	}
	s.part("Given", rows)
	for _, l := range limits {
		fmt.Fprintf(s.out, "\n%s: %s\n", paint(s.out, limitColour(l.Kind), strings.ToUpper(l.Kind)), l.Text)
	}
	switch {
	case p.Status() == page.Withdrawn:
		return
	case withdrawn:
		fmt.Fprintln(s.out, "\nNo figures: the recipe does not hold at these values.")
		return
	case len(p.Sheet.Figures) == 0:
		fmt.Fprintln(s.out, "\nThis page has no figures.")
		return
	}
	rows = nil
	for _, f := range p.Sheet.Figures {
		shown := run.Shown(f)
		if p.Sheet.HangsOnToday(f.Node) {
			shown.Text += " as of " + quantity.ISODate(dayIn(run))
		}
		rows = append(rows, []string{f.Name, shown.Text, f.Label, unroundedText(run.Shown(f))})
	}
	s.part("Figures", rows)
}

// part prints a heading and what stands below it; nothing where that is empty.
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
