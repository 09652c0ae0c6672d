package script

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/dop251/goja"
)

// A shape with its constants works out the same as the script, at the page's own values.
func TestShapesOfPages(t *testing.T) {
	t.Parallel()
	e, err := Compile(Runtime())
	if err != nil {
		t.Fatal(err)
	}
	r, err := e.Referee()
	if err != nil {
		t.Fatal(err)
	}
	own := func(js []byte) string {
		trial, err := r.Load(js)
		if err != nil {
			t.Fatal(err)
		}
		out, err := trial.At(nil)
		if err != nil {
			t.Fatal(err)
		}
		return fmt.Sprintf("%+v", out)
	}
	f := demo(t)
	for name, s := range f.sheets {
		if s == nil {
			continue
		}
		js, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		want := own(js)
		program, constants := r.shapes.find(js)
		if program == nil || len(constants) == 0 && len(s.Given) > 0 {
			t.Fatalf("%s: the shape was not kept", name)
		}
		for range 2 { // the first time the engine makes a function of the shape, the second time it has one
			if got := own(js); got != want {
				t.Errorf("%s by its shape:\n%s, and as it is\n%s", name, got, want)
			}
		}
	}
}

// Agree finds a wrong constant also in a script of a known shape.
func TestShapesFindFaults(t *testing.T) {
	t.Parallel()
	e, err := Compile(Runtime())
	if err != nil {
		t.Fatal(err)
	}
	r, err := e.Referee()
	if err != nil {
		t.Fatal(err)
	}
	s := pageOf(t, tankPage)
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if list := r.Agree(t.Context(), Page{Sheet: s}, js); len(list) > 0 {
			t.Fatal(list)
		}
	}
	for _, c := range [][2]string{{"own:0.009900990099009901", "own:0.0099"}, {"\"digits\",\"ml\"", "\"digits\",\"L\""}, {"0.01,\"0.01\"", "0.1,\"0.1\""}} {
		broken := strings.ReplaceAll(string(js), c[0], c[1])
		if program, _ := r.shapes.find([]byte(broken)); program == nil {
			t.Fatalf("%s: not the same shape", c[1])
		}
		if list := r.Agree(t.Context(), Page{Sheet: s}, []byte(broken)); len(list) == 0 || list[0].Code != "script-differs" {
			t.Errorf("%s for %s: %v", c[1], c[0], list)
		}
	}
}

// What is taken out of a script is the same value as in it.
func TestSplitConstants(t *testing.T) {
	for _, c := range []struct {
		js, shape string
		constants []any
	}{
		{`{name:"a",slot:12,own:1.5}`, `{name:$[0],slot:12,own:$[1]}`, []any{"a", 1.5}},
		{`Math.log10(1000)+1e-7-s[999]`, `Math.log10($[0])+$[1]-s[999]`, []any{1000.0, 1e-7}},
		{`{"a b":"c\"d","e":0}`, `{"a b":$[0],"e":0}`, []any{`c"d`}},
		{`"µ\u2028"`, `$[0]`, []any{"µ\u2028"}},
	} {
		shape, constants, ok := splitConstants(c.js)
		if !ok || shape != c.shape || !reflect.DeepEqual(constants, c.constants) {
			t.Errorf("%s: %s with %q, %v", c.js, shape, constants, ok)
		}
	}
	for _, js := range []string{"'a'", "`a`", "$", "a//b", "a/*b*/", `"a`, `"\ud800"`, "01234", "µ", `"\x41"`, "1.2.3"} {
		if shape, _, ok := splitConstants(js); ok {
			t.Errorf("%s: taken for %s", js, shape)
		}
	}
}

// The engine reads a constant as Go does.
func TestConstantsAsTheEngineReadsThem(t *testing.T) {
	vm := goja.New()
	for _, js := range []string{"1000", "0.1", "1e-7", "12345678901234567890", "4.9406564584124654e-324", "1.7976931348623157e308",
		`"a\u000bb"`, `"\"\\\/\b\f\n\r\t"`, `"µ²ΔΩ🎞"`, `"\u2028"`} {
		_, constants, ok := splitConstants(js)
		if !ok || len(constants) != 1 {
			t.Fatalf("%s: %q", js, constants)
		}
		v, err := vm.RunString("(v)=>Object.is(v," + js + ")")
		if err != nil {
			t.Fatal(err)
		}
		is, _ := goja.AssertFunction(v)
		if got, err := is(nil, vm.ToValue(constants[0])); err != nil || !got.ToBoolean() {
			t.Errorf("%s is not %v: %v", js, constants[0], err)
		}
	}
}
