//go:build browser

package main

import (
	"context"
	"os"
	"sync"
	"testing"

	"labsite/recipes/script/chromium"
)

// theChromium is the browser that tests of this package share, since starting one takes longer than
// most tests. It has no profile and no network.
func theChromium(t testing.TB) context.Context { return started(t, theBrowser) }

// theShell is Chromium without windows, for tests that look at many pages and for nothing else.
func theShell(t testing.TB) context.Context { return started(t, theHeadlessShell) }

func started(t testing.TB, browser func() (context.Context, error)) context.Context {
	t.Helper()
	tab, err := browser()
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

var (
	theBrowser = sync.OnceValues(func() (context.Context, error) {
		return startShared(func(profile string) (context.Context, func(), error) { return chromium.Start(profile) })
	})
	theHeadlessShell = sync.OnceValues(func() (context.Context, error) { return startShared(chromium.StartShell) })
)

// startShared starts a browser that is ended after all tests.
func startShared(start func(profile string) (context.Context, func(), error)) (context.Context, error) {
	profile, err := os.MkdirTemp("", "labsite-chromium")
	if err != nil {
		return nil, err
	}
	browser, end, err := start(profile)
	if err != nil {
		os.RemoveAll(profile)
		return nil, err
	}
	afterwards.add(func() {
		end()
		os.RemoveAll(profile)
	})
	return browser, nil
}
