package script

import "testing"

// Each file in the runtime's folder is part of the runtime.
func TestRuntimeParts(t *testing.T) {
	files, err := runtimeFiles.ReadDir("runtime")
	if err != nil || len(files) != len(runtimeParts)+len(furtherParts) {
		t.Errorf("of %d files %d are joined (%v)", len(files), len(runtimeParts)+len(furtherParts), err)
	}
}
