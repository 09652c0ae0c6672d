package script

import (
	"testing"

	"github.com/dop251/goja"
)

// A script that agreed is run only once, however many pages have it; it is run again if Go works out
// something else, or the script changes.
func TestSettledScriptIsRunOnce(t *testing.T) {
	r := referee(t)
	r.settled = new(settled) // other tests share one
	s := pageOf(t, tankPage)
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	runs, probe := 0, r.probe
	r.probe = func(this goja.Value, args ...goja.Value) (goja.Value, error) {
		runs++
		return probe(this, args...)
	}
	for range 3 {
		if list := r.Agree(t.Context(), Page{Sheet: pageOf(t, tankPage)}, js); len(list) > 0 {
			t.Fatal(list)
		}
	}
	if runs != 1 {
		t.Errorf("the script ran %d times, want once", runs)
	}
	s.Given[0].Own *= 2 // as if Go had read another number than the script has
	for range 2 {
		if list := r.Agree(t.Context(), Page{Sheet: s}, js); len(list) == 0 {
			t.Error("another number in Go went unnoticed")
		}
	}
	r.Agree(t.Context(), Page{Sheet: pageOf(t, tankPage)}, append(js, ' '))
	if runs != 4 {
		t.Errorf("the scripts ran %d times, want 4", runs)
	}
}
