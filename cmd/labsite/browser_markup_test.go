//go:build browser

package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"testing"
)

// faultsOfMarkup runs html-validate on every HTML file of a folder. The rules are in
// testdata/tools/markup.cjs.
func faultsOfMarkup(t *testing.T, dir string) (faults []fault) {
	t.Helper()
	config, err := filepath.Abs(filepath.Join("testdata", "tools", "markup.cjs"))
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", toolFile(t, "html-validate/bin/html-validate.mjs"), "--config", config, "--formatter", "json", "--ext", "html", dir)
	out, err := cmd.Output()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) { // its exit status is not 0 if it finds something
		t.Fatal(err)
	}
	var reports []struct {
		FilePath string
		Messages []struct {
			RuleID       string
			Message      string
			Line, Column int
		}
	}
	if err := json.Unmarshal(out, &reports); err != nil {
		t.Fatalf("html-validate: %v\n%s", err, out)
	}
	for _, r := range reports {
		name, err := filepath.Rel(dir, r.FilePath)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range r.Messages {
			faults = append(faults, fault{page: filepath.ToSlash(name), text: fmt.Sprintf("line %d, column %d: %s (%s)", m.Line, m.Column, m.Message, m.RuleID)})
		}
	}
	return faults
}
