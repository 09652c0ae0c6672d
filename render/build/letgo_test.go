package build

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/page"
)

// The text of a page is let go and read again. If it has changed by then, that is reported, nothing
// is published, and the next run takes the new text.
func TestPageChangedMeanwhile(t *testing.T) {
	for what, change := range map[string]func(name string) error{
		"written": func(name string) error {
			return os.WriteFile(name, []byte(strings.Replace(keptLab["mix.md"], "tank / 2", "tank / 4", 1)), 0o600)
		},
		"deleted": os.Remove,
	} {
		t.Run(what, func(t *testing.T) {
			dir := labOf(t, keptLab)
			s, list := Open(t.Context(), dir, Options{Day: aDay})
			if s == nil {
				t.Fatal(told(list))
			}
			defer s.Close()
			if p := s.Content.Page("mix.md"); p.File != nil {
				t.Error("the text was not dropped")
			}
			if err := change(filepath.Join(dir, "mix.md")); err != nil {
				t.Fatal(err)
			}
			to := &folder{files: map[string][]byte{}}
			list, err := s.Publish(t.Context(), page.Customers, to)
			if err != nil {
				t.Fatal(err)
			}
			if got := told(list); !strings.Contains(got, "mix.md:1:1: error: this file was changed while") && !strings.Contains(got, "mix.md: error: this file was changed while") {
				t.Errorf("reported:\n%s", got)
			}
			if to.files["mix.html"] != nil {
				t.Error("the page was published")
			}
		})
	}
}
