package highlight

import (
	"html"
	"strings"

	"github.com/alecthomas/chroma/v2"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// formulaName is the name of the formula language in a fence.
const formulaName = "formula"

// quantityToken is a number or a quantity of the formula language. It is written
// so that a line never ends between its number and its unit.
const quantityToken = chroma.LiteralNumber

// Formula colours a parsed formula. It returns what goes inside <code>, safe as HTML: the formula's
// normal form, with non-breaking spaces inside quantities.
func Formula(f *formula.Formula) string {
	return normals.of(f.Normal(), func() string { return markup(formulaTokens(f)) })
}

// FormulaText colours a text that is a formula, or nearly one, such as one with its values put in.
// If it cannot be parsed, only its quantities are coloured.
func FormulaText(text string) string {
	return texts.of(text, func() string {
		if f, _ := formula.Parse(text, nil); f != nil {
			return Formula(f)
		}
		return markup(loose(text))
	})
}

// loose finds only the quantities of a text.
func loose(text string) []chroma.Token {
	var out []chroma.Token
	last := 0
	for _, found := range quantity.Find(text) {
		out = gap(out, text[last:found.Start])
		out = append(out, chroma.Token{Type: quantityToken, Value: text[found.Start:found.End]})
		last = found.End
	}
	return gap(out, text[last:])
}

func gap(out []chroma.Token, text string) []chroma.Token {
	if text == "" {
		return out
	}
	return append(out, chroma.Token{Type: chroma.Text, Value: text})
}

// formulaTokens are the tokens of a formula and the text between them.
func formulaTokens(f *formula.Formula) []chroma.Token {
	text := f.Normal()
	var out []chroma.Token
	last := 0
	for _, t := range f.Tokens() {
		if t.Start < last || t.End > len(text) {
			return gap(nil, text)
		}
		out = gap(out, text[last:t.Start])
		out = append(out, chroma.Token{Type: formulaType(t.Kind), Value: text[t.Start:t.End]})
		last = t.End
	}
	return gap(out, text[last:])
}

func formulaType(kind formula.TokenKind) chroma.TokenType {
	switch kind {
	case formula.Literal:
		return quantityToken
	case formula.Quoted:
		return chroma.LiteralString
	case formula.Name:
		return chroma.Name
	case formula.Function:
		return chroma.NameFunction
	case formula.Keyword:
		return chroma.Keyword
	case formula.Operator:
		return chroma.Operator
	case formula.Bracket:
		return chroma.Punctuation
	}
	return chroma.Text
}

// writeQuantity keeps the parts of a quantity together; a duration may break
// before its next part.
func writeQuantity(b *strings.Builder, text string) {
	parts := strings.Split(text, " ")
	for i, p := range parts {
		switch {
		case i == 0:
		case i%2 == 0 && (parts[i-1] == "min" || parts[i-1] == "h" || strings.HasPrefix(parts[i-1], "day")):
			b.WriteByte(' ')
		default:
			b.WriteString("&nbsp;")
		}
		b.WriteString(html.EscapeString(p))
	}
}

// formulaLexer makes the formula language's own tokens a lexer for chroma.
type formulaLexer struct{}

// Config names the language.
func (formulaLexer) Config() *chroma.Config {
	return &chroma.Config{Name: "Formula", Aliases: []string{formulaName}}
}

// Tokenise splits a text into tokens: as one formula, or else line by line, each a formula or
// "name: formula"; in any other line only quantities are coloured. Unlike in Formula, the text
// stays as it was written.
func (formulaLexer) Tokenise(_ *chroma.TokeniseOptions, text string) (chroma.Iterator, error) {
	tokens := same(text)
	if tokens == nil {
		for _, line := range strings.SplitAfter(text, "\n") {
			body := strings.TrimSuffix(line, "\n")
			if t := same(body); t != nil {
				tokens = append(tokens, t...)
			} else {
				tokens = append(tokens, definition(body)...)
			}
			tokens = gap(tokens, line[len(body):])
		}
	}
	return chroma.Literator(tokens...), nil
}

// same is the tokens of a formula in normal form, nil for any other text.
func same(text string) []chroma.Token {
	if f, _ := formula.Parse(text, nil); f != nil && f.Normal() == text {
		return formulaTokens(f)
	}
	return nil
}

// definition is a line such as "exact: tank * strength".
func definition(line string) []chroma.Token {
	name, body, ok := strings.Cut(line, ":")
	if ok && strings.TrimSpace(body) != "" && !strings.ContainsAny(strings.TrimSpace(name), " \t?") {
		if t := same(body); t != nil {
			return append(gap(nil, name+":"), t...)
		}
	}
	return loose(line)
}

// SetRegistry does nothing: the formula language embeds no other.
func (l formulaLexer) SetRegistry(*chroma.LexerRegistry) chroma.Lexer { return l }

// SetAnalyser does nothing: see AnalyseText.
func (l formulaLexer) SetAnalyser(func(string) float32) chroma.Lexer { return l }

// AnalyseText never guesses: a fence says what it holds.
func (formulaLexer) AnalyseText(string) float32 { return 0 }
