package script

import "testing"

// Each file of the runtime's folder is a part of it.
func TestRuntimeParts(t *testing.T) {
	files, err := runtimeFiles.ReadDir("runtime")
	if err != nil || len(files) != len(runtimeParts)+len(furtherParts) {
		t.Errorf("of %d files %d are joined (%v)", len(files), len(runtimeParts)+len(furtherParts), err)
	}
}
