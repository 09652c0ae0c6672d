package main

import (
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/render/build"
)

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

// choices lists what a given may be set to, as pages write it; nil for a range.
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
