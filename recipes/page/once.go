package page

import (
	"slices"
	"strings"
	"unicode/utf8"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// One cause is reported once. What follows from a reported error is read as it was meant,
// if that is clear, and otherwise nothing more is reported about it.

// known reports keys that a mapping may not have. A key that is nearly the name of a missing one
// is read as that one.
func (d *decoder) known(v *value, keys []string) {
	for i, k := range v.Keys {
		if slices.Contains(keys, k.Text) {
			continue
		}
		near := source.Nearest(k.Text, keys)
		d.report(source.UnknownKey(k.Text, near, keys), k.Span)
		if near == "" || v.Get(near) != nil {
			continue
		}
		// read as a key of the page only if its value has that key's shape
		if want := shapeOf(near); want != scalar && &keys[0] == &pageKeys[0] && v.Items[i].Shape != want {
			continue
		}
		if item := v.Items[i]; item.Shape == scalar { // its value may not be meant for that key
			d.owned = append(d.owned, owned{item.Span, source.UnknownKey("", "", nil).Code, nil})
		}
		meant := *k
		meant.Text = near
		v.Keys[i] = &meant
	}
}

// owned is a part of the file with a reported error. Other errors in it that have one of the
// codes, or any code if none are listed, follow from it.
type owned struct {
	span  source.Span
	code  string // the code of the reported error
	codes []string
}

// once leaves out what follows from something that was reported.
func (d *decoder) once(all source.List) source.List {
	if len(d.owned) == 0 {
		return all
	}
	return slices.DeleteFunc(all, func(x source.Diagnostic) bool {
		return slices.ContainsFunc(d.owned, func(o owned) bool {
			return x.Code != o.code && (len(o.codes) == 0 || slices.Contains(o.codes, x.Code)) && o.span.Holds(x)
		})
	})
}

// onceEach keeps only the first of the diagnostics that have the code and the same message.
func onceEach(all source.List, code string) source.List {
	said := map[string]bool{}
	return slices.DeleteFunc(all, func(d source.Diagnostic) bool {
		if d.Code != code {
			return false
		}
		again := said[d.Message]
		said[d.Message] = true
		return again
	})
}

// trouble reports what is wrong with a quantity. For a decimal comma nothing else is reported:
// inside braces YAML takes it for the comma between two items, which is an error of its own.
func (d *decoder) trouble(t *quantity.Trouble, v *value) { d.troubleIn(t, v, v.Text) }

// troubleIn is trouble for a text that is part of the value.
func (d *decoder) troubleIn(t *quantity.Trouble, v *value, text string) {
	start := max(0, strings.Index(v.Text, text))
	at := v.Place(t.Start+start, t.End+start)
	d.report(t.Problem, at)
	if t.Code == source.DecimalComma("").Code {
		d.owned = append(d.owned, owned{at, t.Code, []string{source.QuoteForYAML("").Code}})
	}
}

const (
	openingQuotes = "“„‟”‘‚‛’«»"
	closingQuotes = "“”‟‘’‛«»"
)

// dropQuotes reports typographic quotes around a text and takes them off: to YAML and to formulas
// they are no quotes.
func (d *decoder) dropQuotes(v *value) {
	text := strings.TrimSpace(v.Text)
	open, size := utf8.DecodeRuneInString(text)
	if !strings.ContainsRune(openingQuotes, open) || size == len(text) {
		return
	}
	start := strings.Index(v.Text, text)
	last, width := utf8.DecodeLastRuneInString(text)
	if !strings.ContainsRune(closingQuotes, last) {
		width = 0
	}
	p := source.CurlyQuotes(string(open))
	reported := slices.ContainsFunc(d.list, func(x source.Diagnostic) bool { return x.Code == p.Code && v.Span.Holds(x) })
	if !reported {
		d.report(p, v.Place(start, start+size))
	}
	d.owned = append(d.owned, owned{v.Span, p.Code, nil})
	// each byte of a quote becomes a space, so that all places stay as they are
	v.Text = v.Text[:start] + strings.Repeat(" ", size) + text[size:len(text)-width] + strings.Repeat(" ", width) + v.Text[start+len(text):]
}

// Known reports whether the given was read without an error.
func (g *Given) Known() bool { return !g.unsure }

// excused reports whether a refusal of a value is not to be reported, because the given has an
// error of its own and what it takes is not known.
func (g *Given) excused(t *quantity.Trouble) bool {
	switch t.Code {
	case "given-fixed", "out-of-range", "not-a-choice", "whole-only":
		return g.unsure
	}
	return false
}
