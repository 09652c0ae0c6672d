package language

import (
	"regexp"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/work"
)

// mostRepairs bounds the repairs that are offered for one diagnostic.
const mostRepairs = 5

// codeAction offers the repairs that the messages at a place suggest. Each is tried on a copy of
// the text first, so that none makes matters worse.
func (s *server) codeAction(p rangeParams) (any, error) {
	out := []codeAction{}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil {
		return out, nil
	}
	f, _ := source.New(d.path, []byte(d.text))
	list, known := s.site.PageDiagnostics(d.path)
	if !known {
		list = s.site.Diagnostics()
	}
	for _, x := range list {
		at := rangeOfDiagnostic(x)
		if x.File != d.path || !touches(at, p.Range) {
			continue
		}
		repairs := repairsOf(f, x)
		for _, r := range repairs {
			mended := false
			s.site.Look(func(c *content.Content, _ *work.Desk) { mended = mends(f, x, r, c) })
			if mended {
				out = append(out, codeAction{Title: "Write " + r.with, Kind: "quickfix", Diagnostics: []diagnostic{s.addressed(s.diagnostic(x))},
					IsPreferred: len(repairs) == 1,
					Edit:        workspaceEdit{map[string][]textEdit{d.uri: {{rangeOf(f, r.start, r.end), r.with}}}}})
			}
		}
	}
	return out, nil
}

func touches(a, b textRange) bool {
	before := func(x, y position) bool { return x.Line < y.Line || x.Line == y.Line && x.Character < y.Character }
	return !before(a.End, b.Start) && !before(b.End, a.Start)
}

// repair is a text to write in place of a part of a file.
type repair struct {
	start, end int
	with       string
}

// repairsOf lists the repairs that a diagnostic offers.
func repairsOf(f *source.File, x source.Diagnostic) (out []repair) {
	text, width := x.Marked()
	if text == "" || x.Line > f.Lines() || f.Line(x.Line) != text {
		return nil // it is about another state of the file
	}
	first := f.Offset(x.Line)
	start := first + byRunes(text, x.Column-1)
	end := start + byRunes(f.Text[start:first+len(text)], width)
	switch x.Code {
	case source.QuoteForYAML("").Code, source.CutShort("").Code:
		return quoted(text, first)
	}
	marked := f.Text[start:end]
	for with := range strings.SplitSeq(x.Repairs, "\n") {
		if x.Code == source.UnknownColumn("", "", "").Code && !strings.Contains(marked, ".") {
			_, with, _ = strings.Cut(with, ".")
		}
		if _, column, dotted := strings.Cut(marked, "."); dotted && with != "" && x.Code == source.UnknownData("", "").Code {
			with += "." + column // the repair is a data file's name, and the marked part goes on to a column
		}
		if x.Code == source.UnknownUnit("").Code { // these repairs repeat the number
			with = with[strings.LastIndexByte(with, ' ')+1:]
		}
		if with != "" && with != marked && len(out) < mostRepairs {
			out = append(out, repair{start, end, with})
		}
	}
	if near := source.Nearest(marked, words(out)); near != "" {
		slices.SortStableFunc(out, func(a, b repair) int { return -compareBool(a.with == near, b.with == near) })
	}
	return out
}

func words(all []repair) (out []string) {
	for _, r := range all {
		out = append(out, r.with)
	}
	return out
}

// keyed matches a line with a key, perhaps after dashes, and a value.
var keyed = regexp.MustCompile(`^\s*(?:- )*[^\s:#'"{\[]+:\s+(\S.*?)\s*$`)

// quoted puts double quotes around the value of a line's key.
func quoted(line string, first int) []repair {
	m := keyed.FindStringSubmatchIndex(line)
	if m == nil {
		return nil
	}
	value := line[m[2]:m[3]]
	if value[0] == '"' || value[0] == '\'' {
		return nil
	}
	return []repair{{first + m[2], first + m[3], `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value) + `"`}}
}

// mends reports whether a repair removes the error it is offered for and adds none. It decodes the
// front matter but infers no kinds; for an error that only shows then, it must just add none.
func mends(f *source.File, x source.Diagnostic, r repair, files page.Library) bool {
	if !strings.HasSuffix(f.Path, ".md") {
		return true
	}
	_, before := page.Decode(f, files)
	after, _ := source.New(f.Path, []byte(f.Text[:r.start]+r.with+f.Text[r.end:]))
	_, left := page.Decode(after, files)
	if slices.Contains(before, x) {
		return left.Errors() < before.Errors()
	}
	return left.Errors() <= before.Errors()
}
