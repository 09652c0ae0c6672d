package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/source"
	"labsite/render/language"
)

func whereCommand(s *screen) *cobra.Command {
	var from string
	c := &cobra.Command{
		Use:   "where NAME",
		Short: "Tell which pages use a figure, a given value, a substance, a file",
		Long: `Where lists every place that names something, with file, line and column: a given value
or a figure of a page, also on the pages that draw on it; a caution, a table, a chart; a
column of a data file; a page or another file; a bench formula or a function; a substance.
If a name means several things, each is listed separately, with the place that defines it
first.

To say which page or data file you mean, put it before the name with a dot, or the name by
which a page calls it. Nothing is worked out, so this works even while pages have errors.`,
		Example: "  labsite where concentrate\n  labsite where one-shot-developer.concentrate\n  labsite where film-times.csv\n  labsite where \"acetic acid\"",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 || strings.TrimSpace(args[0]) == "" {
				return errors.New("say what to look for, one name: labsite where concentrate")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			st, err := s.openFor(cmd.Context(), from, "")
			if err != nil {
				return err
			}
			defer st.Close()
			name := strings.TrimSpace(args[0])
			var out language.Search
			if err := whileWanted(cmd.Context(), func() { out = language.Where(st.Content, name) }); err != nil {
				return err
			}
			if len(out.Found) == 0 {
				s.unread(out.Unread)
				if out.Near != "" {
					return fmt.Errorf("nothing in %s is called %s; did you mean %s?", from, name, out.Near)
				}
				return fmt.Errorf("nothing in %s is called %s", from, name)
			}
			if s.json {
				s.object(map[string]any{"diagnostics": []any{}, "name": name, "found": s.machineFound(out.Found), "unread": asList(out.Unread)})
				return nil
			}
			for i, f := range out.Found {
				if i > 0 {
					fmt.Fprintln(s.out)
				}
				s.where(f)
			}
			s.unread(out.Unread)
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveNoFileComp
		},
	}
	pagesFlag(c, &from)
	return c
}

// where prints one thing with its places, each line once, at the first column.
func (s *screen) where(f language.Found) {
	head := paint(s.out, bold, source.Visible(f.Name)) + ", " + f.What
	if f.Of != "" {
		head += " of " + source.Visible(f.Of)
	}
	if len(f.Places) == 0 {
		head += ", used nowhere"
	}
	fmt.Fprintln(s.out, head)
	last := ""
	for _, p := range f.Places {
		line, column := p.File.Place(p.Start)
		at := fmt.Sprintf("%s:%d:", filepath.Join(s.from, filepath.FromSlash(p.File.Path)), line)
		if at != last {
			fmt.Fprintf(s.out, "  %s%d: %s\n", at, column, hidden(strings.TrimSpace(p.File.Line(line))))
		}
		last = at
	}
}

// unread lists the pages that were not searched.
func (s *screen) unread(pages []string) {
	if len(pages) > 0 && !s.json {
		fmt.Fprintf(s.err, "Not searched, since their front matter cannot be read: %s.\n", source.Visible(strings.Join(pages, ", ")))
	}
}

// foundThing and foundPlace are language.Found and language.Place in JSON.
type foundThing struct {
	Name   string       `json:"name"`
	What   string       `json:"what"`
	Of     string       `json:"of"`
	Places []foundPlace `json:"places"`
}

type foundPlace struct {
	File   string `json:"file"`
	Path   string `json:"path"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Gives  bool   `json:"gives"`
	Text   string `json:"text"`
}

func (s *screen) machineFound(all []language.Found) []foundThing {
	out := []foundThing{}
	for _, f := range all {
		x := foundThing{f.Name, f.What, f.Of, []foundPlace{}}
		for _, p := range f.Places {
			line, column := p.File.Place(p.Start)
			text := p.File.Line(line)
			if len(text) > longestLine {
				text = ""
			}
			full := filepath.ToSlash(filepath.Join(s.from, filepath.FromSlash(p.File.Path)))
			x.Places = append(x.Places, foundPlace{p.File.Path, full, line, column, p.Declares, text})
		}
		out = append(out, x)
	}
	return out
}
