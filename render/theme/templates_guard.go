package theme

import (
	"html"
	"strings"
)

// pieces are the texts that a hazard block must show: the signal word, the symbols and the statements,
// which must stand above the first number of a card and on a label, or all of it.
func (h Hazards) pieces(all bool) []string {
	p := []string{h.Word}
	for _, g := range h.Pictograms {
		p = append(p, string(g.Drawing))
	}
	for _, s := range h.Statements {
		p = append(p, s.Text)
	}
	if !all {
		return p
	}
	return append(append(append(p, h.beforehand()...), h.afterwards()...), string(h.Notice))
}

// beforehand are the texts, besides those of every label, that a reader must find before the first
// number of a page.
func (h Hazards) beforehand() []string {
	p := append(append([]string{h.AcidIntoWater}, h.Unknown...), h.Bounds...)
	for _, w := range h.Wear {
		for _, s := range w.Says {
			p = append(p, s.Text)
		}
	}
	for _, list := range [][]Clash{h.Meet, h.Order, h.KeepApart} {
		for _, a := range list {
			p = append(p, a.Happens, a.Do)
		}
	}
	return append(p, precautionTexts(h.Beforehand())...)
}

// afterwards are the texts that may follow the work.
func (h Hazards) afterwards() []string {
	p := append(precautionTexts(h.Later()), h.WasteApart)
	for _, w := range h.Waste {
		p = append(p, w.Rule)
	}
	return p
}

func precautionTexts(groups []PrecautionGroup) (out []string) {
	for _, g := range groups {
		for _, s := range g.Statements {
			out = append(out, s.Text)
		}
	}
	return out
}

// missingFrom is the beginning of the first of some texts that is not in a piece of HTML; "" if all
// are there.
func missingFrom(out string, pieces []string) string {
	said := html.UnescapeString(out)
	for _, p := range pieces {
		if !strings.Contains(said, html.UnescapeString(p)) {
			if r := []rune(p); len(r) > 40 {
				p = string(r[:40]) + "…"
			}
			return p
		}
	}
	return ""
}

// inOrder reports whether pieces occur in a piece of HTML in their order.
func inOrder(out string, pieces []string) bool {
	for _, p := range pieces {
		i := strings.Index(out, p)
		if i < 0 {
			return false
		}
		out = out[i+len(p):]
	}
	return true
}

// stepPieces are each step's own safety message and, after it, what to do.
func stepPieces(s Steps) []string {
	var p []string
	for _, row := range s.Rows {
		p = append(p, string(row.Caution), string(row.Do))
	}
	return p
}

// stepPieces are the same for a card, where a step needs only the word of a safety message that stands
// above.
func (c Card) stepPieces() []string {
	var p []string
	for _, row := range c.Steps.Rows {
		message := string(row.Caution)
		if above := c.Above(row); above != nil {
			message = above.Word
		}
		p = append(p, message, string(row.Do))
	}
	return p
}
