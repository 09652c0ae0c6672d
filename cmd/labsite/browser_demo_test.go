//go:build browser

package main

import (
	"bytes"
	"path/filepath"
	"testing"
)

// TestBrowserDemoSite publishes the demo pages for each audience and looks at
// every page of both sites.
func TestBrowserDemoSite(t *testing.T) {
	for _, audience := range []string{"customers", "staff"} {
		t.Run(audience, func(t *testing.T) { checkFolder(t, demoSite(t, audience)) })
	}
}

// demoSite is the demo pages published into a folder that goes with the test.
func demoSite(t *testing.T, audience string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "site")
	var stdout, stderr bytes.Buffer
	status := run(t.Context(), []string{"publish", "--from", filepath.Join("..", "..", "content"), "--to", dir, "--audience", audience}, &stdout, &stderr)
	if status != 0 {
		t.Fatalf("publish ended with status %d\n%s%s", status, &stdout, &stderr)
	}
	return dir
}
