package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/work"
)

func seekCommand(s *screen) *cobra.Command {
	var from string
	c := &cobra.Command{
		Use:   "seek PAGE 'condition' … [given=value …]",
		Short: "Find the settings of a page at which conditions hold",
		Long: `Seek works a page backwards: at which of its settings do these conditions hold, and
the page refuses nothing? It answers with ranges if it can, those that change the
fewest values first, and says why a condition is impossible. Values given as
name=value stay fixed.`,
		Example: `  labsite seek one-shot-developer 'concentrate <= 8 ml' 'develop >= 6 min' rolls=2`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 2 {
				return errors.New("name a page and a condition: labsite seek PAGE 'concentrate <= 8 ml'")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			st, err := s.openFor(cmd.Context(), from, "")
			if err != nil {
				return err
			}
			defer st.Close()
			p, err := s.pageNamed(st, args[0])
			if err != nil {
				return err
			}
			desk := st.Desk()
			var full *work.Page
			var list source.List
			if err := whileWanted(cmd.Context(), func() { full = desk.Make(p); list = st.PageList(desk, p) }); err != nil {
				return err
			}
			if list.Errors() > 0 || full.Proof == nil {
				return s.refused(list, "")
			}
			return s.seek(cmd.Context(), full, args[1:])
		},
	}
	pagesFlag(c, &from)
	return c
}

// seek looks for settings and prints them.
func (s *screen) seek(ctx context.Context, p *work.Page, args []string) error {
	wishes, set, err := wanted(p, args)
	if err != nil {
		return err
	}
	var found prove.Sought
	if err := whileWanted(ctx, func() { found = prove.Seek(ctx, p.Sheet, wishes, set) }); err != nil {
		return err
	}
	if s.json {
		s.object(soughtObject(found))
		return nil
	}
	for _, way := range found.Settings {
		var parts []string
		for _, r := range way {
			parts = append(parts, r.Given.Name+" "+r.Text())
		}
		if len(parts) == 0 {
			parts = []string{"as the page stands"}
		}
		fmt.Fprintln(s.out, "  "+strings.Join(parts, ", "))
	}
	for _, x := range found.Impossible {
		fmt.Fprintf(s.out, "%s: %s\n", paint(s.out, bold, x.Condition), x.Because)
	}
	if len(found.Settings) == 0 {
		how := "No setting does, of those tried."
		if found.Proved {
			how = "No setting does (proved)."
		}
		fmt.Fprintln(s.out, how)
	}
	return nil
}

func soughtObject(found prove.Sought) map[string]any {
	settings, impossible := []map[string]string{}, []map[string]string{}
	for _, way := range found.Settings {
		x := map[string]string{}
		for _, r := range way {
			x[r.Given.Name] = r.Text()
		}
		settings = append(settings, x)
	}
	for _, x := range found.Impossible {
		impossible = append(impossible, map[string]string{"condition": x.Condition, "because": x.Because})
	}
	return map[string]any{"settings": settings, "impossible": impossible, "proved": found.Proved, "diagnostics": []any{}}
}

// wanted sorts arguments into conditions and fixed values.
func wanted(p *work.Page, args []string) (wishes []prove.Wish, set map[*page.Given]float64, err error) {
	set = map[*page.Given]float64{}
	for _, arg := range args {
		if name, text, is := setting(p.Sheet, arg); is {
			v, trouble := p.Sheet.GivenNamed(name).Set(text)
			if trouble != nil {
				return nil, nil, fmt.Errorf("%s=%s: %s. %s", name, text, trouble.Message, trouble.Hint)
			}
			set[p.Sheet.GivenNamed(name)] = v
			continue
		}
		f, list := formula.Parse(arg, nil)
		if f == nil {
			return nil, nil, fmt.Errorf("%q: %s. %s", arg, list[0].Message, list[0].Hint)
		}
		n, list := formula.Infer(f, p.Sheet.Scope())
		if n == nil && len(list) > 0 {
			return nil, nil, fmt.Errorf("%q: %s. %s", arg, list[0].Message, list[0].Hint)
		}
		if n == nil || n.Kind != quantity.Yes {
			return nil, nil, fmt.Errorf("%q is not a condition; write one such as 'concentrate <= 8 ml', or given=value", arg)
		}
		wishes = append(wishes, prove.Wish{Text: arg, Node: n})
	}
	if len(wishes) == 0 {
		return nil, nil, errors.New("there is no condition among the arguments, such as 'concentrate <= 8 ml'")
	}
	return wishes, set, nil
}

// setting reports whether an argument sets a given: its name, one = and a value.
func setting(sh *page.Sheet, arg string) (name, text string, is bool) {
	name, text, is = strings.Cut(arg, "=")
	name = strings.TrimSpace(name)
	return name, strings.TrimSpace(text), is && !strings.HasPrefix(text, "=") && sh.GivenNamed(name) != nil
}
