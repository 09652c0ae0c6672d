package write

import (
	"strconv"

	"labsite/recipes/prove"
	"labsite/recipes/source"
	"labsite/render/theme"
	"labsite/render/work"
)

// LiveScript is where the preview serves a script that only its own pages load.
const LiveScript = "/proof/live.js"

// live makes a page one of the preview, which may ask what has changed.
func (s *Site) live(v *theme.Shell) {
	v.Policy = theme.PreviewPolicy
	v.Scripts = append([]string{LiveScript}, v.Scripts...)
	v.Preview = "Worked out from the files as they are now."
}

// marks, in the preview, adds to the marks of a text's placements where each was written, so that
// a click on a number can ask how it came about. from is the From of that Ask.
func (s *Site) marks(mark func(work.Bound) string, from string) func(work.Bound) string {
	if !s.Preview {
		return mark
	}
	return func(b work.Bound) string {
		place := writtenAt(b.At.FormulaSpan)
		if place == "" {
			return mark(b)
		}
		out := mark(b) + ` data-written="` + place + `"`
		if from != "" {
			out += ` data-drawn="` + from + `"`
		}
		return out
	}
}

// marksElsewhere is marks for a text of a page drawn on.
func (p *pager) marksElsewhere(run *prove.Case) func(work.Bound) string {
	mark := markElsewhere(p.page.Script, p.filler.run, run)
	part := p.filler.run.PartOf(run)
	if part == nil {
		return mark
	}
	return p.marks(mark, strconv.Itoa(part.Base))
}

// writtenAt writes where a span begins as line:column.
func writtenAt(span source.Span) string {
	if span.File == nil {
		return ""
	}
	line, column := span.File.Place(span.Start)
	return strconv.Itoa(line) + ":" + strconv.Itoa(column)
}
