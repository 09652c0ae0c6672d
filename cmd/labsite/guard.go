package main

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"

	"labsite/recipes/guard"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/content"
	"labsite/render/work"
)

func guardCommand(s *screen) *cobra.Command {
	var from, on string
	c := &cobra.Command{
		Use:   "guard [PAGE]",
		Short: "Change pages on purpose, and see whether their checks notice",
		Long: `Guard changes each page, one thing at a time: a constant's last digit, an
operator, the edge of a comparison, a branch, a rounding step, a column, a row of
data, a unit, a value set for a page drawn on. It runs the page's checks after each
change and lists those that no check notices, with a check that would, ready to
paste, except for its source, which a person must fill in. A change that shows in no
case is counted separately. Nothing is written, and what it finds stops nothing.`,
		Example: `  labsite guard
  labsite guard monthly-pricing`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			begun := time.Now()
			st, err := s.openFor(cmd.Context(), from, on)
			if err != nil {
				return err
			}
			var list source.List
			defer st.Close()
			pages := st.Content.Pages
			if len(args) > 0 {
				p, err := s.pageNamed(st, args[0])
				if err != nil {
					return err
				}
				pages = []*content.Page{p}
			}
			var found []guardedPage
			if err := whileWanted(cmd.Context(), func() { found, list = guardPages(cmd.Context(), st, pages) }); err != nil {
				return err
			}
			if s.json {
				s.object(map[string]any{"pages": found, "diagnostics": s.machine(list)})
			} else {
				s.guarded(found, time.Since(begun))
			}
			if list.Errors() > 0 {
				if !s.json {
					return s.refused(list, "")
				}
				return failed{wrong}
			}
			return nil
		},
	}
	pagesFlag(c, &from)
	onFlag(c, &on)
	return c
}

// guardedPage is the outcome for a page in JSON.
type guardedPage struct {
	Page      string           `json:"page"`
	Tried     int              `json:"tried"`
	Noticed   int              `json:"noticed"`
	Equal     int              `json:"equal"`
	Unnoticed []mutationUnseen `json:"unnoticed"`
}

type mutationUnseen struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	What   string `json:"what"`
	Check  string `json:"check"`
}

// guardPages tries changes on pages, each worker at a desk of its own. The list says what is wrong
// with pages that could not be tried.
func guardPages(ctx context.Context, st *build.Site, pages []*content.Page) ([]guardedPage, source.List) {
	out := make([]*guardedPage, len(pages))
	var list source.List
	var mu sync.Mutex
	var next atomic.Int64
	content.Each(ctx, content.Workers, func(int) {
		desk := st.Desk()
		for {
			i := int(next.Add(1)) - 1
			if i >= len(pages) || ctx.Err() != nil {
				return
			}
			x, wrong := guardPage(ctx, st, desk, pages[i])
			out[i] = x
			mu.Lock()
			list = append(list, wrong...)
			mu.Unlock()
			desk.Trim()
		}
	})
	found := []guardedPage{}
	for _, x := range out {
		if x != nil && x.Tried > 0 {
			found = append(found, *x)
		}
	}
	return found, list.Sorted()
}

func guardPage(ctx context.Context, st *build.Site, desk *work.Desk, p *content.Page) (*guardedPage, source.List) {
	r, ok := desk.Guarding(ctx, p)
	if !ok {
		var wrong source.List
		for _, d := range st.PageList(desk, p) {
			if d.Severity == source.Error {
				wrong = append(wrong, d)
			}
		}
		return nil, wrong
	}
	return machineGuard(p.Path, r), nil
}

func machineGuard(path string, r guard.Report) *guardedPage {
	x := &guardedPage{Page: path, Tried: r.Tried, Noticed: r.Noticed, Equal: r.Equal, Unnoticed: []mutationUnseen{}}
	for _, f := range r.Unnoticed {
		d := source.ChangeUnnoticed(f.What, f.Check).At(f.Span)
		x.Unnoticed = append(x.Unnoticed, mutationUnseen{d.Line, d.Column, f.What, f.Check})
	}
	return x
}

// guarded prints the outcome for pages.
func (s *screen) guarded(pages []guardedPage, took time.Duration) {
	noticed, matter, equal := 0, 0, 0
	for _, p := range pages {
		noticed, matter, equal = noticed+p.Noticed, matter+p.Tried-p.Equal, equal+p.Equal
		fmt.Fprintf(s.out, "%s  guarded %d of %d\n", paint(s.out, bold, p.Page), p.Noticed, p.Tried-p.Equal)
		for _, u := range p.Unnoticed {
			fmt.Fprintf(s.out, "  %s %s.\n", paint(s.out, yellow, fmt.Sprintf("line %d:", u.Line)), u.What)
			if u.Check == "" {
				fmt.Fprintln(s.out, "    No check can tell.")
			}
			for line := range strings.Lines(u.Check) {
				fmt.Fprint(s.out, "    "+line)
			}
			if u.Check != "" {
				fmt.Fprintln(s.out)
			}
		}
	}
	fmt.Fprintf(s.out, "Guarded %d of %d changes on %s; %s; %s.\n", noticed, matter, counted(len(pages), "page", "pages"), counted(equal, "more shows in no case", "more show in no case"), took.Round(time.Millisecond))
}
