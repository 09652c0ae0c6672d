package page

import (
	"slices"
	"strings"
	"unicode"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// mostAlikeWords is how many words a word of a group may be made of.
const mostAlikeWords = 6

// alike reads the lab's own groups of words that mean one thing: a list of lists.
func (d *decoder) alike(v *value) (groups [][]string) {
	for _, item := range d.items(v, "alike") {
		if item.Shape != list {
			d.report(source.AlikeGroup(), item.Span)
			continue
		}
		if group := d.alikeGroup(item); len(group) > 1 {
			groups = append(groups, group)
		} else if len(item.Items) < 2 {
			d.report(source.AlikeGroup(), item.Span)
		}
	}
	return groups
}

// isAmount reports whether a quantity found in a text is an amount. A length is none: film and
// paper are named by it, such as 35 mm.
func isAmount(found quantity.Found) bool {
	v, trouble := quantity.Parse(found.Written)
	return trouble != nil || v.Kind != quantity.Length
}

func (d *decoder) alikeGroup(v *value) (group []string) {
	seen := map[string]bool{}
	for _, item := range v.Items {
		text := d.text(item, "alike")
		words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) })
		key := strings.Join(words, " ")
		switch {
		case text == "": // reported already
		case len(words) == 0 || len(words) > mostAlikeWords:
			d.report(source.AlikeWord(text, mostAlikeWords), item.Span)
		case slices.ContainsFunc(quantity.Typed(text), isAmount):
			d.report(source.AlikeAmount(text), item.Span)
		case seen[key]:
			d.report(source.AlikeTwice(text), item.Span)
		default:
			group = append(group, text)
		}
		seen[key] = true
	}
	return group
}
