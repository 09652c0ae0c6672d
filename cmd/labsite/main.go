package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

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
	ctx, stop := untilSignal(os.Exit)
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
		if s.json {
			s.object(map[string]any{"diagnostics": []any{}, "error": "stopped; nothing was changed"})
		}
		fmt.Fprintln(stderr, "labsite: stopped; nothing was changed")
		return wrong
	}
	if s.json {
		s.object(map[string]any{"diagnostics": []any{}, "error": err.Error()})
	}
	fmt.Fprintf(stderr, "labsite: %s\n", source.Visible(err.Error()))
	return wrongUse
}

// withNegative lets `convert "-5 °C" °F` be written without the two hyphens that end the flags,
// since no flag begins with a digit.
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

// broken says why a command that gives one answer has none.
func (s *screen) broken(err error) error {
	if s.json {
		s.object(map[string]any{"diagnostics": []any{}, "error": err.Error()})
	}
	fmt.Fprintf(s.err, "labsite: %s\n", source.Visible(err.Error()))
	return failed{wrong}
}

// noWords is for commands that work on a whole folder: a word after one is most likely the folder,
// or a page of it.
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
	return fmt.Errorf("%s does not take %q; write %s --from %s if that is the folder; %s --help lists the flags", cmd.CommandPath(), word, cmd.CommandPath(), quoted(word), cmd.CommandPath())
}

// Help lists commands in the order in which a lab needs them.
func init() { cobra.EnableCommandSorting = false }

// commandNames lists the commands that people type.
func commandNames(root *cobra.Command) []string {
	var names []string
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	return names
}

func noCommand(root *cobra.Command, name string) error {
	if near := source.Nearest(name, commandNames(root)); near != "" {
		return fmt.Errorf("there is no command %s; did you mean %s?", name, near)
	}
	return fmt.Errorf("there is no command %s; labsite --help lists them", name)
}

func newRoot(s *screen) *cobra.Command {
	root := &cobra.Command{
		Use:   "labsite",
		Short: "Publish a film lab's pages with computed and tested numbers",
		Long: `Labsite reads a folder of Markdown pages whose front matter holds given values,
formulas, limits and checks. It works every number out, tests it, and publishes a
site that shows computed numbers with their cautions, or says why there is none.

Exit status: 0 all is well, 1 something is wrong in the pages, or the work was
stopped, 2 wrong use, 130 ended at once by a second signal.`,
		Example: `labsite begin content
labsite check
labsite publish
labsite proof
labsite page guide "Stop bath"
labsite figure PAGE tank="600 ml"
labsite formula mixing`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return noCommand(cmd, args[0])
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return cmd.Help()
		},
	}
	root.PersistentPreRun = func(c *cobra.Command, _ []string) {
		s.restore()
		findLab(c)
	}
	root.SetVersionTemplate("{{.Name}} {{.Version}}\n")
	root.PersistentFlags().BoolVar(&s.json, "json", false, "print one JSON object for machines")
	root.PersistentFlags().BoolP("help", "h", false, "show this help")
	root.Flags().Bool("version", false, "show what the command was built from")
	root.SetFlagErrorFunc(wrongFlag)
	root.SetHelpFunc(func(c *cobra.Command, _ []string) { help(c.OutOrStdout(), c) })
	root.SetUsageFunc(func(c *cobra.Command) error { help(c.OutOrStderr(), c); return nil })
	root.SetHelpCommand(helpCommand())
	root.AddCommand(beginCommand(s), pageCommand(s), proofCommand(s), checkCommand(s), publishCommand(s), approveCommand(s), historyCommand(s), recordCommand(s),
		figureCommand(s), whereCommand(s), guardCommand(s), seekCommand(s), formulaCommand(s), unitsCommand(s), convertCommand(s), languageCommand(s), schemaCommand(s), completionCommand())
	return root
}
