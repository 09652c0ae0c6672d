package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"labsite/recipes/source"
)

// valueWord names the annotation of a flag that holds the word for its value.
const valueWord = "labsite-value-word"

// takes sets what help calls the value of a flag.
func takes(c *cobra.Command, flag, word string) {
	if err := c.Flags().SetAnnotation(flag, valueWord, []string{word}); err != nil {
		panic(err) // cannot happen: the flag has just been declared
	}
}

// dirFlag declares a flag that names a folder.
func dirFlag(c *cobra.Command, dir *string, name, otherwise, use string) {
	c.Flags().StringVar(dir, name, otherwise, use)
	c.MarkFlagDirname(name)
	takes(c, name, "DIR")
}

// pagesFlag declares --from, the content folder.
func pagesFlag(c *cobra.Command, dir *string) { fromFlag(c, dir, "take the pages from DIR") }

// fromFlag declares --from with its use. If it is left out, findLab sets it.
func fromFlag(c *cobra.Command, dir *string, use string) {
	dirFlag(c, dir, "from", "content", use)
	c.Flags().Lookup("from").DefValue = "the nearest lab"
}

// audienceFlag declares --audience.
func audienceFlag(c *cobra.Command, audience *string, otherwise, use string) {
	c.Flags().StringVar(audience, "audience", otherwise, use)
	c.RegisterFlagCompletionFunc("audience", cobra.FixedCompletions([]string{"customers", "staff"}, cobra.ShellCompDirectiveNoFileComp))
	takes(c, "audience", "WHO")
}

// freshFlag declares --fresh.
func freshFlag(c *cobra.Command, fresh *bool) {
	c.Flags().BoolVar(fresh, "fresh", false, "work everything out again, without using what earlier runs kept")
}

// onFlag declares --on.
func onFlag(c *cobra.Command, on *string) {
	c.Flags().StringVar(on, "on", "", "work as of DATE, such as 2026-11-28, instead of today")
	takes(c, "on", "DATE")
}

// renamedFlags maps former names of flags to their present ones.
var renamedFlags = map[string]string{"strict": "firm"}

// wrongFlag says what is wrong with a flag and what to write instead.
func wrongFlag(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var noValue *pflag.ValueRequiredError
	var badValue *pflag.InvalidValueError
	var badSyntax *pflag.InvalidSyntaxError
	switch {
	case errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() != "":
		return fmt.Errorf("there is no flag -%s; flags begin with two hyphens, and %s --help lists them", unknown.GetSpecifiedShortnames(), c.CommandPath())
	case errors.As(err, &unknown):
		return noFlag(c, unknown.GetSpecifiedName())
	case errors.As(err, &noValue):
		return fmt.Errorf("--%s needs a value; write %s", noValue.GetFlag().Name, asTyped(noValue.GetFlag()))
	case errors.As(err, &badValue):
		f := badValue.GetFlag()
		if f.Value.Type() == "bool" {
			return fmt.Errorf("--%s takes no value; write it alone", f.Name)
		}
		return fmt.Errorf("--%s=%s is not understood; write %s", f.Name, badValue.GetValue(), asTyped(f))
	case errors.As(err, &badSyntax):
		return fmt.Errorf("%s is not a flag; %s --help lists them", badSyntax.GetSpecifiedFlag(), c.CommandPath())
	}
	return err
}

func noFlag(c *cobra.Command, wrong string) error {
	var names []string
	for _, f := range flagsOf(c) {
		names = append(names, f.Name)
	}
	if now := renamedFlags[wrong]; c.Flags().Lookup(now) != nil {
		return fmt.Errorf("--%s is called --%s now", wrong, now)
	}
	if near := source.Nearest(wrong, names); near != "" {
		return fmt.Errorf("there is no flag --%s; did you mean --%s?", wrong, near)
	}
	return fmt.Errorf("there is no flag --%s; %s --help lists them", wrong, c.CommandPath())
}
