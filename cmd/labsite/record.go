package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	form "labsite/recipes/record"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/record"
	"labsite/render/regular"
)

func recordCommand(s *screen) *cobra.Command {
	var from, by, note string
	var list bool
	c := &cobra.Command{
		Use:   "record PAGE reading=value …",
		Short: "Keep what was done at the bench",
		Long: `Record adds records to the file that a page keeps (keeps: in its front matter): one
that you type, with settings and readings by name, or JSON files with one record each.
Each is worked out again by the page at the record's own revision, and must agree with
it, lie within its ranges and be new. Either all are added or none; an error says which
record failed and why. A hold without initials leaves a record unfinished: it is kept as
such, and the finished one replaces it.`,
		Example: `  labsite record hand-line-check density="1.24" --by KM
  labsite record run-2026-11-28.json
  labsite record --list hand-line-check`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return errors.New("name a page with its readings, or files: labsite record PAGE reading=value …, labsite record FILE…")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			s.from = from
			switch {
			case list && len(args) > 1:
				return errors.New("one page at a time: labsite record --list PAGE")
			case list:
				return s.recordsOf(cmd.Context(), args[0])
			case areFiles(args):
				if by != "" || note != "" {
					return errors.New("--by and --note are for a typed record; a file has its own")
				}
				return s.recordFiles(cmd.Context(), args)
			}
			return s.recordTyped(cmd.Context(), args, by, note)
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
			names, _ := completeFigure(cmd, args, begun)
			return names, cobra.ShellCompDirectiveDefault // files as well
		},
	}
	pagesFlag(c, &from)
	c.Flags().StringVar(&by, "by", "", "initials of the person who did it, and of its holds")
	takes(c, "by", "INITIALS")
	c.Flags().StringVar(&note, "note", "", "a note on the record")
	takes(c, "note", "TEXT")
	c.Flags().BoolVar(&list, "list", false, "list the records of a page")
	return c
}

// areFiles reports whether arguments are files that run sheets saved. A device may share a record as
// text, which whoever receives it saves under any name.
func areFiles(args []string) bool {
	for _, a := range args {
		if strings.Contains(a, "=") {
			continue
		}
		if end := strings.ToLower(a); strings.HasSuffix(end, ".json") || strings.HasSuffix(end, ".txt") {
			return true
		}
	}
	return false
}

// toRecord opens the folder to record something.
func (s *screen) toRecord(ctx context.Context) (*build.Site, error) {
	day, err := dayOf("")
	if err != nil {
		return nil, err
	}
	var st *build.Site
	var list source.List
	if err := whileWanted(ctx, func() { st, list = record.Open(ctx, s.from, day) }); err != nil {
		return nil, err
	}
	if st == nil {
		return nil, s.refused(list, "")
	}
	return st, nil
}

func (s *screen) recordFiles(ctx context.Context, names []string) error {
	st, err := s.toRecord(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	var entries []*record.Entry
	var list source.List
	v := record.NewVerifier(st)
	for _, name := range names {
		at := name
		if rel, err := filepath.Rel(s.from, name); err == nil {
			at = filepath.ToSlash(rel)
		}
		raw, err := regular.ReadFile(name, form.MostBytes)
		if err != nil {
			list = append(list, s.unreadRecord(at, err))
			continue
		}
		file, said := source.New(at, raw)
		r, more := form.Read(file, time.Now())
		if list = append(append(list, said...), more...); r == nil || said.Errors() > 0 {
			continue
		}
		var e *record.Entry
		if err := whileWanted(ctx, func() { e, more = v.Verify(r, false) }); err != nil {
			return err
		}
		list = append(list, more...)
		if e != nil {
			entries = append(entries, e)
		}
	}
	return s.keep(ctx, entries, list)
}

func (s *screen) unreadRecord(at string, err error) source.Diagnostic {
	var large *regular.TooLarge
	if errors.As(err, &large) {
		return source.RecordTooLarge(form.MostBytes).AtFile(at)
	}
	return regular.Problem(at, err).AtFile(at)
}

func (s *screen) recordTyped(ctx context.Context, args []string, by, note string) error {
	st, err := s.toRecord(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	p, err := s.pageNamed(st, args[0])
	if err != nil {
		return err
	}
	if len([]rune(by)) > form.MostInitials {
		return fmt.Errorf("initials have at most %d characters", form.MostInitials)
	}
	now := time.Now().Truncate(time.Millisecond)
	said := now.Format("2006-01-02T15:04:05.000Z07:00")
	r := &form.Record{Page: form.Text{Value: strings.TrimSuffix(p.Path, ".md")}, Made: form.Moment{Time: now, Text: form.Text{Value: said}},
		By: form.Text{Value: strings.Join(strings.Fields(by), " ")}, Note: form.Text{Value: strings.Join(strings.Fields(note), " ")}}
	if p.Head != nil && p.Head.Control != nil {
		r.Number.Value, r.Revision = p.Head.Control.Number, p.Head.Control.Revision
	}
	for _, arg := range args[1:] {
		name, value, ok := strings.Cut(arg, "=")
		if !ok {
			return fmt.Errorf("%q is not a reading; write reading=value, such as density=1.24", arg)
		}
		r.Readings = append(r.Readings, form.Named{Name: strings.TrimSpace(name), Text: form.Text{Value: value}})
	}
	var e *record.Entry
	var list source.List
	if err := whileWanted(ctx, func() { e, list = record.NewVerifier(st).Verify(r, true) }); err != nil {
		return err
	}
	for i := range list {
		if list[i].File == "" { // what was typed is in no file, so name the page
			list[i].File, list[i].Line, list[i].Column = p.Path, 1, 1
		}
	}
	var entries []*record.Entry
	if e != nil {
		entries = append(entries, e)
	}
	return s.keep(ctx, entries, list)
}

// keep adds the entries to their files, unless there is an error.
func (s *screen) keep(ctx context.Context, entries []*record.Entry, list source.List) error {
	if list.Errors() == 0 {
		said, err := record.Write(ctx, s.from, entries)
		if err != nil {
			return s.broken(fmt.Errorf("nothing was recorded: %w", err))
		}
		list = append(list, said...)
	}
	if list.Errors() > 0 {
		if s.json {
			s.object(map[string]any{"diagnostics": s.machine(list), "recorded": []any{}})
			return failed{wrong}
		}
		s.diagnostics(list)
		fmt.Fprintf(s.err, "%s; nothing was recorded.\n", paint(s.err, red, counted(list.Errors(), "error", "errors")))
		return failed{wrong}
	}
	if s.json {
		s.object(map[string]any{"diagnostics": s.machine(list), "recorded": entries})
		return nil
	}
	s.diagnostics(list)
	for _, e := range entries {
		word := "Recorded"
		if e.Finished {
			word = "Finished"
		}
		fmt.Fprintf(s.out, "%s %s of %s in %s:%d\n", paint(s.out, green, word), e.Made, e.Page, e.File, e.Line)
		for _, open := range e.Open {
			fmt.Fprintf(s.out, "  unfinished: %s\n", source.Visible(open))
		}
	}
	return nil
}

// recordsOf lists the records of a page.
func (s *screen) recordsOf(ctx context.Context, name string) error {
	st, err := s.toRecord(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	p, err := s.pageNamed(st, name)
	if err != nil {
		return err
	}
	var found *record.Listing
	var list source.List
	if err := whileWanted(ctx, func() { found, list = record.List(st, p) }); err != nil {
		return err
	}
	if found == nil {
		return s.refused(list, "")
	}
	if s.json {
		s.object(map[string]any{"diagnostics": s.machine(list), "page": found.Page, "file": found.File, "records": found.Records, "unfinished": found.Unfinished})
		return nil
	}
	if len(found.Records) == 0 {
		fmt.Fprintf(s.out, "%s keeps its records in %s, and there are none.\n", found.Page, found.File)
		return nil
	}
	fmt.Fprintf(s.out, "%s in %s\n", counted(len(found.Records), "record", "records"), found.File)
	for _, r := range found.Records {
		var parts []string
		for _, column := range found.Columns[1:] {
			if r[column] != record.Nothing {
				parts = append(parts, column+" "+source.Visible(r[column]))
			}
		}
		fmt.Fprintf(s.out, "  %s  %s\n", source.Visible(r[found.Columns[0]]), strings.Join(parts, ", "))
	}
	if found.Unfinished > 0 {
		fmt.Fprintf(s.out, "%s unfinished\n", counted(found.Unfinished, "is", "are"))
	}
	return nil
}
