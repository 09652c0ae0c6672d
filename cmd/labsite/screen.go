package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/term"

	"labsite/recipes/source"
)

// screen prints for people, in colour if the terminal wants it, or in JSON.
type screen struct {
	out, err io.Writer
	json     bool
	// from is the content folder, so that paths can be printed relative to the current folder.
	from string
	// progress, if a test sets it, is called instead of the bar.
	progress func(done, total int)
	// unwritten is why the JSON object was not written whole; nil if it was.
	unwritten error
}

func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// colours reports whether a writer gets colour: a terminal, and NO_COLOR not set.
func colours(w io.Writer) bool {
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && terminal(w)
}

const (
	red    = "31"
	yellow = "33"
	green  = "32"
	bold   = "1"
	faint  = "2"
)

func paint(w io.Writer, code, text string) string {
	if !colours(w) {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

// diagnostics prints a list to the error output, each with its line, its mark and how to fix it.
func (s *screen) diagnostics(list source.List) {
	for _, d := range list {
		d.File, d.Message, d.Hint = source.Visible(d.File), source.Visible(d.Message), source.Visible(d.Hint)
		colour := red
		if d.Severity == source.Report {
			colour = yellow
		}
		fmt.Fprintf(s.err, "%s %s\n", paint(s.err, bold, fmt.Sprintf("%s:%d:%d:", s.path(d), d.Line, d.Column)),
			paint(s.err, colour, string(d.Severity)+": ")+d.Message)
		if line, mark := d.Excerpt(); line != "" {
			line = hidden(line)
			n := fmt.Sprint(d.Line)
			fmt.Fprintf(s.err, "  %s | %s\n  %s | %s\n", n, line, strings.Repeat(" ", len(n)), paint(s.err, colour, mark))
		}
		if d.Hint != "" {
			fmt.Fprintf(s.err, "  %s\n", strings.ReplaceAll(d.Hint, "\n", "\n  "))
		}
		fmt.Fprintln(s.err)
	}
}

// hidden replaces each control character by one of a single column, so that the mark below stays
// under its place.
func hidden(line string) string {
	return strings.Map(func(r rune) rune {
		if s := string(r); source.Visible(s) != s {
			return '\ufffd'
		}
		return r
	}, line)
}

// object prints one JSON object. If that fails, run says so and the command fails: a program must
// not take half an object, or none, for an answer.
func (s *screen) object(v any) {
	e := json.NewEncoder(s.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		s.unwritten = err
	}
}

// path is a diagnostic's file, relative to the current folder.
func (s *screen) path(d source.Diagnostic) string {
	if s.from == "" || d.File == s.from || filepath.IsAbs(d.File) {
		return d.File
	}
	return filepath.Join(s.from, filepath.FromSlash(d.File))
}

// reported is a diagnostic in JSON: its file is relative to the content folder, its path to the
// current one; then come its line and how many characters of it are marked. A line longer than
// longestLine is left out, since many mistakes in it would repeat it.
type reported struct {
	source.Diagnostic
	Path  string `json:"path"`
	Text  string `json:"text"`
	Width int    `json:"width"`
}

// longestLine is how many bytes a line in JSON may have.
const longestLine = 4 << 10

// machine is a list in JSON, empty rather than null.
func (s *screen) machine(list source.List) []reported {
	out := []reported{}
	for _, d := range list {
		text, width := d.Marked()
		if len(text) > longestLine {
			text, width = "", 0
		}
		out = append(out, reported{d, filepath.ToSlash(s.path(d)), text, width})
	}
	return out
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return grouped(n) + " " + many
}

// grouped is a whole number with commas between thousands.
func grouped(n int) string {
	text := fmt.Sprint(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}
