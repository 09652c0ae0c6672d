package page

import (
	"fmt"
	"testing"

	"labsite/recipes/source"
)

// A lab's groups of words are read as they are written; they may name film and paper by size.
func TestAlikeIsRead(t *testing.T) {
	f, _ := source.New(SettingsFile, []byte("alike:\n  - [the brown bottle, staining syrup]\n  - [35 mm, small format, '135']\n"))
	s, list := DecodeSettings(f)
	if len(list) > 0 {
		t.Fatal(list)
	}
	if got, want := fmt.Sprint(s.Alike), "[[the brown bottle staining syrup] [35 mm small format 135]]"; got != want {
		t.Errorf("read were %s, want %s", got, want)
	}
}
