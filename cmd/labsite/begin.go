package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"labsite/content"
	"labsite/recipes/source"
	"labsite/render/shelf"
)

// newLab is the name of a lab that gives none.
const newLab = "A new lab"

func beginCommand(s *screen) *cobra.Command {
	var does []string
	var name string
	c := &cobra.Command{
		Use:   "begin DIR",
		Short: "Start a new lab: pages for what it does, or a small one to try",
		Long: `Begin asks what the lab does and what it is called, or takes both from --does and --name,
and writes the pages for it. Every page is a draft. Its numbers are those of an invented
lab, marked "not yet measured here", and labsite check lists them: a page cannot be
approved until the lab has measured its values.

What a lab may do: ` + strings.Join(shelf.Names(), ", ") + `, or all.
Without an answer it writes three pages of an invented lab that pass as they are: a
front page, a guide whose numbers follow what a reader sets, and a procedure.

It never overwrites a file: if there is anything in DIR, it writes nothing.`,
		Example: "  labsite begin content\n  labsite begin ~/our-lab --does film,enlarging --name \"Our Lab\"",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("name one folder to write into: labsite begin content")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := empty(args[0]); err != nil {
				return err
			}
			if !cmd.Flags().Changed("does") && !s.json {
				does, name = s.asked(cmd.InOrStdin(), name)
			}
			does, err := trades(does)
			if err != nil {
				return err
			}
			if len(does) == 0 {
				return s.beginSmall(args[0])
			}
			return s.beginShelf(args[0], does, name)
		},
	}
	c.Flags().StringSliceVar(&does, "does", nil, "what the lab does: "+strings.Join(shelf.Names(), ", ")+", or all")
	c.RegisterFlagCompletionFunc("does", cobra.FixedCompletions(append(shelf.Names(), "all"), cobra.ShellCompDirectiveNoFileComp))
	takes(c, "does", "WORK")
	c.Flags().StringVar(&name, "name", "", "what the lab is called")
	takes(c, "name", "NAME")
	return c
}

// empty refuses a folder that holds anything except hidden files, such as those of version control.
func empty(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil // it does not exist yet; if it cannot be made, that is reported later
	}
	entries = slices.DeleteFunc(entries, func(e os.DirEntry) bool { return strings.HasPrefix(e.Name(), ".") })
	if len(entries) == 0 {
		return nil
	}
	more := ""
	if n := len(entries) - 1; n > 0 {
		more = " and " + counted(n, "more", "more")
	}
	return fmt.Errorf("%s is not empty: it holds %s%s; nothing was written. Name a new folder", quoted(dir), entries[0].Name(), more)
}

// asked asks what the lab does and what it is called. An empty answer counts.
func (s *screen) asked(in io.Reader, name string) ([]string, string) {
	fmt.Fprintln(s.err, "What does the lab do? List what fits, separated by commas, or all; nothing for three pages to try.")
	width := 0
	for _, t := range shelf.Trades {
		width = max(width, len(t.Name))
	}
	for _, t := range shelf.Trades {
		fmt.Fprintf(s.err, "  %-*s  %s\n", width, t.Name, t.Says)
	}
	lines := bufio.NewReader(io.LimitReader(in, 1<<12))
	ask := func(what string) string {
		fmt.Fprint(s.err, what+": ")
		line, _ := lines.ReadString('\n')
		return strings.TrimSpace(line)
	}
	does := strings.FieldsFunc(ask("The lab does"), func(r rune) bool { return r == ',' || r == ' ' })
	if len(does) > 0 && name == "" {
		name = ask("The lab is called")
	}
	return does, name
}

// trades lists the trades that were named, each once, in the order of the shelf.
func trades(named []string) ([]string, error) {
	all := shelf.Names()
	var wrong []string
	var does []string
	for _, n := range named {
		switch n = strings.ToLower(strings.TrimSpace(n)); {
		case n == "all":
			does = all
		case slices.Contains(all, n):
			does = append(slices.Clip(does), n)
		case n == "":
		default:
			near := ""
			if x := source.Nearest(n, append(slices.Clip(all), "all")); x != "" {
				near = ", did you mean " + x + "?"
			}
			wrong = append(wrong, quoted(n)+near)
		}
	}
	if len(wrong) > 0 {
		return nil, fmt.Errorf("the shelf has no pages for %s; it has them for %s, or all", strings.Join(wrong, "; "), strings.Join(all, ", "))
	}
	return slices.DeleteFunc(slices.Clone(all), func(n string) bool { return !slices.Contains(does, n) }), nil
}

// beginSmall writes three pages that pass as they are.
func (s *screen) beginSmall(dir string) error {
	files, err := read(content.Lab())
	if err != nil {
		return s.broken(err)
	}
	written, err := s.writeAndList(dir, files, nil)
	if err != nil || s.json {
		return err
	}
	fmt.Fprintf(s.out, "A lab to start with, %s. Preview its pages as you write with\n\n  labsite proof%s\n", counted(len(written), "file", "files"), fromTyped(dir))
	return nil
}

// beginShelf writes the pages for what a lab does.
func (s *screen) beginShelf(dir string, does []string, name string) error {
	if name = strings.Join(strings.Fields(name), " "); name == "" {
		name = newLab
	}
	taken, list, err := shelf.Take(content.Shelf(), does, name)
	if err != nil {
		return s.broken(err)
	}
	if list.Errors() > 0 {
		return s.refused(list, "")
	}
	settings, err := read(content.Lab())
	if err != nil {
		return s.broken(err)
	}
	title := yamlText(name)
	taken.Files["labsite.yaml"] = bytes.Replace(settings["labsite.yaml"], []byte("name: "+newLab), append([]byte("name: "), title...), 1)
	taken.Files["index.md"] = bytes.Replace(content.Front(), []byte("TITLE"), title, 1)
	if _, err := s.writeAndList(dir, taken.Files, map[string]any{"does": does, "pages": taken.Pages, "to_measure": taken.Marks}); err != nil || s.json {
		return err
	}
	from := fromTyped(dir)
	fmt.Fprintf(s.out, "%s, all drafts, with %s marked as not yet measured here. See what to measure, and look at the pages, with\n\n  labsite check%s\n  labsite proof%s\n",
		counted(taken.Pages, "page", "pages"), counted(taken.Marks, "place", "places"), from, from)
	return nil
}

// fromTyped is the flag that names the folder to another command; "" for the usual one.
func fromTyped(dir string) string {
	if filepath.Clean(dir) == "content" {
		return ""
	}
	return " --from " + quoted(dir)
}

// quoted is a path as one can type it into a shell.
func quoted(p string) string {
	if strings.ContainsAny(p, " '\"$&();<>|*?[]#~`\\!") {
		return "'" + strings.ReplaceAll(p, "'", `'\''`) + "'"
	}
	return p
}
