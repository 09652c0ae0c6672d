package theme

import "html/template"

// Caution is a safety message in the form of ANSI Z535.6: a word that ranks
// the danger in a bar of its colour, and the message below it. It is an item of
// the data of cautions.html, which is a list of them.
//
// A theme may change how it looks, but not leave it out: what the template
// makes must hold the word and the text.
type Caution struct {
	Name string        // makes its anchor, caution-NAME, so each name once on a page; empty: no anchor
	Word string        // "DANGER", "WARNING", "CAUTION" or "NOTICE"
	Text template.HTML // hazard, consequence and how to avoid it
	From *Link         // the page drawn on that it comes from; nil: this page
	// Above is where the whole message already was on the page, "#Caution-gloves"; Text is then
	// its first words. Empty: this is the whole message.
	Above string
}

// Alert says whether the word has the safety alert triangle: it warns
// of injury, and NOTICE does not.
func (c Caution) Alert() bool { return c.Word != "NOTICE" }

// Class is the word in lower case, for the theme's class names.
func (c Caution) Class() string {
	switch c.Word {
	case "DANGER":
		return "danger"
	case "WARNING":
		return "warning"
	case "CAUTION":
		return "caution"
	}
	return "notice"
}

// Limit is something that the page says when a condition holds. It is an item
// of the data of limits.html, which is a list of them, and only those that hold
// are in it.
type Limit struct {
	Kind string // "notice", "caution", "warning" or "refused"
	Text template.HTML
	From *Link // the page drawn on that it comes from; nil: this page
}

// Word is what is before the text: a reader who sees no colour reads it.
func (l Limit) Word() string {
	switch l.Kind {
	case "refused":
		return "No numbers"
	case "warning":
		return "Warning"
	case "caution":
		return "Caution"
	}
	return "Notice"
}
