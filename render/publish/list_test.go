package publish

import (
	"crypto/sha256"
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTheListReadsBack(t *testing.T) {
	want := list{
		{name: "a b.html", size: 0, hash: sha256.Sum256(nil)},
		{name: "x/ü.svg", size: 3, hash: sha256.Sum256([]byte("abc"))},
	}
	raw := want.bytes()
	// The hash of "abc" is an example of FIPS 180-2, appendix B.1.
	if !strings.Contains(string(raw), "3 ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad x/ü.svg\n") {
		t.Errorf("the list is\n%s", raw)
	}
	got, err := readList(raw)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(entry{})); diff != "" {
		t.Error(diff)
	}
	for n := range raw {
		if _, err := readList(raw[:n]); err == nil {
			t.Errorf("the first %d bytes passed for the whole list", n)
		}
	}
	for n := range len(listHead) + 1 {
		if _, err := readList(raw[:n]); !errors.Is(err, errHalfList) {
			t.Errorf("the first %d bytes are not recognised as half a list: %v", n, err)
		}
	}
}

func TestAListCannotPointOutOfItsFolder(t *testing.T) {
	for _, name := range []string{"../x", "/x", "a/../../x", ".", "", "a\\..\\x", listName} {
		l := list{{name: name, hash: sha256.Sum256(nil)}}
		if _, err := readList(l.bytes()); err == nil {
			t.Errorf("a list with the path %q was accepted", name)
		}
	}
}

func FuzzReadList(f *testing.F) {
	f.Add(list{{name: "a", size: 1}}.bytes())
	f.Add([]byte(listHead + "\n"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		l, err := readList(raw)
		if err != nil {
			return
		}
		again, err := readList(l.bytes())
		if err != nil || !cmp.Equal(l, again, cmp.AllowUnexported(entry{})) {
			t.Errorf("%q does not read back: %v", raw, err)
		}
	})
}
