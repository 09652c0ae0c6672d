package site

import (
	"html"
	"html/template"
	"strings"

	"labsite/recipes/quantity"
)

// quantityHTML sets a shown value so that its unit never leaves its number: a real minus,
// and blanks that do not break but between the parts of a duration.
func quantityHTML(text string, attributes string) template.HTML {
	return template.HTML(`<span class="q"` + attributes + `>` + quantityText(text) + `</span>`)
}

// noNumber stands where a number was withdrawn.
const noNumber = template.HTML(`<span class="q q-none">no number</span>`)

// unitWords sets the words of a unit as readers write them: fl oz, and not fl_oz.
var unitWords = strings.NewReplacer("imp_fl_oz", "imp&nbsp;fl&nbsp;oz", "fl_oz", "fl&nbsp;oz", "imp_", "imp&nbsp;", "oz_a", "oz&nbsp;a", "sq_", "sq&nbsp;")

func quantityText(text string) string {
	parts := strings.Split(text, " ")
	var b strings.Builder
	for i, p := range parts {
		if i > 0 {
			if i%2 == 0 && compound(parts[i-1]) {
				b.WriteByte(' ')
			} else {
				b.WriteString("&nbsp;")
			}
		}
		if strings.HasPrefix(p, "-") && len(p) > 1 {
			p = "−" + p[1:]
		}
		b.WriteString(unitWords.Replace(html.EscapeString(p)))
	}
	return b.String()
}

func compound(unit string) bool {
	switch unit {
	case "day", "days", "h", "min":
		return true
	}
	return false
}

func valueOf(s quantity.Shown, attributes string) Value {
	return Value{HTML: quantityHTML(s.Text, attributes), Plain: s.Text}
}

func plainValue(text string) Value {
	if text == "" {
		return Value{}
	}
	return Value{HTML: quantityHTML(text, ""), Plain: text}
}

// escaped is a text as HTML.
func escaped(text string) template.HTML { return template.HTML(html.EscapeString(text)) }
