package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"labsite/recipes/source"
	"labsite/render/build"
)

func checkCommand(s *screen) *cobra.Command {
	var from, on string
	var firm, fresh bool
	c := &cobra.Command{
		Use:   "check",
		Short: "Work out all pages and test every number, without writing anything",
		Long: `Check does everything that publish does except write, and prints each page's
checks: the case, what was expected, what was found, and the source it comes from;
then advice, which stops nothing: a result that no check guards, a fixed
value that does not say where it comes from.

Reports (a quantity typed by hand, an overdue review) stop nothing unless --firm
makes them errors.`,
		Example: "  labsite check\n  labsite check --firm --from lab/pages",
		Args:    noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			begun := time.Now()
			giveRoom()
			var st *build.Site
			var list source.List
			err := untilStill(func(last bool) (err error) {
				bar := s.bar("working out pages")
				if st, list, err = s.open(cmd.Context(), from, on, !fresh, bar.at); err != nil || st == nil {
					return err
				}
				err = whileWanted(cmd.Context(), func() { list, err = st.Check(cmd.Context()) })
				bar.done()
				if err == nil && !last && moved(list) {
					st.Close()
					return errMoved
				}
				return err
			})
			if err != nil {
				return err
			}
			if firm {
				list = list.Firm()
			}
			return s.checked(st, list, begun)
		},
	}
	pagesFlag(c, &from)
	freshFlag(c, &fresh)
	onFlag(c, &on)
	c.Flags().BoolVar(&firm, "firm", false, "treat reports as errors")
	return c
}

// checked reports what a check found.
func (s *screen) checked(st *build.Site, list source.List, begun time.Time) error {
	if s.json {
		s.object(map[string]any{"diagnostics": s.machine(list), "checks": checkRows(st), "advice": s.machine(advice(st)), "remembered": fromEarlier(st)})
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
	alsoAdvice := ""
	if n := len(advice(st)); n > 0 {
		alsoAdvice = ", " + counted(n, "piece of advice", "pieces of advice")
	}
	fmt.Fprintf(s.out, "%s: %s, %s, %s in %s, %s; %s.\n", paint(s.out, green, "All hold"), counted(pages, "page", "pages"),
		counted(figures, "figure", "figures"), counted(checks, "check", "checks"), casesText(st),
		counted(len(list), "report", "reports")+alsoAdvice, time.Since(begun).Round(time.Millisecond))
	return nil
}
