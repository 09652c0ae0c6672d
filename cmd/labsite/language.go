package main

import (
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"

	"labsite/render/language"
)

func languageCommand(s *screen) *cobra.Command {
	var from, on string
	c := &cobra.Command{
		Use:   "language-server",
		Short: "Help an editor while pages are written",
		Long: `Language-server is started by an editor, not by hand. It speaks the Language Server
Protocol 3.17 over standard input and output: it reports mistakes as you type, and
completes, explains, finds and renames what a page names. It reads only the content
folder and writes nothing.

Without --from it uses the lab that the editor has open: the folder itself, the nearest
one above it with a labsite.yaml or pages, or content inside it.`,
		Example: "  labsite language-server\n  labsite language-server --from lab/pages",
		Args:    noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if s.json {
				return errors.New("language-server speaks only the Language Server Protocol; leave --json out")
			}
			day, err := dayOf(on)
			if err != nil {
				return err
			}
			opt := language.Options{Version: version(), Find: nearestLab, Now: func() time.Time { return day }}
			if cmd.Flags().Changed("from") {
				opt.Dir = from
			}
			if err := language.Serve(cmd.Context(), os.Stdin, s.out, opt); err != nil && cmd.Context().Err() == nil {
				return s.broken(fmt.Errorf("the session has ended: %w", err))
			}
			return nil
		},
	}
	onFlag(c, &on)
	pagesFlag(c, &from)
	return c
}
