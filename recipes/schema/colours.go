package schema

import (
	"regexp"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// Colours writes a TextMate grammar for the formulas of a page: in braces in its body, and
// after the keys of the front matter that take one. It is an injection into the editor's own
// grammar for Markdown. The patterns are made from the operations of the language and the
// table of units.
func Colours(formulaKeys []string) []byte {
	return written(object{
		"name":              "Labsite formulas",
		"scopeName":         "labsite.formulas",
		"injectionSelector": "L:text.html.markdown, L:source.yaml",
		"patterns": []object{
			{"name": "meta.placement.labsite", "begin": `(?<!\\)\{(?=[A-Za-z0-9(])`, "end": `\}|$`, "patterns": []object{{"include": "#formula"}}},
			{"begin": `^(\s*(?:- )?(?:` + strings.Join(formulaKeys, "|") + `):)\s+(?=[^{|>\s])`, "end": `$`, "patterns": []object{{"include": "#formula"}}},
		},
		"repository": object{"formula": object{"patterns": patterns()}},
	})
}

// Pattern is a pattern of the grammar: what it colours, and the regular expression for it.
type Pattern struct {
	Kind  formula.TokenKind
	Name  string
	Match string
}

// Patterns are those of a formula, in the order in which they are tried. They are written in
// what TextMate grammars and regexp2, with which tests try them, have in common.
func Patterns() []Pattern {
	var signs, keywords []string
	add := func(list *[]string, text string) {
		if !slices.Contains(*list, text) {
			*list = append(*list, text)
		}
	}
	for _, o := range formula.Operations() {
		for _, sign := range o.Signs {
			switch c := sign[0]; {
			case c >= 'a' && c <= 'z':
				add(&keywords, sign)
			case !strings.ContainsAny(sign, "(){}"):
				add(&signs, regexp.QuoteMeta(sign))
			}
		}
	}
	for _, sign := range []string{"=", ";", ",", ".", "?", ":"} { // of let and of choices, and between operands
		add(&signs, regexp.QuoteMeta(sign))
	}
	longest := func(a, b string) int { return len(b) - len(a) }
	slices.SortStableFunc(signs, longest)
	return []Pattern{
		{formula.Quoted, "string.quoted.labsite", `"[^"]*"|'[^']*'`},
		{formula.Literal, "constant.numeric.labsite", quantityPattern()},
		{formula.Keyword, "keyword.control.labsite", `\b(?:` + strings.Join(keywords, "|") + `)\b`},
		{formula.Function, "entity.name.function.labsite", `[A-Za-z_][A-Za-z0-9_]*(?=\s*\()`},
		{formula.Name, "variable.other.labsite", `[A-Za-z_][A-Za-z0-9_]*`},
		{formula.Operator, "keyword.operator.labsite", strings.Join(signs, "|")},
	}
}

func patterns() (out []object) {
	for _, p := range Patterns() {
		out = append(out, object{"name": p.Name, "match": p.Match})
	}
	return out
}

// quantityPattern matches numbers with their units, durations and dates as one.
func quantityPattern() string {
	var names []string
	for _, e := range quantity.Entries() {
		for _, name := range append([]string{e.Name}, e.Also...) {
			if name = regexp.QuoteMeta(name); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	for _, c := range quantity.Counts() {
		names = append(names, regexp.QuoteMeta(c.One), regexp.QuoteMeta(c.Several))
	}
	slices.SortFunc(names, func(a, b string) int {
		if n := len(b) - len(a); n != 0 {
			return n
		}
		return strings.Compare(a, b)
	})
	unit := `(?:` + strings.Join(names, "|") + `)s?`
	joined := unit + `(?:[23²³])?(?:[/*]` + unit + `(?:[23²³])?)*(?![A-Za-z0-9_])`
	number := `[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?`
	return `[0-9]{4}-[0-9]{2}-[0-9]{2}|(?:` + number + ` )?` + number + `(?:(?:/[0-9]+)? /?` + joined + `(?: ` + number + ` ` + unit + `(?![A-Za-z0-9_/]))*)?`
}
