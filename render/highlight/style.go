package highlight

import (
	"strings"

	"github.com/alecthomas/chroma/v2"
)

// look is the style of one class of tokens. The colours are browns, greens and plums, as of a toned
// print: red, orange, yellow and blue are left to safety messages.
type look struct {
	class       string
	light, dark string // colours, #rrggbb, each with a contrast of at least 4.5:1 on the grounds of its scheme (WCAG 2.2, 1.4.3)
	more        string // further declarations, which apply in print as well
}

var looks = []look{
	{"code-word", "#6b1d5c", "#e5aed8", "font-weight: 700"},
	{"code-call", "#3f4a12", "#ccd494", ""},
	{"code-value", "#0d5347", "#93d3c3", ""},
	{"code-text", "#6a4210", "#e0bd8c", ""},
	{"code-name", "#3a3350", "#cfc6e6", ""},
	{"code-sign", "#494f53", "#b9b1aa", ""},
	{"code-note", "#54595c", "#b3aaa3", "font-style: italic"},
	{"code-bad", "#5b2150", "#e2b3d6", "text-decoration: underline wavy"},
}

// The backgrounds for which the colours of the two schemes were chosen: the built-in theme's page
// and its blocks of code.
var lightGrounds, darkGrounds = []string{"#fdfdfb", "#f0f1ed"}, []string{"#171518", "#221f24"}

// classOf sorts chroma's many types of tokens into a few classes; "" is plain text.
func classOf(t chroma.TokenType) string {
	switch {
	case t == chroma.Error:
		return "code-bad"
	case t == chroma.GenericDeleted || t == chroma.GenericInserted || t == chroma.GenericHeading || t == chroma.GenericSubheading:
		return "code-word"
	case t.InCategory(chroma.Keyword) || t == chroma.NameTag || t == chroma.OperatorWord || t == chroma.NameBuiltinPseudo:
		return "code-word"
	case t == chroma.NameFunction || t == chroma.NameFunctionMagic || t == chroma.NameBuiltin || t == chroma.NameDecorator || t == chroma.NameClass:
		return "code-call"
	case t == chroma.NameAttribute || t == chroma.NameProperty || t.InSubCategory(chroma.NameVariable) || t == chroma.NameConstant || t == chroma.NameLabel || t == chroma.NameEntity:
		return "code-name"
	case t.InSubCategory(chroma.LiteralNumber) || t == chroma.LiteralDate:
		return "code-value"
	case t.InCategory(chroma.Literal):
		return "code-text"
	case t.InCategory(chroma.Comment):
		return "code-note"
	case t.InCategory(chroma.Operator) || t.InCategory(chroma.Punctuation):
		return "code-sign"
	}
	return ""
}

// Style is the style sheet for the HTML of Code and Formula: light colours, dark ones if the reader
// prefers them, and none on paper, where weight and slope remain.
func Style() string {
	var b strings.Builder
	b.WriteString("/* Coloured code. */\n")
	for _, l := range looks {
		b.WriteString("." + l.class + " { color: " + l.light + ";")
		if l.more != "" {
			b.WriteString(" " + l.more + ";")
		}
		b.WriteString(" }\n")
	}
	b.WriteString("@media (prefers-color-scheme: dark) {\n")
	for _, l := range looks {
		b.WriteString("  ." + l.class + " { color: " + l.dark + "; }\n")
	}
	b.WriteString("}\n@media print {\n  ")
	for i, l := range looks {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString("." + l.class)
	}
	b.WriteString(" { color: inherit; }\n}\n")
	return b.String()
}
