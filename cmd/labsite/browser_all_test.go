//go:build browser

package main

import "testing"

// TestBrowserDemoSite publishes the demo pages for each audience and looks at every page of both
// sites. It takes as long as all other tests together, so it must not start last, with nothing left
// to run beside it. Go starts with the first test of the first file, and queues parallel subtests
// behind all tests that are already waiting; so it is in this file, and takes one site after the
// other.
func TestBrowserDemoSite(t *testing.T) {
	t.Parallel()
	t.Run("staff", func(t *testing.T) { checkFolder(t, demoSite(t, "staff"), "") })
	t.Run("customers", func(t *testing.T) { checkFolder(t, demoSite(t, "customers"), demoSite(t, "staff")) })
}
