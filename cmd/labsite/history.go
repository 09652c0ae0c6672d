package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/approval"
	"labsite/recipes/source"
	"labsite/render/approve"
)

func historyCommand(s *screen) *cobra.Command {
	var from, on string
	c := &cobra.Command{
		Use:   "history PAGE [NAME]",
		Short: "List what each number of a page was in each revision",
		Long: `History lists the values of each number of a page, or of the named one, from the first
recorded revision to the page as it is now, with revision, day, role and what changed. It
reads the records that labsite approve wrote.`,
		Example: "  labsite history one-shot-developer\n  labsite history one-shot-developer develop",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 || len(args) > 2 {
				return errors.New("name a page, and one of its numbers if you like: labsite history PAGE [NAME]")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			st, p, err := s.asWritten(cmd.Context(), from, args[0], on)
			if err != nil {
				return err
			}
			defer st.Close()
			name := ""
			if len(args) == 2 {
				name = args[1]
			}
			var lines []approve.Line
			var list source.List
			if err := whileWanted(cmd.Context(), func() { lines, list = approve.History(st, p, name) }); err != nil {
				return err
			}
			if p.Head == nil || p.Head.Control == nil {
				return s.broken(fmt.Errorf("%s has no document control, so it has no revisions", p.Path))
			}
			if name != "" && len(lines) == 0 {
				return s.broken(fmt.Errorf("%s has no number %s, and no recorded revision had it", p.Path, name))
			}
			if s.json {
				if lines == nil {
					lines = []approve.Line{}
				}
				s.object(map[string]any{"diagnostics": s.machine(list), "page": p.Path, "number": p.Head.Control.Number, "history": lines})
				return nil
			}
			s.history(lines)
			s.diagnostics(list)
			return nil
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
			return completePage(cmd, args)
		},
	}
	pagesFlag(c, &from)
	onFlag(c, &on)
	return c
}

// history prints the values of each number below its name.
func (s *screen) history(lines []approve.Line) {
	last := ""
	for _, l := range lines {
		if l.Name != last {
			fmt.Fprintf(s.out, "%s\n", paint(s.out, bold, strings.TrimSpace(l.Name+"  "+l.Label)))
			last = l.Name
		}
		when := fmt.Sprintf("revision %d, %s by the %s", l.Revision, l.Day, l.By)
		if l.Day == "" {
			when = fmt.Sprintf("now, revision %d as it is written", l.Revision)
		}
		value := orNone(l.Shown)
		if l.Over != nil && l.Over.At != "" {
			value += fmt.Sprintf("; at %s %s → %s", l.Over.At, l.Over.Before, l.Over.After)
		}
		fmt.Fprintf(s.out, "  %s: %s\n", when, value)
		if because := approval.Because(l.Causes); because != "" {
			fmt.Fprintf(s.out, "    because %s\n", because)
		}
	}
}
