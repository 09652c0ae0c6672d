package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/formulary"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/content"
)

func formulaCommand(s *screen) *cobra.Command {
	var from string
	var outside bool
	c := &cobra.Command{
		Use:   "formula [WORD | NAME parameter=value …]",
		Short: "List, explain and compute the bench formulas",
		Long: `Formula lists the bench formulas: the trade's own small formulas, which pages call by
name. A word narrows the list to names, groups and sentences that contain it; a full name
explains that formula, with its valid range, its source and its checks; with parameters
it is worked out. A lab's own entries, in formulary/ of its content, are among them.

--outside lists what is checked against standards, handbooks and worked examples.`,
		Example: "  labsite formula\n  labsite formula reciprocity\n  labsite formula time_at_temperature\n" +
			"  labsite formula hot_water_for volume=\"1 l\" target=\"20 °C\" cold=\"12 °C\" hot=\"45 °C\"\n  labsite formula --outside",
		RunE: func(cmd *cobra.Command, args []string) error {
			if outside {
				return s.outside(cmd.Context())
			}
			s.from = from
			set, list := content.Formulary(from)
			if list.Errors() > 0 {
				return s.refused(list, "")
			}
			if len(args) > 1 || len(args) == 1 && !strings.Contains(args[0], "=") {
				if e, ok := set.Find(args[0]); ok {
					if len(args) == 1 {
						return s.explain(set, e)
					}
					return s.compute(set, e, args[1:])
				}
			}
			if len(args) > 1 {
				return fmt.Errorf("there is no bench formula %s%s", args[0], offered(args[0], set.Names()))
			}
			word := ""
			if len(args) == 1 {
				word = args[0]
			}
			return s.listFormulas(set, word)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			findLab(cmd)
			set, _ := content.Formulary(from)
			if len(args) == 0 {
				return set.Names(), cobra.ShellCompDirectiveNoFileComp
			}
			var out []string
			if e, ok := set.Find(args[0]); ok {
				for _, p := range e.Params {
					out = append(out, p.Name+"=")
				}
			}
			return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
		},
	}
	fromFlag(c, &from, "take the lab's own entries from DIR")
	c.Flags().BoolVar(&outside, "outside", false, "list the checks against outside sources")
	return c
}

func offered(name string, names []string) string {
	if near := source.Nearest(name, names); near != "" {
		return "; did you mean " + near + "?"
	}
	return "; `labsite formula` lists them"
}

// formulaRow is an entry in JSON.
type formulaRow struct {
	Name     string `json:"name"`
	Group    string `json:"group"`
	Sentence string `json:"sentence"`
	Call     string `json:"call"`
	Formula  string `json:"formula"`
	Source   string `json:"source"`
}

// formulaCheck is a check of an entry in JSON.
type formulaCheck struct {
	What       string `json:"what"`
	Source     string `json:"source"`
	Provenance string `json:"provenance"`
	Expected   string `json:"expected"`
	Found      string `json:"found"`
	Deviation  string `json:"deviation"`
	OK         bool   `json:"ok"`
}

// outsideCheck is a check against an outside source in JSON.
type outsideCheck struct {
	ID         string `json:"id"`
	What       string `json:"what"`
	Formula    string `json:"formula"`
	Source     string `json:"source"`
	Provenance string `json:"provenance"`
	Expected   string `json:"expected"`
	Found      string `json:"found"`
	Deviation  string `json:"deviation"`
	OK         bool   `json:"ok"`
}

func rowOf(e *formulary.Entry) formulaRow {
	return formulaRow{e.Name, e.Group, e.Sentence, e.Call(), e.Formula, e.Source.String()}
}

func (s *screen) listFormulas(set *formulary.Set, word string) error {
	rows := []formulaRow{}
	for _, e := range set.All() {
		if strings.Contains(strings.ToLower(e.Name+" "+e.Group+" "+e.Sentence), strings.ToLower(word)) {
			rows = append(rows, rowOf(e))
		}
	}
	if s.json {
		s.object(map[string]any{"diagnostics": []any{}, "formulas": rows})
		return nil
	}
	if len(rows) == 0 {
		return fmt.Errorf("no bench formula contains %q%s", word, offered(word, set.Names()))
	}
	group := ""
	for _, r := range rows {
		if r.Group != group {
			if group != "" {
				fmt.Fprintln(s.out)
			}
			group = r.Group
			fmt.Fprintln(s.out, paint(s.out, bold, group))
		}
		fmt.Fprintf(s.out, "  %s\n      %s\n", r.Call, r.Sentence)
	}
	return nil
}

func (s *screen) explain(set *formulary.Set, e *formulary.Entry) error {
	verdicts := set.RunChecks(e)
	if s.json {
		checks := []formulaCheck{}
		for _, v := range verdicts {
			checks = append(checks, formulaCheck(v))
		}
		s.object(map[string]any{"diagnostics": []any{}, "formula": rowOf(e), "checks": checks})
		return nil
	}
	fmt.Fprintf(s.out, "%s\n%s\n\n  %s\n\n", paint(s.out, bold, e.Call()), e.Sentence, strings.TrimSpace(e.Formula))
	var rows [][]string
	for i, p := range e.Params {
		note := rangeText(p)
		if p.Owned {
			note = strings.TrimSpace(note + " the lab's own: a given with source and owner")
		}
		kind := p.Fit.Words()
		if x := example(e, i); x != "" && strings.ContainsAny(x, " ") {
			kind += ", such as " + x
		}
		rows = append(rows, []string{p.Name, kind, p.Label, note})
	}
	s.columns(rows)
	fmt.Fprintf(s.out, "\n  gives %s\n", gives(e))
	for _, o := range e.Outside {
		fmt.Fprintf(s.out, "  refuses: %s\n", o.Reason)
	}
	for _, n := range e.NotWhen {
		fmt.Fprintf(s.out, "  not when: %s\n", n)
	}
	fmt.Fprintf(s.out, "  source: %s\n\n", e.Source)
	rows = nil
	for _, v := range verdicts {
		mark := "✓"
		if !v.OK {
			mark = "✗"
		}
		rows = append(rows, []string{mark + " " + v.What, v.Expected, v.Found, v.Source})
	}
	s.columns(rows)
	return nil
}

// example is a value of a parameter from the entry's first check, as one can type it; "" if there
// is none.
func example(e *formulary.Entry, i int) string {
	for _, c := range e.Checks {
		if !c.Refused && i < len(c.At) {
			return strings.NewReplacer("²", "2", "³", "3").Replace(c.At[i].Text)
		}
	}
	return ""
}

// suchAs says how to write a parameter.
func suchAs(e *formulary.Entry, i int) string {
	x := example(e, i)
	if x == "" {
		return "; write " + e.Call()
	}
	return fmt.Sprintf("; write it as in %s=%q", e.Params[i].Name, x)
}

// gives describes an entry's result, with the unit that it is shown in.
func gives(e *formulary.Entry) string {
	if u, n, ok := quantity.ReadUnit(e.Show); ok && n == len(e.Show) && strings.HasPrefix(e.Result.Words(), "a quantity in ") {
		return "a quantity in " + u.Text
	}
	return e.Result.Words()
}

// outside prints the checks against standards, handbooks and worked examples.
func (s *screen) outside(ctx context.Context) error {
	var checks []formulary.OutsideCheck
	if err := whileWanted(ctx, func() { checks = formulary.Outside() }); err != nil {
		return err
	}
	bad := 0
	for _, c := range checks {
		if !c.OK {
			bad++
		}
	}
	if s.json {
		rows := []outsideCheck{}
		for _, c := range checks {
			rows = append(rows, outsideCheck(c))
		}
		s.object(map[string]any{"diagnostics": []any{}, "outside": rows})
	} else {
		for _, c := range checks {
			mark := paint(s.out, green, "✓")
			if !c.OK {
				mark = paint(s.out, red, "✗")
			}
			fmt.Fprintf(s.out, "%s %s  %s\n    %s (%s)\n    %s: expected %s, found %s", mark, paint(s.out, bold, c.ID), c.What,
				c.Source, c.Provenance, c.Formula, c.Expected, c.Found)
			if c.Deviation != "" {
				fmt.Fprintf(s.out, ", off by %s", c.Deviation)
			}
			fmt.Fprintln(s.out)
		}
		fmt.Fprintf(s.out, "\n%s from outside, %d off.\n", counted(len(checks), "check", "checks"), bad)
	}
	if bad > 0 {
		return failed{wrong}
	}
	return nil
}

// rangeText says a parameter's valid range.
func rangeText(p formulary.Param) string { return p.Range.Words() }
