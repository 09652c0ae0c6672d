package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/content"
	"labsite/render/work"
)

func figureCommand(s *screen) *cobra.Command {
	var from, on string
	c := &cobra.Command{
		Use:   "figure PAGE [given=value …]",
		Short: "Work one page out at the bench",
		Long: `Figure works one page out for given values and prints its figures, as shown and
unrounded, the limits that hold, and its cautions. Name the page by its path, or
just by its file name if that is clear. Values are written as on pages, in any
unit of their kind. If the page refuses, there is a reason and no number; that is
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
			return s.figure(cmd.Context(), st, p, args[1:])
		},
		ValidArgsFunction: completeFigure,
	}
	pagesFlag(c, &from)
	onFlag(c, &on)
	return c
}

// figure works a page out at the values of settings. Whether the page is correct is taken from the
// last check if that still holds: trying all its cases again would take most of the time.
func (s *screen) figure(ctx context.Context, st *build.Site, p *content.Page, settings []string) error {
	desk := st.Desk()
	var result *build.Result
	var list source.List
	if err := whileWanted(ctx, func() {
		result = st.Memory.Result(desk, p)
		list = st.PageList(desk, p)
	}); err != nil {
		return err
	}
	own, behind := saidOf(desk, p, list)
	if !result.Trial.Proved && behind.Errors() == 0 {
		behind = list // the error that stops it is in a file that all pages depend on
	}
	if behind.Errors() > 0 || !result.Trial.Proved {
		return s.refused(behind, "")
	}
	f := &figured{desk: desk, page: desk.Resolved(p), said: own}
	if err := f.set(settings); err != nil {
		return err
	}
	if err := f.work(); err != nil {
		return s.broken(err)
	}
	if s.json {
		s.object(s.figureObject(f))
	} else {
		s.printFigure(f)
		s.diagnostics(own)
	}
	if f.withdrawn && (len(settings) == 0 || p.Status() == page.Withdrawn) {
		return failed{wrong} // the page refuses, not because of the caller's values
	}
	return nil
}

// saidOf picks what is said about a page itself, and the same with the errors of all files that its
// numbers come from.
func saidOf(desk *work.Desk, p *content.Page, list source.List) (own, behind source.List) {
	files := desk.Behind(p)
	for _, d := range list {
		if d.File == p.Path {
			own = append(own, d)
		}
		if files[d.File] && (d.File == p.Path || d.Severity == source.Error) {
			behind = append(behind, d)
		}
	}
	return own, behind
}
