package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/approval"
	"labsite/recipes/source"
	"labsite/render/approve"
	"labsite/render/build"
	"labsite/render/content"
)

func approveCommand(s *screen) *cobra.Command {
	var from, by, on string
	var yes bool
	c := &cobra.Command{
		Use:   "approve PAGE --by ROLE",
		Short: "Record what a page says as approved",
		Long: `Approve shows every number of a page that differs from the revision before, with the
constant, formula, row or page that changed, and asks for approval. Then it writes the
record approved/NUMBER/REVISION.json into the content folder: keep it in version control.
From then on it is an error if the page differs from its record.

The page must first say status: approved, approved_by and approved. Approval is refused
while the page has errors, if ROLE owns the page, and if the revision is already approved
with other numbers. A record is not an electronic signature: it says only what somebody
typed.`,
		Example: `  labsite approve one-shot-developer --by "shop owner"
  labsite approve mixing/dry-chemicals.md --by "shop owner" --yes`,
		Args: onePage("labsite approve PAGE --by ROLE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if by == "" {
				return errors.New(`say who approves: labsite approve PAGE --by "shop owner"`)
			}
			return s.approve(cmd.Context(), from, args[0], by, on, yes, cmd.InOrStdin())
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
			return completePage(cmd, args)
		},
	}
	pagesFlag(c, &from)
	c.Flags().StringVar(&by, "by", "", "the role that approves, as the page names it")
	takes(c, "by", "ROLE")
	onFlag(c, &on)
	c.Flags().BoolVar(&yes, "yes", false, "ask nothing, for scripts")
	return c
}

// onePage is for commands that work on one page.
func onePage(form string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return errors.New("name a page: " + form)
		case len(args) > 1:
			return fmt.Errorf("one page at a time, and not %q as well: %s", args[1], form)
		}
		return nil
	}
}

// completePage offers the pages of a folder.
func completePage(cmd *cobra.Command, args []string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return completeFigure(cmd, nil, "")
}

// asWritten opens a folder, with drafts and waiting revisions, and finds a page in it.
func (s *screen) asWritten(ctx context.Context, from, name, on string) (*build.Site, *content.Page, error) {
	s.from = from
	day, err := dayOf(on)
	if err != nil {
		return nil, nil, err
	}
	var st *build.Site
	var list source.List
	if err := whileWanted(ctx, func() { st, list = approve.Open(ctx, from, day) }); err != nil {
		return nil, nil, err
	}
	if st == nil {
		return nil, nil, s.refused(list, "")
	}
	p, err := s.pageNamed(st, name)
	if err != nil {
		st.Close()
		return nil, nil, err
	}
	return st, p, nil
}

func (s *screen) approve(ctx context.Context, from, name, by, on string, yes bool, in io.Reader) error {
	st, p, err := s.asWritten(ctx, from, name, on)
	if err != nil {
		return err
	}
	defer st.Close()
	var proposal *approve.Proposal
	var list source.List
	if stopped := whileWanted(ctx, func() { proposal, list, err = approve.Propose(st, p, by) }); stopped != nil {
		return stopped
	}
	switch {
	case list.Errors() > 0:
		return s.refused(list, "")
	case err != nil:
		return s.broken(err)
	case proposal == nil:
		return ctx.Err()
	}
	r := proposal.Record
	if proposal.There {
		return s.approved(proposal, list, approval.Path(r.Number, r.Revision), false)
	}
	if !s.json {
		s.proposed(proposal)
	}
	if !yes && !s.agreed(r, in) {
		return s.broken(errors.New("nothing was written; answer yes, or give --yes in a script"))
	}
	at, err := approve.Write(from, r)
	if err != nil {
		return s.broken(err)
	}
	return s.approved(proposal, list, at, true)
}

// agreed asks whether to approve a revision.
func (s *screen) agreed(r *approval.Record, in io.Reader) bool {
	fmt.Fprintf(s.err, "\nApprove %s revision %d as %s? yes or no: ", r.Number, r.Revision, r.By)
	line, _ := bufio.NewReader(io.LimitReader(in, 1<<10)).ReadString('\n')
	answer := strings.ToLower(strings.TrimSpace(line))
	return answer == "yes" || answer == "y"
}

// proposed shows what an approval would record.
func (s *screen) proposed(p *approve.Proposal) {
	r := p.Record
	fmt.Fprintf(s.out, "%s\n%s revision %d, %s\n", paint(s.out, bold, r.Title), r.Number, r.Revision, r.Page)
	if p.Before == nil {
		fmt.Fprintf(s.out, "\nNo earlier revision is recorded. Its %s:\n", counted(len(r.Numbers), "number", "numbers"))
		var rows [][]string
		for _, n := range r.Numbers {
			if n.Table == "" {
				rows = append(rows, []string{n.Name, n.Shown, n.Label, ""})
			}
		}
		s.columns(rows)
		if cells := len(r.Numbers) - len(rows); cells > 0 {
			fmt.Fprintf(s.out, "  and %s of tables\n", counted(cells, "cell", "cells"))
		}
		return
	}
	numbers := approval.Numbers(p.Changed)
	fmt.Fprintf(s.out, "\nSince revision %d, approved on %s by the %s: %s changed.\n", p.Before.Revision, p.Before.Approved, p.Before.By, counted(len(numbers), "number", "numbers"))
	for _, d := range p.Changed {
		s.difference(d)
	}
}

// difference prints what changed in a line or two.
func (s *screen) difference(d approval.Difference) {
	before, after := orNone(d.Before), orNone(d.After)
	switch {
	case d.Kind != approval.OfNumber:
		what := string(d.Kind)
		if d.Name != what {
			what += " " + d.Name
		}
		fmt.Fprintf(s.out, "  %s: %s → %s\n", what, before, after)
		return
	case d.Over != nil && d.Over.At != "" && d.Over.Before == d.Before && d.Over.After == d.After:
		fmt.Fprintf(s.out, "  %s at %s: %s → %s\n", d.Name, d.Over.At, before, after)
	default:
		fmt.Fprintf(s.out, "  %s: %s → %s\n", d.Name, before, after)
		if d.Over != nil && d.Over.At != "" {
			fmt.Fprintf(s.out, "    most at %s: %s → %s\n", d.Over.At, d.Over.Before, d.Over.After)
		}
	}
	if d.Over != nil {
		fmt.Fprintf(s.out, "    in %s of %s\n", grouped(d.Over.Moved), counted(d.Over.Cases, "case", "cases"))
	}
	if because := d.Because(); because != "" {
		fmt.Fprintf(s.out, "    because %s\n", because)
	}
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// approved says what was recorded.
func (s *screen) approved(p *approve.Proposal, list source.List, at string, written bool) error {
	r := p.Record
	if s.json {
		changed := p.Changed
		if changed == nil {
			changed = []approval.Difference{}
		}
		before := 0
		if p.Before != nil {
			before = p.Before.Revision
		}
		s.object(map[string]any{"diagnostics": s.machine(withoutUnrecorded(list)), "page": r.Page, "number": r.Number, "revision": r.Revision, "by": r.By,
			"before": before, "changed": changed, "record": at, "written": written})
		return nil
	}
	s.diagnostics(withoutUnrecorded(list))
	if !written {
		fmt.Fprintf(s.out, "%s revision %d is already approved as it is: %s\n", r.Number, r.Revision, at)
		return nil
	}
	fmt.Fprintf(s.out, "%s %s revision %d by the %s: %s in %s\n", paint(s.out, green, "Approved"), r.Number, r.Revision, r.By, counted(len(r.Numbers), "number", "numbers"), at)
	return nil
}

// withoutUnrecorded leaves out the report that there was no record before this one.
func withoutUnrecorded(list source.List) source.List {
	code := source.Unrecorded("", 0, "", "").Code
	var out source.List
	for _, d := range list {
		if d.Code != code {
			out = append(out, d)
		}
	}
	return out
}
