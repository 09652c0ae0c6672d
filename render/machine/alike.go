package machine

import (
	_ "embed"
	"slices"
	"strings"

	"labsite/recipes/page"
)

// alikeText lists words that mean one thing, one group to a line.
//
//go:embed alike.txt
var alikeText string

// builtIn are the groups of alikeText.
var builtIn = readAlike(alikeText)

func readAlike(text string) (groups [][]string) {
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		var group []string
		for word := range strings.SplitSeq(line, ",") {
			group = append(group, strings.TrimSpace(word))
		}
		groups = append(groups, group)
	}
	return groups
}

// Alike are the groups of words that mean one thing on a lab's site: those of the trade, and the
// lab's own.
func Alike(s *page.Settings) [][]string { return slices.Concat(builtIn, s.Alike) }
