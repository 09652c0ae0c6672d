package record

import (
	"fmt"
	"strconv"
	"strings"

	"labsite/render/content"
)

// Unfinished replaces the initials in the row of a run that was not finished.
const Unfinished = "unfinished"

// Nothing fills a cell for which there is nothing to say, since no cell is empty.
const Nothing = "-"

func wrongCount(done, wants int) string {
	return fmt.Sprintf("the record has %d steps and the page has %d", done, wants)
}

func orNobody(text string) string {
	if text == "" {
		return "nobody"
	}
	return text
}

// entry makes the row of a record that agrees.
func (x *verifying) entry(shown map[string]string) *Entry {
	sheet, r := x.full.Sheet, x.record
	e := &Entry{Page: x.name, File: content.Outside(sheet.Keeps.Path), Made: r.Made.Value, Open: r.Open(), at: r.At, made: r.Made.Time}
	held := false
	for _, s := range sheet.Steps {
		held = held || s.Hold != ""
	}
	by := strings.Join(r.Initials(), ", ")
	if held && len(r.Steps) == 0 && by == "" {
		open := "nobody initialled its holds"
		if x.typed {
			open += "; say who did: --by"
		}
		e.Open = append(e.Open, open)
	}
	switch {
	case len(e.Open) > 0:
		by = Unfinished
	case by == "":
		by = Nothing
	}
	note := r.Note.Value
	if note == "" {
		note = Nothing
	}
	for _, k := range sheet.KeptColumns() {
		e.heads = append(e.heads, k.Head())
		cell := ""
		switch {
		case k.Given != nil:
			cell = x.run.ShownGiven(k.Given).Machine()
		case k.Figure != nil:
			cell = shown[k.Name]
		case k.Name == "made":
			cell = r.Made.Value
		case k.Name == "revision":
			cell = strconv.Itoa(r.Revision)
		case k.Name == "by":
			cell = by
		default:
			cell = note
		}
		e.cells = append(e.cells, cell)
	}
	if e.Open == nil {
		e.Open = []string{}
	}
	return e
}
