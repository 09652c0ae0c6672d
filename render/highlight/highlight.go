package highlight

import (
	"html"
	"strings"

	"github.com/alecthomas/chroma/v2"
)

// most is the length in bytes above which a block is shown without colour: the lexers are regular
// expressions, and nobody reads so long a block.
const most = 256 << 10

// Code colours a block of code in a language named as in a fence: "yaml", "css" (see languages),
// "formula" for the formula language. It returns what goes between <code> and </code>, safe as HTML
// and with the same text as code; "" if the language is unknown or the text cannot be split into
// tokens.
func Code(language, code string) string {
	if len(code) > most {
		return ""
	}
	lexer := lexerFor(language)
	if lexer == nil {
		return ""
	}
	tokens, ok := tokenise(lexer, code)
	if !ok {
		return ""
	}
	return markup(tokens)
}

func lexerFor(language string) chroma.Lexer {
	language = strings.ToLower(strings.TrimSpace(language))
	if language == "" {
		return nil
	}
	if language == formulaName {
		return formulaLexer{}
	}
	if l := languageNamed(language); l != nil {
		return l.lexer()
	}
	return nil
}

// tokenise splits code into tokens. Lexers are regular expressions, which some text may defeat: if
// one panics, stops early or changes the text, ok is false.
func tokenise(lexer chroma.Lexer, code string) (tokens []chroma.Token, ok bool) {
	defer func() {
		if recover() != nil {
			tokens, ok = nil, false
		}
	}()
	next, err := lexer.Tokenise(&chroma.TokeniseOptions{State: "root"}, code)
	if err != nil {
		return nil, false
	}
	rest := code
	for t := next(); t != chroma.EOF; t = next() {
		if t.Value == "" {
			continue
		}
		if !strings.HasPrefix(rest, t.Value) {
			// Some lexers add a line end to a text that has none at its end.
			if t.Value = strings.TrimSuffix(t.Value, "\n"); t.Value != rest {
				return nil, false
			}
		}
		rest = rest[len(t.Value):]
		if t.Value != "" {
			tokens = append(tokens, t)
		}
	}
	return tokens, rest == ""
}

// markup writes tokens as HTML, neighbours of one class in one element.
func markup(tokens []chroma.Token) string {
	var b strings.Builder
	open := ""
	for _, t := range tokens {
		class := classOf(t.Type)
		if class != open || t.Type == quantityToken {
			if open != "" {
				b.WriteString("</span>")
			}
			if class != "" {
				b.WriteString(`<span class="` + class + `">`)
			}
			open = class
		}
		if t.Type == quantityToken {
			writeQuantity(&b, t.Value)
		} else {
			b.WriteString(html.EscapeString(t.Value))
		}
	}
	if open != "" {
		b.WriteString("</span>")
	}
	return b.String()
}
