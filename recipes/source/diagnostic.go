package source

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// Severity tells how serious a diagnostic is.
type Severity string

const (
	// Error stops a build.
	Error Severity = "error"
	// Report is shown and stops nothing, unless the caller asks for a firm check.
	Report Severity = "report"
	// Advice is shown to the writer of a page, and stops nothing, however firm the check.
	Advice Severity = "advice"
)

// Problem is what is wrong and how to put it right, without a place. The functions
// of wording*.go make them; At gives one its place.
type Problem struct {
	Code     string
	Severity Severity
	Message  string
	Hint     string
	// Repairs are the texts that the hint offers in place of the marked one, one a line; "" if it
	// offers none, or if replacing the text is not enough.
	Repairs string

	related string // see Also
}

// offering adds texts that may replace the marked one.
func (p Problem) offering(repairs ...string) Problem {
	for _, r := range repairs {
		if r == "" || strings.Contains(r, "\n") {
			continue
		}
		if p.Repairs != "" {
			p.Repairs += "\n"
		}
		p.Repairs += r
	}
	return p
}

// At places the problem at a span.
func (p Problem) At(s Span) Diagnostic {
	d := Diagnostic{Severity: p.Severity, Code: p.Code, Message: p.Message, Hint: p.Hint, Repairs: p.Repairs, related: p.related}
	if s.File == nil {
		return d
	}
	d.File = s.File.Path
	d.Line, d.Column = s.File.Place(s.Start)
	d.text = s.File.Line(d.Line)
	first, _, _ := strings.Cut(s.Text(), "\n")
	d.width = max(1, utf8.RuneCountInString(first))
	return d
}

// AtFile places the problem on a whole file or folder, by its path alone.
func (p Problem) AtFile(path string) Diagnostic {
	return Diagnostic{File: path, Line: 1, Column: 1, Severity: p.Severity, Code: p.Code, Message: p.Message, Hint: p.Hint, related: p.related}
}

// Diagnostic is one thing to tell the writer of a page. Lines and columns count
// from 1, columns in characters; the file is relative to the content folder.
type Diagnostic struct {
	File     string   `json:"file"`
	Line     int      `json:"line"`
	Column   int      `json:"column"`
	Severity Severity `json:"severity"`
	Code     string   `json:"code"`
	Message  string   `json:"message"`
	Hint     string   `json:"hint"`
	Repairs  string   `json:"-"` // see Problem

	text    string
	width   int
	related string
	others  int // how many others this one stands for; see Bounded
}

// Excerpt is the line that the diagnostic is about and a line of the same
// length or shorter that marks the place; both are empty if there is none.
// Tabs are shown as arrows, so that they can be seen and the mark lines up.
func (d Diagnostic) Excerpt() (line, mark string) {
	if d.text == "" {
		return "", ""
	}
	const widest = 160
	length := utf8.RuneCountInString(d.text)
	start := min(d.Column-1, length)
	end := min(start+max(1, d.width), max(length, start+1))
	from := 0
	if length > widest {
		from = max(0, min(start-widest/3, length-widest))
	}
	runes := window(d.text, from, widest)
	for i, r := range runes {
		switch {
		case r == '\t':
			runes[i] = '→'
		case r < ' ':
			runes[i] = ' '
		}
	}
	start, end = start-from, min(end-from, max(len(runes), start-from+1))
	return string(runes), strings.Repeat(" ", start) + strings.Repeat("^", max(1, end-start))
}

// window gives at most so many characters of a text, starting at the given one.
func window(text string, from, most int) []rune {
	out := make([]rune, 0, most)
	for _, r := range text {
		if from--; from >= 0 {
			continue
		}
		if out = append(out, r); len(out) == most {
			break
		}
	}
	return out
}

// Marked is the line that the diagnostic is about, as written, and how many of its
// characters are marked from the column on; "" and 0 if it is about a whole file.
func (d Diagnostic) Marked() (text string, width int) { return d.text, d.width }

// Restored puts back what Kept gave.
func (d Diagnostic) Restored(text string, width int, related string) Diagnostic {
	d.text, d.width, d.related = text, width, related
	return d
}

// List is a set of diagnostics.
type List []Diagnostic

// Errors counts those that stop a build, including those that Bounded left out.
func (l List) Errors() int {
	n := 0
	for _, d := range l {
		if d.Severity == Error {
			n += max(1, d.others)
		}
	}
	return n
}

// Sorted gives the list by file, line, column and code, without duplicates.
func (l List) Sorted() List {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b Diagnostic) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	return slices.Compact(out)
}

// Firm gives the list with every report made an error; advice stays advice.
func (l List) Firm() List {
	out := slices.Clone(l)
	for i := range out {
		if out[i].Severity == Report {
			out[i].Severity = Error
		}
	}
	return out
}

// String is the diagnostic as a terminal shows it, without colour.
func (d Diagnostic) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d:%d: %s: %s\n", d.File, d.Line, d.Column, d.Severity, d.Message)
	if line, mark := d.Excerpt(); line != "" {
		number := fmt.Sprint(d.Line)
		fmt.Fprintf(&b, "  %s | %s\n  %s | %s\n", number, line, strings.Repeat(" ", len(number)), mark)
	}
	if d.Hint != "" {
		fmt.Fprintf(&b, "  %s\n", strings.ReplaceAll(d.Hint, "\n", "\n  "))
	}
	return b.String()
}
