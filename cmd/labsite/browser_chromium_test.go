//go:build browser

package main

import (
	"context"
	"os"
	"sync"
	"testing"

	"labsite/recipes/script/chromium"
)

// theChromium is the one browser of all tests of this package. It knows nobody and asks
// nobody; starting it takes longer than most tests do.
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
