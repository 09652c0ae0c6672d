//go:build browser

package main

import "testing"

// TestBrowserDemoSite publishes the demo pages for each audience and looks at every page of both
// sites. It takes as long as all other tests together, so it must not be the last to begin, with
// nothing left to run beside it: go begins with the first test of the first file, and lets parallel
// tests within another wait for all those that began to wait before. So it stands in this
// file, and one site follows the other.
func TestBrowserDemoSite(t *testing.T) {
	t.Parallel()
	t.Run("staff", func(t *testing.T) { checkFolder(t, demoSite(t, "staff"), "") })
	t.Run("customers", func(t *testing.T) { checkFolder(t, demoSite(t, "customers"), demoSite(t, "staff")) })
}
