package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"unicode"

	"github.com/spf13/cobra"
	"golang.org/x/text/unicode/norm"

	"labsite/content"
	"labsite/recipes/source"
)

func pageCommand(s *screen) *cobra.Command {
	var from, in string
	kinds := []string{"guide", "procedure"}
	c := &cobra.Command{
		Use:   "page guide|procedure TITLE",
		Short: "Start a page from a pattern that holds",
		Long: `Page writes a new page into the content folder: a guide for customers, or a procedure
for staff with its steps. The file is named by the title. The page holds as it is, so
that you see its numbers while you put your own in their place.

It never writes over a file.`,
		Example: "  labsite page guide \"Mixing a stop bath\"\n  labsite page procedure \"Closing the dark room\" --in printing",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return errors.New(`say what to start and its title: labsite page guide "Mixing a stop bath"`)
			}
			return nil
		},
		ValidArgsFunction: func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return kinds, cobra.ShellCompDirectiveNoFileComp
			}
			return nil, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			kind, title := args[0], strings.Join(strings.Fields(args[1]), " ")
			raw, err := fs.ReadFile(content.Pages(), kind+".md")
			if err != nil || strings.ContainsAny(kind, "./") {
				if near := source.Nearest(kind, kinds); near != "" {
					return fmt.Errorf("there is no pattern %s; did you mean %s?", kind, near)
				}
				return fmt.Errorf("there is no pattern %s; there are guide and procedure", kind)
			}
			name := fileName(title)
			switch {
			case name == "":
				return fmt.Errorf("the title %q has no letter a–z or digit to name a file by", args[1])
			case name == "index":
				return errors.New("index.md is the page of its whole folder; choose another title")
			}
			within := path.Clean(filepath.ToSlash(in))
			if !filepath.IsLocal(filepath.FromSlash(within)) {
				return fmt.Errorf("--in %s leads out of the content folder", in)
			}
			if info, err := os.Stat(from); err != nil || !info.IsDir() {
				return fmt.Errorf("there is no folder %s; labsite begin %s lays one down", from, quoted(from))
			}
			raw = bytes.Replace(raw, []byte("TITLE"), yamlText(title), 1)
			written, err := lay(from, map[string][]byte{path.Join(within, name+".md"): raw})
			if err != nil {
				return s.unlaid(err)
			}
			if s.json {
				s.object(map[string]any{"diagnostics": []any{}, "written": written})
				return nil
			}
			fmt.Fprintln(s.out, written[0])
			return nil
		},
	}
	c.Flags().StringVar(&from, "from", "content", "folder of pages")
	c.Flags().StringVar(&in, "in", ".", "folder in it, for the new page")
	c.MarkFlagDirname("from")
	return c
}

// fileName is a title as the name of a file: small letters and digits, without accents,
// joined by hyphens; "" where none is left.
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
	// letters that are no base letter with an accent
	lone = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "ø", "o", "ł", "l", "đ", "d", "þ", "th", "ð", "d")
	// names that Windows keeps for devices
	device = regexp.MustCompile(`^(con|prn|aux|nul|com[0-9]|lpt[0-9])$`)
)

// plainTitle tells titles that YAML reads as they stand.
var plainTitle = regexp.MustCompile(`^[A-Z][a-z]*( [A-Za-z]+)+$`)

// yamlText writes a title as a value of YAML, in quotes where it needs them: a string of
// JSON is one of YAML.
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
