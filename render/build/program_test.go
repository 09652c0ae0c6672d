package build

import (
	"strings"
	"testing"
)

// A program is recognised by the id that the toolchain gave it; one without an id, or with one that
// somebody set, by all its bytes.
func TestProgramSum(t *testing.T) {
	id := strings.Repeat("a", 20) + "/" + strings.Repeat("b-", 10) + "/" + strings.Repeat("c_", 10) + "/" + strings.Repeat("D9", 10)
	other := strings.Replace(id, "D9", "E9", 1)
	far := strings.Repeat("x", idWithin)
	for _, x := range []struct {
		what, one, two string
		same           bool
	}{
		{"the same id in a note", "ELF Go\x00\x00" + id + "\x00one", "ELF Go\x00\x00" + id + "\x00two", true},
		{"the same id in a text", "MZ Go build ID: \"" + id + "\"one", "MZ Go build ID: \"" + id + "\"two", true},
		{"two ids", "ELF Go\x00\x00" + id + "\x00one", "ELF Go\x00\x00" + other + "\x00one", false},
		{"no id", far + "one", far + "two", false},
		{"no id, and the same", far + "one", far + "one", true},
		{"another's id", "ELF Go\x00\x00redacted\x00one", "ELF Go\x00\x00redacted\x00two", false},
		{"an id beyond the beginning", far + "Go\x00\x00" + id + "\x00one", far + "Go\x00\x00" + id + "\x00two", false},
		{"one that is longer", far, far + "x", false},
		{"nothing", "", "x", false},
	} {
		one, err := programSumOf(strings.NewReader(x.one))
		two, err2 := programSumOf(strings.NewReader(x.two))
		if err != nil || err2 != nil || (one == two) != x.same {
			t.Errorf("%s: the sums are the same: %v, want %v (%v, %v)", x.what, one == two, x.same, err, err2)
		}
	}
}
