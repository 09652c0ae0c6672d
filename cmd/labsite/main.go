// Labsite turns a film lab's Markdown pages, whose front matter holds formulas, into a
// published site with computed and tested numbers.
//
// This package is the command: it reads arguments, calls the packages that do the work,
// and is the only one that prints or exits.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"
)

// Exit statuses.
const (
	good     = 0
	wrong    = 1 // something is wrong in the pages
	wrongUse = 2 // the command was used wrongly
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}

// failed carries an exit status whose reason was already printed.
type failed struct{ status int }

func (f failed) Error() string { return fmt.Sprint("exit status ", f.status) }

// run is the whole command; tests call it as main does.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	root := newRoot(&screen{out: stdout, err: stderr})
	root.SetArgs(args)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	var f failed
	switch {
	case err == nil:
		return good
	case errors.As(err, &f):
		return f.status
	case ctx.Err() != nil:
		fmt.Fprintln(stderr, "labsite: stopped; nothing was changed")
		return wrong
	}
	fmt.Fprintf(stderr, "labsite: %s\n", err)
	return wrongUse
}

func newRoot(s *screen) *cobra.Command {
	root := &cobra.Command{
		Use:   "labsite",
		Short: "Publish a film lab's pages with computed and tested numbers",
		Long: `Labsite reads a folder of Markdown pages whose front matter holds given values,
formulas, limits and checks. It works every number out, tests it, and publishes a
site that shows computed numbers with their cautions, or says why there is none.

  labsite check                     test every number and say what was tested
  labsite publish                   the same, then write the site to public/
  labsite figure PAGE tank="600 ml" work one page out at the bench

Exit status: 0 all is well, 1 something is wrong in the pages, 2 wrong use.`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			return cmd.Help()
		},
	}
	root.PersistentFlags().BoolVar(&s.json, "json", false, "print one JSON object for machines")
	root.CompletionOptions.HiddenDefaultCmd = false
	root.AddCommand(publishCommand(s), checkCommand(s), figureCommand(s), unitsCommand(s), convertCommand(s))
	return root
}
