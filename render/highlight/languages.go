package highlight

import (
	"slices"
	"strings"
	"sync"

	"github.com/alecthomas/chroma/v2"
)

// language is a language that a fence may name.
type language struct {
	names  []string // as fences write them, the usual one first
	rules  func() chroma.Rules
	sample string // a few lines in it, for the tests
	lexer  func() chroma.Lexer
}

// languages are all that are coloured besides formulas: those of data, settings, themes and
// commands, which a lab's pages show. The library has hundreds more, but loading their names took a
// third of the program's start, so they are left out; each of these is made when a fence first
// names it.
var languages = []*language{
	yaml, jsonText, csv, ini, diff,
	markupText, css, javascript,
	shell, python, golang, sql,
}

// newLanguage is an entry of languages.
func newLanguage(names, sample string, rules func() chroma.Rules) *language {
	l := &language{names: strings.Fields(names), rules: rules, sample: sample}
	l.lexer = sync.OnceValue(func() chroma.Lexer {
		return chroma.MustNewLexer(&chroma.Config{Name: l.names[0], Aliases: l.names[1:]}, l.rules)
	})
	return l
}

// languageNamed finds a language by a name from a fence; nil if there is none.
func languageNamed(name string) *language {
	for _, l := range languages {
		if slices.Contains(l.names, name) {
			return l
		}
	}
	return nil
}

// words is a pattern for any of a list of whole words.
func words(list string) string { return chroma.Words(`\b`, `\b`, strings.Fields(list)...) }

// Patterns that several languages share.
const (
	blanks       = `\s+`
	doubleQuoted = `"(?:\\.|[^"\\\n])*"`
	singleQuoted = `'(?:\\.|[^'\\\n])*'`
	number       = `\b(0[xX][0-9a-fA-F_]+|0[bB][01_]+|0[oO][0-7_]+|\d[\d_]*(\.\d+)?([eE][-+]?\d+)?)\b`
	name         = `[A-Za-z_]\w*`
	called       = name + `(?=\s*\()`
	anything     = `.`
)
