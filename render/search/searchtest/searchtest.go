// Package searchtest asks the search of a site as a page in a browser would. It is for tests.
package searchtest

import (
	"encoding/json"
	"fmt"
	"strings"
	"unicode"

	"github.com/dop251/goja"
)

// Result is an answer of find.js.
type Result struct {
	Missing []string
	All     bool
	Instead [][2]any
	Count   int
	Pages   []struct {
		Address, Where string
		Title, Passage [][2]any
	}
}

// Engine is a JavaScript engine that has run the first file of a search.
//
// Its regular expressions know no character properties, so the sets are put in. The tests in a
// browser run the script as it is.
func Engine(first string) (*goja.Runtime, error) {
	vm := goja.New()
	text := strings.NewReplacer(`\p{L}`, set(unicode.L), `\p{M}`, set(unicode.M), `\p{N}`, set(unicode.N)).Replace(first)
	text = strings.ReplaceAll(text, "/"+set(unicode.M)+"/", "/["+set(unicode.M)+"]/")
	_, err := vm.RunString(text)
	return vm, err
}

// Once asks with the parts loaded so far.
func Once(vm *goja.Runtime, name, typed string, most int) (r Result, err error) {
	asked, _ := json.Marshal(typed)
	v, err := vm.RunString(fmt.Sprintf("JSON.stringify(%s(%s, %d))", name, asked, most))
	if err == nil {
		err = json.Unmarshal([]byte(v.String()), &r)
	}
	return r, err
}

// set writes the characters of a table, in the basic plane, as part of a pattern.
func set(table *unicode.RangeTable) string {
	var b strings.Builder
	for _, r := range table.R16 {
		if r.Stride == 1 {
			fmt.Fprintf(&b, `\u%04x-\u%04x`, r.Lo, r.Hi)
			continue
		}
		for c := int(r.Lo); c <= int(r.Hi); c += int(r.Stride) {
			fmt.Fprintf(&b, `\u%04x`, c)
		}
	}
	return b.String()
}
