package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// Help is laid out like a form of the lab: the title of each part is in the margin, and the part
// beside it. The order is that of a reader's questions: what does it do, what do I write, what may
// I add, show me one; then the rest, in sentences.

// margin is the width of the margin, line the greatest width of a line.
const (
	margin = 10
	line   = 88
)

// help prints how a command is used.
func help(w io.Writer, c *cobra.Command) {
	fmt.Fprintln(w, paint(w, bold, c.CommandPath()))
	fmt.Fprintln(w)
	printPart(w, "To", []string{strings.ToLower(c.Short[:1]) + c.Short[1:] + "."})
	printPart(w, "Write", wrapped(synopsis(c), "  "))
	var rows [][2]string
	for _, f := range flagsOf(c) {
		rows = append(rows, [2]string{asTyped(f), f.Usage + leftOut(f)})
	}
	printPart(w, "With", twoColumns(rows))
	rows = nil
	for _, sub := range c.Commands() {
		if sub.IsAvailableCommand() {
			rows = append(rows, [2]string{sub.Name(), sub.Short})
		}
	}
	printPart(w, "Commands", twoColumns(rows))
	var examples []string
	for _, e := range strings.Split(c.Example, "\n") {
		if e = strings.TrimSpace(e); e != "" {
			examples = append(examples, e)
		}
	}
	printPart(w, "Such as", examples)
	if c.Long != "" {
		fmt.Fprintf(w, "%s\n", c.Long)
	}
}

// printPart prints a part with its title in the margin; nothing if the part is empty.
func printPart(w io.Writer, word string, lines []string) {
	if len(lines) == 0 {
		return
	}
	for i, text := range lines {
		if i > 0 {
			word = ""
		}
		fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("%-*s%s", margin, word, text), " "))
	}
	fmt.Fprintln(w)
}

// synopsis lists the parts of a command line, in their order.
func synopsis(c *cobra.Command) []string {
	parts := []string{c.CommandPath()}
	if c.HasAvailableSubCommands() {
		parts = append(parts, "COMMAND …")
	}
	if _, words, ok := strings.Cut(c.Use, " "); ok {
		parts = append(parts, words)
	}
	for _, f := range flagsOf(c) {
		if f.Name != "help" {
			parts = append(parts, "["+asTyped(f)+"]")
		}
	}
	return parts
}

// wrapped joins parts into lines, later ones indented.
func wrapped(parts []string, indent string) []string {
	lines := []string{parts[0]}
	for _, p := range parts[1:] {
		last := &lines[len(lines)-1]
		if utf8.RuneCountInString(*last)+1+utf8.RuneCountInString(p) > line-margin {
			lines = append(lines, indent+p)
			continue
		}
		*last += " " + p
	}
	return lines
}

// flagsOf lists the flags of a command, its own first.
func flagsOf(c *cobra.Command) []*pflag.Flag {
	var flags []*pflag.Flag
	add := func(f *pflag.Flag) {
		if !f.Hidden && !slices.Contains(flags, f) {
			flags = append(flags, f)
		}
	}
	c.LocalNonPersistentFlags().VisitAll(add)
	c.Root().PersistentFlags().VisitAll(add)
	return flags
}

// asTyped is a flag with the word for its value, such as "--from DIR".
func asTyped(f *pflag.Flag) string {
	text := "--" + f.Name
	if words := f.Annotations[valueWord]; len(words) > 0 {
		text += " " + words[0]
	}
	return text
}

// leftOut says what applies if a flag is left out, unless that is nothing.
func leftOut(f *pflag.Flag) string {
	switch f.DefValue {
	case "", "false", ".":
		return ""
	}
	return "; if left out, " + f.DefValue
}

func twoColumns(rows [][2]string) []string {
	width := 0
	for _, r := range rows {
		width = max(width, utf8.RuneCountInString(r[0]))
	}
	var lines []string
	for _, r := range rows {
		lines = append(lines, r[0]+strings.Repeat(" ", width-utf8.RuneCountInString(r[0])+3)+r[1])
	}
	return lines
}

// helpCommand answers `labsite help check`, for those who type that word first.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "help [NAME]",
		Short:   "Show how to use a command",
		Example: "  labsite help check",
		ValidArgsFunction: func(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return commandNames(c.Root()), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return c.Root().Help()
			}
			found, rest, err := c.Root().Find(args)
			if err != nil || found == c.Root() || len(rest) > 0 {
				return noCommand(c.Root(), args[0])
			}
			return found.Help()
		},
	}
}
