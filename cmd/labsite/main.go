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
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"labsite/recipes/source"
)

// Exit statuses.
const (
	good     = 0
	wrong    = 1 // something is wrong in the pages, or the work was stopped
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
	s := &screen{out: stdout, err: stderr}
	root := newRoot(s)
	root.SetArgs(withNegative(args))
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.ExecuteContext(ctx)
	if s.unwritten != nil {
		fmt.Fprintf(stderr, "labsite: the object could not be written: %s\n", s.unwritten)
		if err == nil {
			return wrong
		}
	}
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
	if s.json {
		s.object(map[string]any{"diagnostics": []any{}, "error": err.Error()})
	}
	fmt.Fprintf(stderr, "labsite: %s\n", err)
	return wrongUse
}

// withNegative lets `convert "-5 °C" °F` be written without the two hyphens that say that
// no more flags follow: no flag begins with a digit.
func withNegative(args []string) []string {
	if len(args) == 0 || args[0] != "convert" || slices.Contains(args, "--") {
		return args
	}
	var flags, rest []string
	for _, a := range args[1:] {
		if len(a) > 1 && a[0] == '-' && (a[1] < '0' || a[1] > '9') {
			flags = append(flags, a)
		} else {
			rest = append(rest, a)
		}
	}
	return slices.Concat(args[:1], flags, []string{"--"}, rest)
}

// broken says what is wrong in a page, for a command that gives one answer only.
func (s *screen) broken(err error) error {
	if s.json {
		s.object(map[string]any{"diagnostics": []any{}, "error": err.Error()})
	}
	fmt.Fprintf(s.err, "labsite: %s\n", err)
	return failed{wrong}
}

// version is that of the module, or the revision that the command was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of an unknown revision"
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		return v + ", " + info.GoVersion
	}
	revision, changed := "an unknown revision", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			revision = "revision " + s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", changed since"
		}
	}
	return "of " + revision + changed + ", " + info.GoVersion
}

// noWords is for commands that work on a whole folder: a word behind them is most likely
// the folder, or a page of it.
func noWords(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	word := args[0]
	if info, err := os.Stat(word); err == nil && info.IsDir() {
		return fmt.Errorf("%s names its folder by a flag; write %s --from %s", cmd.CommandPath(), cmd.CommandPath(), quoted(word))
	}
	if strings.HasSuffix(word, ".md") {
		return fmt.Errorf("%s works on a whole folder, which --from names; labsite figure %s works one page out", cmd.CommandPath(), quoted(word))
	}
	return fmt.Errorf("%s takes no %q; %s --from %s if that is the folder, and %s --help lists the flags", cmd.CommandPath(), word, cmd.CommandPath(), quoted(word), cmd.CommandPath())
}

// flagNames finds the names in a list of flags.
var flagNames = regexp.MustCompile(`(?m)^ .*?--([a-z]+)`)

func newRoot(s *screen) *cobra.Command {
	root := &cobra.Command{
		Use:   "labsite",
		Short: "Publish a film lab's pages with computed and tested numbers",
		Long: `Labsite reads a folder of Markdown pages whose front matter holds given values,
formulas, limits and checks. It works every number out, tests it, and publishes a
site that shows computed numbers with their cautions, or says why there is none.

  labsite begin content             lay down a small lab to begin with
  labsite check                     test every number and say what was tested
  labsite publish                   the same, then write the site to public/
  labsite proof                     show the pages in a browser while they are written
  labsite page guide "Stop bath"    start a page from a pattern that holds
  labsite figure PAGE tank="600 ml" work one page out at the bench
  labsite formula mixing            find a bench formula, or work one out

Exit status: 0 all is well, 1 something is wrong in the pages, or the work was
stopped, 2 wrong use.`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			var names []string
			for _, c := range cmd.Commands() {
				names = append(names, c.Name())
			}
			if near := source.Nearest(args[0], names); near != "" {
				return fmt.Errorf("there is no command %s; did you mean %s?", args[0], near)
			}
			return fmt.Errorf("there is no command %s; labsite --help lists them", args[0])
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return cmd.Help()
		},
	}
	root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	root.PersistentFlags().BoolVar(&s.json, "json", false, "print one JSON object for machines")
	root.CompletionOptions.HiddenDefaultCmd = false
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		wrong, is := strings.CutPrefix(err.Error(), "unknown flag: --")
		if !is {
			return err
		}
		var names []string
		for _, m := range flagNames.FindAllStringSubmatch(cmd.LocalFlags().FlagUsages()+cmd.InheritedFlags().FlagUsages(), -1) {
			names = append(names, m[1])
		}
		if near := source.Nearest(wrong, names); near != "" {
			return fmt.Errorf("there is no flag --%s; did you mean --%s?", wrong, near)
		}
		return fmt.Errorf("there is no flag --%s; %s --help lists them", wrong, cmd.CommandPath())
	})
	root.AddCommand(publishCommand(s), checkCommand(s), figureCommand(s), unitsCommand(s), convertCommand(s), proofCommand(s), formulaCommand(s),
		beginCommand(s), pageCommand(s))
	return root
}
