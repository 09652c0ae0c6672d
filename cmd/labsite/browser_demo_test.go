//go:build browser

package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// demoSite is the demo published for an audience, once for all tests, which must not change it.
func demoSite(t *testing.T, audience string) string {
	t.Helper()
	dir, err := demoSites[audience]()
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

var demoSites = map[string]func() (string, error){
	"customers": sync.OnceValues(func() (string, error) { return publishedDemo("customers") }),
	"staff":     sync.OnceValues(func() (string, error) { return publishedDemo("staff") }),
}

// demoDay is the day as of which the tests look at the demo: on another day a bottle may be used up
// or a drum due for disposal, which changes pages.
const demoDay = "2026-11-28"

// onDemoDay makes demoDay today for a page, at the present time of day.
const onDemoDay = `{
	const Real = Date, now = new Real(), wanted = new Real('` + demoDay + `T00:00');
	const shift = wanted - new Real(now.getFullYear(), now.getMonth(), now.getDate());
	window.Date = class extends Real {
		constructor(...parts) { if (parts.length) super(...parts); else super(Real.now() + shift); }
		static now() { return Real.now() + shift; }
	};
}`

// demoFolders are the folders into which the demo was published.
var demoFolders sync.Map

func publishedDemo(audience string) (string, error) {
	dir, err := os.MkdirTemp("", "labsite-demo")
	if err != nil {
		return "", err
	}
	afterwards.add(func() { os.RemoveAll(dir) })
	site := filepath.Join(dir, "site")
	var stdout, stderr bytes.Buffer
	status := run(context.Background(), []string{"publish", "--from", filepath.Join("..", "..", "content"), "--to", site, "--audience", audience, "--on", demoDay}, &stdout, &stderr)
	if status != 0 {
		return "", fmt.Errorf("publish ended with status %d\n%s%s", status, &stdout, &stderr)
	}
	demoFolders.Store(site, nil)
	return site, nil
}
