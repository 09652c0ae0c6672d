package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// shells are the shells for which there is a completion script.
var shells = []string{"bash", "fish", "powershell", "zsh"}

func completionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "completion " + strings.Join(shells, "|"),
		Short: "Print a script that lets a shell complete commands, pages and values",
		Long: `Completion prints a script for a shell, which then completes commands, flags, pages,
given values and bench formulas at the Tab key. Have the shell read it at startup;
the examples load it into the current shell.`,
		Example: `  source <(labsite completion bash)
  source <(labsite completion zsh)
  labsite completion fish | source
  labsite completion powershell | Out-String | Invoke-Expression`,
		ValidArgs: shells,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 || !slices.Contains(shells, args[0]) {
				return fmt.Errorf("name a shell, one of %s: labsite completion bash", strings.Join(shells, ", "))
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			return completion(c.Root(), args[0], c.OutOrStdout())
		},
	}
}

func completion(root *cobra.Command, shell string, w io.Writer) error {
	switch shell {
	case "bash":
		return root.GenBashCompletionV2(w, true)
	case "fish":
		return root.GenFishCompletion(w, true)
	case "powershell":
		return root.GenPowerShellCompletionWithDesc(w)
	default:
		return root.GenZshCompletion(w)
	}
}
