package sheet

import "labsite/recipes/source"

// SignalWords are the signal words of ANSI Z535.6, the gravest first.
var SignalWords = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}

func (d *decoder) cautions(v *value) {
	if v = d.mapping(v, "cautions"); v == nil {
		return
	}
	for i, k := range v.keys {
		item := v.items[i]
		if !d.claim(k) {
			continue
		}
		if item.shape != mapping {
			d.report(source.WantsShape("a caution", "a signal word and a text, such as {word: WARNING, text: Wear gloves.}"), item.span)
			continue
		}
		d.known(item, []string{"word", "text"})
		c := Caution{Name: k.text, Span: k.span}
		if w := d.required(item, "word", "word: WARNING", k.span); w != nil {
			c.Word = d.text(w, "word")
			d.signalWord(c.Word, w)
		}
		if t := d.required(item, "text", "text: and what to do", k.span); t != nil {
			d.text(t, "text")
			c.Text = prose(t)
		}
		d.sheet.Cautions = append(d.sheet.Cautions, c)
	}
}

func (d *decoder) signalWord(word string, at *value) {
	for _, w := range SignalWords {
		if w == word {
			return
		}
	}
	if word != "" {
		d.report(source.NotOneOf("a signal word", word, SignalWords), at.span)
	}
}
