package guard

import (
	"cmp"
	"context"
	"slices"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Report is how well a page is guarded.
type Report struct {
	// Tried counts the changes. Noticed made a check fail. Equal changed nothing that the page
	// shows in any case, so that there is nothing to notice.
	Tried, Noticed, Equal int
	// Unnoticed lists the others, in the order of their places.
	Unnoticed []Finding
	// Outcomes gives the place and the result of every change, in the order of the page's parts.
	Outcomes []Outcome
}

// Outcome is what came of one change. Equal says that there was nothing to notice.
type Outcome struct {
	Span           source.Span
	Noticed, Equal bool
}

// Finding is a change that no check notices.
type Finding struct {
	// What says the change in a sentence.
	What string
	// Check would notice it: lines of YAML for the page's checks, without the source, which is
	// for a person to say. It is "" if no check can tell.
	Check string
	Span  source.Span
}

// Counted is how many changes matter, of which Noticed are noticed.
func (r Report) Counted() int { return r.Tried - r.Equal }

// Short reports whether less than a share of the changes that matter are noticed.
func (r Report) Short(share float64) bool {
	return r.Counted() > 0 && float64(r.Noticed) < share*float64(r.Counted())
}

// Sheet tries changes of a page on its checks. The page must have resolved and proved without an
// error. It is changed while this runs and restored at the end, so nothing else may use it
// meanwhile; pages that it draws on are only read. If ctx ends, ok is false and the report means
// nothing.
func Sheet(ctx context.Context, s *page.Sheet) (r Report, ok bool) {
	changes := changesOf(s)
	if len(changes) == 0 {
		return r, ctx.Err() == nil
	}
	t := newTrial(ctx, s)
	for _, c := range changes {
		if ctx.Err() != nil {
			return Report{}, false
		}
		undo, applies := c.apply()
		if !applies {
			continue
		}
		r.Tried++
		found := t.try()
		r.Outcomes = append(r.Outcomes, Outcome{c.span, found.noticed, !found.noticed && !found.matters})
		switch {
		case found.noticed:
			r.Noticed++
		case !found.matters:
			r.Equal++
		default:
			r.Unnoticed = append(r.Unnoticed, Finding{c.what, t.suggest(found, undo, c.apply), c.span})
			continue // suggest has undone it
		}
		undo()
	}
	slices.SortStableFunc(r.Unnoticed, func(a, b Finding) int { return cmp.Compare(a.Span.Start, b.Span.Start) })
	return r, ctx.Err() == nil
}
