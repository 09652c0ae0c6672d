package highlight

import (
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"

	"labsite/recipes/formula"
)

// Every operation's example is coloured: function names as such, signs as operators and words of
// the language as keywords.
func TestOperationsAreColoured(t *testing.T) {
	for _, o := range formula.Operations() {
		f, list := formula.Parse(o.Example.Formula, nil)
		if f == nil {
			if o != formula.Guard {
				t.Errorf("%s: %s", o.Form, list)
			}
			continue
		}
		tokens := formulaTokens(f)
		has := func(kind chroma.TokenType, word string) bool {
			return slices.Contains(tokens, chroma.Token{Type: kind, Value: word})
		}
		if o.Name != "" && !has(chroma.NameFunction, o.Name) {
			t.Errorf("%s is not coloured in %s", o.Name, o.Example.Formula)
		}
		for _, sign := range o.Signs {
			kind := chroma.Operator
			if sign[0] >= 'a' {
				kind = chroma.Keyword
			}
			text := strings.Replace(o.Example.Formula, o.Signs[0], sign, 1)
			if !strings.Contains(text, sign) {
				continue // else occurs only with if, and true is a literal
			}
			f, _ := formula.Parse(text, nil)
			if tokens = formulaTokens(f); !has(kind, sign) {
				t.Errorf("%s is not coloured in %s", sign, text)
			}
		}
	}
}
