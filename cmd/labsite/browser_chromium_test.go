//go:build browser

package main

import (
	"context"
	"os"
	"sync"
	"testing"

	"labsite/recipes/script/chromium"
)

// theChromium is the browser that all tests of this package share, since starting one takes longer
// than most tests. It has no profile and no network.
func theChromium(t testing.TB) context.Context {
	t.Helper()
	browser, err := theBrowser()
	if err != nil {
		t.Fatal(err)
	}
	return browser
}

var theBrowser = sync.OnceValues(func() (context.Context, error) {
	profile, err := os.MkdirTemp("", "labsite-chromium")
	if err != nil {
		return nil, err
	}
	browser, end, err := chromium.Start(profile)
	if err != nil {
		os.RemoveAll(profile)
		return nil, err
	}
	afterwards.add(func() {
		end()
		os.RemoveAll(profile)
	})
	return browser, nil
})
