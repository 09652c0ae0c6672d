package source

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Related is another place that a diagnostic is about: the first of two keys, a member of a
// cycle. Lines and columns count from 1, columns in characters.
type Related struct {
	File string
	// Line is 0 if the file is a page and the place is where it draws on the page Draws.
	Line, Column int
	Width        int // characters; 0 for the rest of the line
	Says, Draws  string
}

// Also adds another place that the problem is about, and says in a few words what is there. A
// place without a file is left out.
func (p Problem) Also(at Span, says string) Problem {
	if at.File == nil {
		return p
	}
	r := Related{File: at.File.Path, Says: says}
	r.Line, r.Column = at.File.Place(at.Start)
	first, _, _ := strings.Cut(at.Text(), "\n")
	r.Width = max(1, utf8.RuneCountInString(first))
	return p.relating(r)
}

// alsoLine is Also for a whole line of a file.
func (p Problem) alsoLine(file string, line int, says string) Problem {
	if file == "" || line < 1 {
		return p
	}
	return p.relating(Related{File: file, Line: line, Column: 1, Says: says})
}

// mostRelated limits the other places of one problem: a cycle can have thousands of members, and
// an editor looks up each of them.
const mostRelated = 20

// relating adds a place as a line of text, so that problems can still be compared with ==. Those
// beyond mostRelated are left out.
func (p Problem) relating(r Related) Problem {
	fields := []string{r.File, strconv.Itoa(r.Line), strconv.Itoa(r.Column), strconv.Itoa(r.Width), r.Says, r.Draws}
	for _, f := range fields {
		if strings.ContainsAny(f, "\t\n") {
			return p
		}
	}
	if p.related != "" {
		if strings.Count(p.related, "\n")+1 == mostRelated {
			return p
		}
		p.related += "\n"
	}
	p.related += strings.Join(fields, "\t")
	return p
}

// Related lists the other places that a diagnostic is about.
func (d Diagnostic) Related() (out []Related) {
	for line := range strings.SplitSeq(d.related, "\n") {
		f := strings.Split(line, "\t")
		if len(f) != 6 {
			continue
		}
		r := Related{File: f[0], Says: f[4], Draws: f[5]}
		r.Line, _ = strconv.Atoi(f[1])
		r.Column, _ = strconv.Atoi(f[2])
		r.Width, _ = strconv.Atoi(f[3])
		out = append(out, r)
	}
	return out
}

// Kept is what a build's store keeps of a diagnostic besides its exported fields: the line that
// it is about, the width of the mark, and the other places as one text. See Restored.
func (d Diagnostic) Kept() (text string, width int, related string) {
	return d.text, d.width, d.related
}
