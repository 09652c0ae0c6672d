//go:build browser

package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestBrowserSearch finds pages as a reader with a keyboard does: on a phone's and a desk's
// window, from a disk and from a server, from the front page and from a page in a folder.
func TestBrowserSearch(t *testing.T) {
	dir := demoSite(t, "customers")
	type reader struct {
		window
		start  string
		server bool
	}
	var readers []reader
	for _, w := range windows {
		readers = append(readers, reader{w, "index.html", false}, reader{w, "developing/one-shot-developer.html", false},
			reader{w, "developing/one-shot-developer.html", true})
	}
	inTabs(t, dir, len(readers), func(tab *tab, i int) {
		r := readers[i]
		address, from := tab.fileURL(r.start), "disk"
		if r.server {
			address, from = tab.serverURL(r.start), "server"
		}
		add := func(format string, args ...any) {
			t.Errorf("%s, %s, from a %s: %s", r.start, r.name, from, fmt.Sprintf(format, args...))
		}
		done := false
		tab.visit(t, address, r.window, func(l look) {
			if done {
				return
			}
			done = true
			searchByKeyboard(t, tab, l, add)
			tab.tell(func(text string) { add("%s", text) })
		}, func(text string) { add("%s", text) })
	})
}

func searchByKeyboard(t *testing.T, tab *tab, l look, add func(string, ...any)) {
	press := func(keys string) {
		if err := chromedp.Do(tab.ctx, chromedp.KeyEvent(keys)); err != nil {
			add("pressing %q: %v", keys, err)
		}
	}
	// until asks again and again: the entries load, and screen readers are told late.
	until := func(what, expression string) bool {
		for began := time.Now(); !ask[bool](t, tab, expression); time.Sleep(rest) {
			if time.Since(began) > 5*time.Second {
				add("%s does not come about: %s", what, ask[string](t, tab, `document.querySelector('.find').outerHTML`))
				return false
			}
		}
		return true
	}
	// axe-core asks for the style sheets again, which the page's policy refuses it. That is
	// no fault of the page, so what is noted meanwhile is dropped.
	access := func(with string) {
		tab.tell(func(text string) { add("%s", text) })
		faultsOfAccess(t, tab, allRules, func(text string) { add("with %s: %s", with, text) })
		time.Sleep(rest)
		tab.tell(func(string) {})
	}
	inField := `document.activeElement.id === 'Find'`
	closed := `document.querySelector('.found').hidden`
	rows := `document.querySelectorAll('.found .find-link')`

	if ask[bool](t, tab, `'findPages' in window`) {
		add("the entries are loaded before anybody searches")
	}
	for range 12 {
		if ask[bool](t, tab, inField) {
			break
		}
		press(kb.Tab)
	}
	if !until("the focus in the field", inField) {
		return
	}

	press("wetting age")
	if !until("a list", rows+`.length > 0 && !`+closed) {
		return
	}
	if n := ask[int](t, tab, rows+`.length`); n > 8 {
		add("%d pages are shown", n)
	}
	first := ask[string](t, tab, rows+`[0].textContent`)
	if !strings.Contains(strings.ToLower(first), "wetting agent") {
		add("the first page found says %q", first)
	}
	if marks := ask[[]string](t, tab, `[...`+rows+`[0].querySelectorAll('mark')].map(m => m.textContent.toLowerCase())`); len(marks) < 2 {
		add("of what was looked for only %q is marked", marks)
	}
	until("the number of pages said aloud", `/^[1-9][0-9]* pages?/.test(document.querySelector('.find .unseen[role=status]').textContent)`)
	access("the list open")
	faultsOfLayout(t, tab, l, func(text string) { add("with the list open: %s", text) })
	if box := ask[[]float64](t, tab, `(r => [r.left, r.right, r.bottom])(document.querySelector('.found').getBoundingClientRect())`); box[0] < 0 || box[1] > float64(l.width) || box[2] > float64(l.height) {
		add("the list reaches out of the window: %v", box)
	}

	// Down to the first page, to the second, and back up to the field.
	at := func(i int) string { return fmt.Sprintf(`document.activeElement === %s[%d]`, rows, i) }
	press(kb.ArrowDown)
	until("the focus on the first page", at(0))
	press(kb.ArrowUp)
	until("the focus back in the field", inField)
	press(kb.ArrowDown)
	press(kb.Escape)
	until("the list closed by Escape", closed+` && `+inField)
	if v := ask[string](t, tab, `document.activeElement.value`); v != "wetting age" {
		add("closing the list leaves %q in the field", v)
	}
	press(kb.ArrowDown)
	until("the list open again", `!`+closed)
	press(kb.Escape)
	press(kb.Escape) // the browser's own: it empties the field
	until("an empty field", inField+` && document.activeElement.value === ''`)

	press("qqxqq")
	until("that nothing is found", `!`+closed+` && /Nothing found/.test(document.querySelector('.find .unseen').textContent)`)
	access("nothing found")
	press(kb.Escape)
	press(kb.Escape)

	// Enter in the field opens the first page.
	press("washing")
	if !until("a list", rows+`.length > 0 && !`+closed) {
		return
	}
	to := ask[string](t, tab, rows+`[0].href`)
	if !strings.Contains(to, "developing/washing-film.html") {
		add("washing leads to %s", to)
	}
	press(kb.Enter)
	until("the page found", fmt.Sprintf(`location.href === %q && document.readyState === 'complete'`, to))
	if h := ask[string](t, tab, `(document.querySelector('h1') || {textContent: ''}).textContent`); !strings.Contains(strings.ToLower(h), "wash") {
		add("the page found is called %q", h)
	}
	// The field can be used on the page found as well.
	until("the box on that page", `document.documentElement.classList.contains('scripted') && document.querySelector('#Find') !== null`)
}
