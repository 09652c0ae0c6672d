package script

import (
	"strings"
	"testing"

	"github.com/dop251/goja"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
)

// exactIn asks a page's script at some values for the numbers in place of names.
func exactIn(t *testing.T, trial *Trial, values []float64, names []string) []string {
	t.Helper()
	if _, err := trial.At(values); err != nil {
		t.Fatal(err)
	}
	vm := trial.referee.vm
	ask, err := vm.RunString(`(sheet, names) => names.map(sheet.exact()).map((text) => text === null ? "none" : text)`)
	if err != nil {
		t.Fatal(err)
	}
	call, _ := goja.AssertFunction(ask)
	list, err := call(goja.Undefined(), trial.page, vm.ToValue(names))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	if err := vm.ExportTo(list, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// namesIn lists the names in the formulas of a page's figures, and the figures' own.
func namesIn(s *page.Sheet) []string {
	var out []string
	for _, f := range s.Sorted {
		if f.Formula == nil {
			continue
		}
		out = append(out, f.Name)
		for _, r := range f.Formula.References() {
			out = append(out, strings.TrimPrefix(r.Of+"."+r.Name, "."))
		}
	}
	return out
}

// exactByGo are the same texts by Go: the number in a formula of just one name is the one in place of
// that name.
func exactByGo(t *testing.T, s *page.Sheet, values []float64, names []string) []string {
	t.Helper()
	c := prove.NewBlank(s)
	for i, g := range s.Given {
		if values != nil {
			c.Set(g, values[i])
		}
	}
	c.Work()
	var out []string
	for _, name := range names {
		f, list := formula.Parse(name, nil)
		if list.Errors() > 0 {
			t.Fatal(list)
		}
		text := c.WithNumbers(f)
		if text == name {
			text = "none"
		}
		out = append(out, text)
	}
	return out
}

// TestExactNumbers compares the arithmetic in a page's script with that by Go: every name in every formula
// of the demo, at some settings of each page, also with readings that are not entered.
func TestExactNumbers(t *testing.T) {
	t.Parallel()
	f, r := demo(t), referee(t)
	compared := 0
	for _, name := range f.order {
		s := f.sheets[name]
		if s == nil || len(s.Sorted) == 0 {
			continue
		}
		js, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		trial, err := r.Load(js)
		if err != nil {
			t.Fatal(err)
		}
		names := namesIn(s)
		try := func(values []float64) bool {
			want, got := exactByGo(t, s, values, names), exactIn(t, trial, values, names)
			for i, text := range want {
				compared++
				if text != got[i] {
					at := "its own values"
					if values != nil {
						at = settings(s, values)
					}
					t.Errorf("%s: %s is %q in the script, and in Go %q, at %s", name, names[i], got[i], text, at)
					return false
				}
			}
			return true
		}
		try(nil)
		eachOf(s, 4, func(values []float64) bool { return caseAt(s, values).Refused() || try(values) })
	}
	if compared < 1000 {
		t.Errorf("only %d names were compared", compared)
	}
}
