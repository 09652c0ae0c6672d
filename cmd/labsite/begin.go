package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"labsite/content"
)

func beginCommand(s *screen) *cobra.Command {
	return &cobra.Command{
		Use:   "begin DIR",
		Short: "Lay down a small new lab to begin with",
		Long: `Begin writes three pages and the settings of an invented lab into a folder: a front
page, a guide for customers whose numbers follow what a reader sets, and a procedure
for staff. They hold, so that they can be published as they are, and changed.

It never writes over a file: where one of its own names is taken, it writes nothing.`,
		Example: "  labsite begin content\n  labsite begin ~/our-lab",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("name one folder to write into: labsite begin content")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			files, err := read(content.Lab())
			if err != nil {
				return s.broken(err)
			}
			written, err := lay(args[0], files)
			if err != nil {
				return s.unlaid(err)
			}
			if s.json {
				s.object(map[string]any{"diagnostics": []any{}, "written": written})
				return nil
			}
			for _, p := range written {
				fmt.Fprintln(s.out, p)
			}
			from := ""
			if filepath.Clean(args[0]) != "content" {
				from = " --from " + quoted(args[0])
			}
			fmt.Fprintf(s.out, "A lab to begin with, %s. Write beside its pages with\n\n  labsite proof%s\n", counted(len(written), "file", "files"), from)
			return nil
		},
	}
}

// quoted is a path as it can be typed into a shell.
func quoted(p string) string {
	if strings.ContainsAny(p, " '\"$&();<>|*?[]#~`\\!") {
		return "'" + strings.ReplaceAll(p, "'", `'\''`) + "'"
	}
	return p
}
