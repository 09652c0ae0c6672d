package site

import (
	"strconv"

	"labsite/recipes/sheet"
)

// LiveScript is where the preview serves the script of its own that every page gets there.
const LiveScript = "/proof/live.js"

// live makes a page one of the preview: it may ask what has changed.
func (r *renderer) live(v *Shell) {
	v.Policy = PreviewPolicy
	v.Scripts = append([]string{LiveScript}, v.Scripts...)
	v.Preview = "Worked out from the files as they are now."
}

// marks adds to the marks of a text's placements, in the preview alone, where each was
// written, so that a number there can be asked how it came about. from is written beside it,
// see Ask.
func (r *renderer) marks(mark func(bound) string, from string) func(bound) string {
	if !r.preview {
		return mark
	}
	return func(b bound) string {
		place := writtenAt(b.at.FormulaSpan)
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

// marksElsewhere does the same for a text of a page drawn on.
func (p *pager) marksElsewhere(run *sheet.Case) func(bound) string {
	mark := p.topic.leaf.markElsewhere(p.fill.run, run)
	base, found := baseOf(p.fill.run, run)
	if !found {
		return mark
	}
	return p.marks(mark, strconv.Itoa(base))
}
