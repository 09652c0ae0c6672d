package write

import (
	"html/template"

	"labsite/render/highlight"
)

// numbersHTML writes a formula with numbers in place of names.
func numbersHTML(text string) template.HTML { return template.HTML(highlight.FormulaText(text)) }
