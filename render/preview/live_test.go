package preview

import (
	"strings"
	"testing"
)

// Every part is in the script of an open page, once.
func TestLiveScriptHasAllParts(t *testing.T) {
	files, err := liveFiles.ReadDir("live")
	if err != nil || len(files) != len(liveParts) {
		t.Errorf("of %d files %d are joined: %v", len(files), len(liveParts), err)
	}
	script := string(liveJS())
	for _, f := range files {
		b, err := liveFiles.ReadFile("live/" + f.Name())
		if err != nil || strings.Count(script, string(b)) != 1 {
			t.Errorf("%s is not there once: %v", f.Name(), err)
		}
	}
}
