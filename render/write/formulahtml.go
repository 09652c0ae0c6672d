package write

import (
	"html/template"

	"labsite/render/highlight"
)

// numbersHTML sets a formula with its numbers put in.
func numbersHTML(text string) template.HTML { return template.HTML(highlight.FormulaText(text)) }
