//go:build browser

package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"labsite/render/preview"
)

// TestBrowserProof checks what the preview adds to a page like a page: on a phone and on a desk,
// light and dark, by the same accessibility rules, without breaking the page's policy, without
// scrolling in two directions.
func TestBrowserProof(t *testing.T) {
	t.Parallel()
	const (
		page  = "developing/one-shot-developer.md"
		shown = "staff/developing/one-shot-developer.html"
	)
	states := []struct {
		name string
		edit func(text string) string
		open string // what a writer does to open it
		till string // what is there then, in the preview's own part of the page
	}{
		{"how a number came about", func(text string) string { return text },
			`document.querySelector('main .figure .q').click()`, `root.querySelector('.panel details')`},
		{"what is wrong", func(text string) string {
			return strings.NewReplacer("figures:\n", "figures:\n  odd: tnak * 2 ml\n").Replace(text)
		}, "", `!root.querySelector('.sheet').hidden`},
		{"what is to be looked at", func(text string) string { return text + "\nPour 300 ml of it.\n" },
			`root.querySelectorAll('.dot').forEach((b) => b.click())`, `root.querySelector('.margin .words')`},
		{"what a save changed", func(text string) string {
			return strings.Replace(text, "value: 500 ml, from: 300 ml", "value: 750 ml, from: 300 ml", 1)
		}, `[...root.querySelectorAll('.bar button')].find((b) => b.textContent.includes('changed')).click()`, `root.querySelector('.panel table')`},
	}
	raw, err := os.ReadFile(filepath.Join("..", "..", "content", filepath.FromSlash(page)))
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "content")
	if err := os.CopyFS(dir, os.DirFS(filepath.Join("..", "..", "content"))); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	p, list, err := preview.Start(ctx, preview.Options{Dir: dir})
	if p == nil {
		stop()
		t.Fatal(list, err)
	}
	ended := make(chan error, 1)
	go func() { ended <- p.Serve(ctx) }()
	defer func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}()
	at := filepath.Join(dir, filepath.FromSlash(page))
	// In one tab, one state after the other: a preview for each would work the whole demo out again.
	inTabs(t, theChromium(t), t.TempDir(), 1, func(tab *tab, _ int) {
		defer func() { must(t, chromedp.Do(tab.ctx, chromedp.Navigate("about:blank"))) }()
		tab.server = strings.TrimSuffix(p.Address(), "/")
		for _, state := range states {
			for _, w := range windows {
				if err := os.WriteFile(at, raw, 0o666); err != nil {
					t.Error(err)
					return
				}
				edited := false
				tab.visit(t, p.Address()+shown, w.looks(), func(l look) {
					add := func(text string) { t.Errorf("%s, %s: %s", state.name, l.name(), text) }
					within := func(expression string) string {
						return `(() => { const host = document.querySelector('#Proof'), root = host && host.shadowRoot; return !!(root && ` + expression + `); })()`
					}
					until := func(expression string) bool {
						for began := time.Now(); !yes(t, tab, within(expression)); time.Sleep(again) {
							if time.Since(began) > tooLong {
								add("never came true: " + expression)
								return false
							}
						}
						return true
					}
					if !edited {
						edited = true
						if !until(`!root.querySelector('.bar').textContent.includes('Waiting')`) {
							return
						}
						if err := os.WriteFile(at, []byte(state.edit(string(raw))), 0o666); err != nil {
							add(err.Error())
							return
						}
						if state.open != "" {
							// going back to the text before this edit is a change too, so wait for the
							// edit itself
							if state.name == "what a save changed" && !until(`document.querySelector('[data-given=tank][data-value="750 ml"]') && /[1-9]\d* numbers? changed/.test(root.querySelector('.bar').textContent)`) ||
								state.name == "what is to be looked at" && !until(`root.querySelector('.margin .note')`) {
								return
							}
							ask[bool](t, tab, within(`(`+state.open+`, true)`))
						}
					}
					if !until(state.till) {
						return
					}
					ask[bool](t, tab, painted)
					tab.tell(add)
					if l.scheme == w.schemes[0] {
						faultsOfAccess(t, tab, allRules, add)
					} else {
						faultsOfAccess(t, tab, rulesOfTheLook, add)
					}
					tab.tell(add)
					if wide := ask[int](t, tab, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
						add(fmt.Sprintf("it is %d pixels wider than the window", wide))
					}
				}, func(text string) { t.Errorf("%s: %s", state.name, text) })
			}
		}
	})
}
