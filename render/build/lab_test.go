package build

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// editableLab writes a lab's folder and returns it with a function to write into it; the text ""
// removes the file, one that begins with "-> " makes a symbolic link.
func editableLab(t testing.TB, files map[string]string) (dir string, write func(p, text string)) {
	t.Helper()
	dir = t.TempDir()
	write = func(p, text string) {
		t.Helper()
		full := filepath.Join(dir, filepath.FromSlash(p))
		os.MkdirAll(filepath.Dir(full), 0o777)
		var err error
		to, link := strings.CutPrefix(text, "-> ")
		switch {
		case text == "":
			err = os.Remove(full)
		case link:
			err = os.Symlink(to, full)
		default:
			err = os.WriteFile(full, []byte(text), 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	for p, text := range files {
		write(p, text)
	}
	return dir, write
}

// labOf writes a lab's folder.
func labOf(t testing.TB, files map[string]string) string {
	t.Helper()
	dir, _ := editableLab(t, files)
	return dir
}

// checked reads a folder and checks both of its sites.
func checked(t testing.TB, dir string) (*Site, source.List) {
	t.Helper()
	s, list := Open(t.Context(), dir, Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	t.Cleanup(func() { s.Close() })
	list, err := s.Check(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return s, list
}

// published returns the site of an audience, and ends the test on an error.
func published(t testing.TB, dir string, a page.Audience) map[string][]byte {
	t.Helper()
	return publishedOn(t, dir, a, aDay)
}

func publishedOn(t testing.TB, dir string, a page.Audience, day time.Time) map[string][]byte {
	t.Helper()
	s, list := Open(t.Context(), dir, Options{Day: day})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	to := &folder{files: map[string][]byte{}}
	if list, err := s.Publish(t.Context(), a, to); err != nil || list.Errors() > 0 {
		t.Fatal(err, told(list))
	}
	return to.files
}
