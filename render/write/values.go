package write

import (
	"html"
	"html/template"
	"regexp"
	"strings"

	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/theme"
)

// quantityHTML writes a shown value with a real minus, and so that no line breaks between a number
// and its unit; lines may break between the parts of a duration.
func quantityHTML(text string, attributes string) template.HTML {
	return template.HTML(`<span class="q"` + attributes + `>` + quantityText(text) + `</span>`)
}

// shownHTML writes a shown value; a missing one is a line to write on, or what stands in its place.
func shownHTML(s quantity.Shown, attributes string) template.HTML {
	switch {
	case s.Missing && s.Text == "":
		return template.HTML(`<span class="q q-blank"` + attributes + `></span>`)
	case s.Missing:
		return template.HTML(`<span class="q q-instead"` + attributes + `>` + html.EscapeString(s.Text) + `</span>`)
	}
	return quantityHTML(s.Text, attributes)
}

// wholeNumber is the whole part of a number, with its sign; a date has none.
var wholeNumber = regexp.MustCompile(`^[-+]?\d+([. ]|$)`)

// wholeDigits counts the characters before the decimal point of a value, by which a ledger is
// aligned; 0 if it is no number. measure.js counts the same.
func wholeDigits(s quantity.Shown) int {
	if s.Missing || s.Date {
		return 0
	}
	return len(strings.TrimRight(wholeNumber.FindString(s.Text), ". "))
}

// noNumber stands in place of a withdrawn number.
const noNumber = template.HTML(`<span class="q q-none">no number</span>`)

// unitWords writes units as readers do: fl oz, and not fl_oz.
var unitWords = strings.NewReplacer("imp_fl_oz", "imp&nbsp;fl&nbsp;oz", "fl_oz", "fl&nbsp;oz", "imp_", "imp&nbsp;", "oz_a", "oz&nbsp;a", "sq_", "sq&nbsp;")

func quantityText(text string) string {
	parts := strings.Split(text, " ")
	var b strings.Builder
	for i, p := range parts {
		switch {
		case i == 0:
		case joined(parts[i-1], p):
			b.WriteString("&nbsp;")
		default:
			b.WriteByte(' ')
		}
		if strings.HasPrefix(p, "-") && len(p) > 1 {
			p = "−" + p[1:]
		}
		b.WriteString(unitWords.Replace(html.EscapeString(p)))
	}
	return b.String()
}

// joined reports whether no line may break between two words of a value: a number and its unit, or a
// day, its month and its year. Lines may break between the parts of a duration, between a weekday and
// its date, and between the words of a text.
func joined(before, after string) bool {
	const digits = "0123456789"
	return strings.ContainsAny(before, digits) ||
		after != "" && strings.ContainsRune(digits, rune(after[0])) && !compound(before) && !strings.HasSuffix(before, ",")
}

func compound(unit string) bool {
	switch unit {
	case "day", "days", "h", "min":
		return true
	}
	return false
}

func valueOf(s quantity.Shown, attributes string) theme.Value {
	return theme.Value{HTML: shownHTML(s, attributes), Plain: prove.Plain(s)}
}

// valueAsWritten is a value as the page writes it, except that a date is written out.
func valueAsWritten(v quantity.Value) theme.Value {
	if v.Kind == quantity.Date {
		return valueOf(v.AsWritten().Format(v.Base), "")
	}
	return plainValue(v.Text)
}

// machineText is a value of a table's head for programs.
func machineText(v quantity.Value) string {
	if v.Kind == quantity.Date {
		return quantity.ISODate(v.Base)
	}
	return v.Text
}

func plainValue(text string) theme.Value {
	if text == "" {
		return theme.Value{}
	}
	return theme.Value{HTML: quantityHTML(text, ""), Plain: text}
}

// escaped is a text as HTML.
func escaped(text string) template.HTML { return template.HTML(html.EscapeString(text)) }
