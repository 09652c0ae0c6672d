package main

import (
	"bytes"
	"errors"
	"strings"
	"testing"
)

// full is a writer to a full disk.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no room left") }

// If the JSON object cannot be written, the exit status says so.
func TestObjectNotWritten(t *testing.T) {
	var said bytes.Buffer
	if status := run(t.Context(), []string{"convert", "--json", "500 ml", "fl_oz"}, full{}, &said); status != wrong {
		t.Errorf("status %d, want %d", status, wrong)
	}
	if !strings.Contains(said.String(), "no room left") {
		t.Errorf("said %q", said.String())
	}
}
