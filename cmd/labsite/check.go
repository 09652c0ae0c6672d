package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"labsite/recipes/sheet"
)

func checkCommand(s *screen) *cobra.Command {
	var from string
	var strict bool
	c := &cobra.Command{
		Use:   "check",
		Short: "Work out all pages and test every number, without writing anything",
		Long: `Check does everything that publish does but the writing, and prints each page's
checks: the case, what was expected, what was found, and the source it comes from;
below them stands advice, which stops nothing: a result that no check guards, a fixed
value that does not say where it comes from.

Reports (a quantity typed by hand, an overdue review) stop nothing unless --strict
makes them errors.`,
		Example: "  labsite check\n  labsite check --strict --from lab/pages",
		Args:    noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			begun := time.Now()
			st, list, err := s.load(cmd.Context(), from)
			if err != nil {
				return err
			}
			if st != nil && list.Errors() == 0 {
				for _, a := range []sheet.Audience{sheet.Customers, sheet.Staff} {
					_, more := st.Render(cmd.Context(), a)
					list = append(list, more...)
				}
				list = append(list, st.Agree(cmd.Context(), sheet.Staff)...)
				list = list.Sorted()
			}
			if strict {
				list = list.Strict()
			}
			if s.json {
				s.object(map[string]any{"diagnostics": s.machine(list), "checks": checkRows(st), "advice": s.machine(advice(st))})
				if list.Errors() > 0 {
					return failed{wrong}
				}
				return nil
			}
			if st != nil {
				s.verdicts(st)
			}
			if list.Errors() > 0 {
				return s.refused(list, "")
			}
			s.diagnostics(list)
			pages, figures, checks := st.Count()
			told := ""
			if n := len(advice(st)); n > 0 {
				told = ", " + counted(n, "piece of advice", "pieces of advice")
			}
			fmt.Fprintf(s.out, "%s: %s, %s, %s in %s, %s; %s.\n", paint(s.out, green, "All hold"), counted(pages, "page", "pages"),
				counted(figures, "figure", "figures"), counted(checks, "check", "checks"), casesText(st),
				counted(len(list), "report", "reports")+told, time.Since(begun).Round(time.Millisecond))
			return nil
		},
	}
	c.Flags().StringVar(&from, "from", "content", "folder of pages")
	c.Flags().BoolVar(&strict, "strict", false, "make reports errors")
	c.MarkFlagDirname("from")
	return c
}
