package theme

import "html/template"

// Caution is a safety message in the form of ANSI Z535.6: a word that ranks the danger, in a bar of its
// colour, and the message below it. The data of cautions.html is a list of them.
//
// A theme may change how it looks, but not leave it out: what the template makes must contain the word
// and the text.
type Caution struct {
	Name string        // makes its anchor, Caution-NAME, so each name only once on a page; empty: no anchor
	Word string        // "DANGER", "WARNING", "CAUTION" or "NOTICE"
	Text template.HTML // hazard, consequence and how to avoid it
	From *Link         // the page drawn on that it comes from; nil: this page
	// Above is where the whole message stands further up on the page, "#Caution-gloves"; Text is
	// then only its first words. Empty: this is the whole message.
	Above string
}

// Alert reports whether the word has the safety alert triangle, which warns of injury; NOTICE does not.
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

// Limit is something that the page says when a condition holds. The data of limits.html is a list of
// those that hold.
type Limit struct {
	Kind string // "notice", "caution", "warning" or "refused"
	Text template.HTML
	From *Link // the page drawn on that it comes from; nil: this page
}

// Word stands before the text, for readers who do not see the colour.
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
