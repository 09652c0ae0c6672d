package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"github.com/spf13/cobra"
	"golang.org/x/text/unicode/norm"

	"labsite/content"
	"labsite/recipes/source"
)

func pageCommand(s *screen) *cobra.Command {
	var from, in string
	c := &cobra.Command{
		Use:   "page PATTERN TITLE",
		Short: "Start a page from a working pattern",
		Long: `Page writes a new page into the content folder, from one of these patterns:

` + patternList() + `
The file is named after the title, and so is a data file that comes with it. The page
works as it is, so you see its numbers while you put your own in their place. It goes into
the folder that you are in, if that is one of the lab's, else to the top of the lab.

It never overwrites a file.`,
		Example: "  labsite page guide \"Mixing a stop bath\"\n  labsite page procedure \"Closing the dark room\" --in printing",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return errors.New(`say what to start and its title: labsite page guide "Mixing a stop bath"`)
			}
			return nil
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return patternNames(), cobra.ShellCompDirectiveNoFileComp
			}
			return nil, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if !cmd.Flags().Changed("in") && !cmd.Flags().Changed("from") {
				in = currentFolder(from)
			}
			return s.startPage(args[0], args[1], from, in)
		},
	}
	pagesFlag(c, &from)
	c.Flags().StringVar(&in, "in", ".", "put the new page into DIR, a folder among the pages")
	takes(c, "in", "DIR")
	return c
}

// startPage writes a page from a pattern into a folder of the lab.
func (s *screen) startPage(pattern, title, from, in string) error {
	if names := patternNames(); !slices.Contains(names, pattern) {
		if near := source.Nearest(pattern, names); near != "" {
			return fmt.Errorf("there is no pattern %s; did you mean %s?", pattern, near)
		}
		return fmt.Errorf("there is no pattern %s; there are %s", pattern, strings.Join(names, ", "))
	}
	name := fileName(title)
	switch {
	case name == "":
		return fmt.Errorf("the title %q has no letter a–z or digit to name a file by", title)
	case name == "index":
		return errors.New("index.md is the page of its whole folder; choose another title")
	}
	within := path.Clean(filepath.ToSlash(in))
	if !filepath.IsLocal(filepath.FromSlash(within)) {
		return fmt.Errorf("--in %s leads out of the content folder", in)
	}
	if info, err := os.Stat(from); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no folder %s; labsite begin %s makes one", from, quoted(from))
	}
	files := map[string][]byte{}
	for file, raw := range content.New(pattern, name, yamlText(strings.Join(strings.Fields(title), " "))) {
		files[path.Join(within, file)] = raw
	}
	_, err := s.writeAndList(from, files, nil)
	return err
}

func patternNames() (out []string) {
	for _, p := range content.Patterns() {
		out = append(out, p.Name)
	}
	return out
}

// patternList lists the patterns, one to a line.
func patternList() string {
	var rows [][2]string
	for _, p := range content.Patterns() {
		rows = append(rows, [2]string{"  " + p.Name, p.Says})
	}
	return strings.Join(twoColumns(rows), "\n") + "\n"
}

// currentFolder is the current folder relative to the lab, "." if it is not in one.
func currentFolder(lab string) string {
	here, err := os.Getwd()
	if err != nil {
		return "."
	}
	top, err := filepath.Abs(lab)
	if err != nil {
		return "."
	}
	if rel, err := filepath.Rel(top, here); err == nil && filepath.IsLocal(rel) {
		return rel
	}
	return "."
}

// fileName turns a title into the name of a file: lower-case letters and digits, without accents,
// joined by hyphens; "" if nothing is left.
func fileName(title string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(lone.Replace(strings.ToLower(title))) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		case unicode.Is(unicode.Mn, r) || r == '\'' || r == '’': // an accent, an apostrophe: the word goes on
		default:
			gap = true
		}
		if b.Len() >= 80 {
			break
		}
	}
	if device.MatchString(b.String()) {
		return b.String() + "-page"
	}
	return b.String()
}

var (
	// letters that do not decompose into a letter and an accent
	lone = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "ø", "o", "ł", "l", "đ", "d", "þ", "th", "ð", "d")
	// names that Windows reserves for devices
	device = regexp.MustCompile(`^(con|prn|aux|nul|com[0-9]|lpt[0-9])$`)
)

// plainTitle matches titles that need no quotes in YAML.
var plainTitle = regexp.MustCompile(`^[A-Z][a-z]*( [A-Za-z]+)+$`)

// yamlText writes a title as a YAML value, quoted if need be: a JSON string is a YAML string too.
func yamlText(title string) []byte {
	if plainTitle.MatchString(title) {
		return []byte(title)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.Encode(title)
	return bytes.TrimSpace(b.Bytes())
}
