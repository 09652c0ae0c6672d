package page

import (
	"strings"

	"labsite/recipes/hazard"
	"labsite/recipes/source"
)

// SignalWords are the signal words of ANSI Z535.6, the gravest first.
var SignalWords = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}

func (d *decoder) cautions(v *value) {
	if v = d.mapping(v, "cautions"); v == nil {
		return
	}
	for i, k := range v.Keys {
		item := v.Items[i]
		if !d.claim(k) {
			continue
		}
		switch item.Shape {
		case mapping:
			c := d.ownCaution(item, k.Span)
			c.Name, c.Span = k.Text, k.Span
			d.sheet.Cautions = append(d.sheet.Cautions, c)
		case scalar:
			name := d.text(item, "a caution")
			c, ok := standing(name, item)
			if !ok {
				_, _, near := hazard.StandingCaution(name)
				d.report(source.UnknownCaution(name, near), item.Span)
				continue
			}
			c.Name, c.Span = k.Text, k.Span
			d.sheet.Cautions = append(d.sheet.Cautions, c)
		default:
			d.report(source.WantsShape("a caution", "a signal word and a text, such as {word: WARNING, text: Wear gloves.}, or the name of a standing caution"), k.Span)
		}
	}
}

// ownCaution reads a word and a text.
func (d *decoder) ownCaution(item *value, at source.Span) Caution {
	d.known(item, underFront("cautions", "x"))
	c := Caution{Span: at}
	if w := d.required(item, "word", "word: WARNING", at); w != nil {
		c.Word = d.text(w, "word")
		d.signalWord(c.Word, w)
	}
	if t := d.required(item, "text", "text: and what to do", at); t != nil {
		d.text(t, "text")
		c.Text = prose(t)
	}
	return c
}

// standing finds a standing caution by its name.
func standing(name string, v *value) (Caution, bool) {
	c, ok, _ := hazard.StandingCaution(name)
	if !ok {
		return Caution{}, false
	}
	return Caution{Word: c.Word, Span: v.Span, Text: Prose{Text: c.Text, Place: func(int, int) source.Span { return v.Span }}}, true
}

func (d *decoder) signalWord(word string, at *value) {
	for _, w := range SignalWords {
		if w == word {
			return
		}
	}
	if word != "" {
		d.report(source.NotOneOf("a signal word", word, SignalWords), at.Span)
	}
}

// AllCautions lists the cautions of the pages drawn on, near and far: each once, but one that
// places something once for each set of values, since its amounts may differ.
func (s *Sheet) AllCautions() []UsedCaution {
	var out []UsedCaution
	seen := map[*Sheet]bool{}
	for _, p := range s.Parts() {
		for i, c := range p.Sheet.Cautions {
			if !seen[p.Sheet] || strings.Contains(c.Text.Text, "{") {
				out = append(out, UsedCaution{Sheet: p.Sheet, Index: i, From: p.Use, Part: p})
			}
		}
		seen[p.Sheet] = true
	}
	return out
}

// UsedCaution is a caution of a page drawn on.
type UsedCaution struct {
	Sheet *Sheet
	Index int
	From  *Use
	Part  *Part // the page drawn on, in the drawing page's frame
}

// Caution is the caution itself.
func (u UsedCaution) Caution() Caution { return u.Sheet.Cautions[u.Index] }
