//go:build browser

package main

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestBrowserSearch finds pages like a reader with a keyboard: in a phone's and a desk's window,
// from a disk and from a server, from the front page and from a page in a folder.
func TestBrowserSearch(t *testing.T) {
	t.Parallel()
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
	inTabs(t, theChromium(t), dir, len(readers), func(tab *tab, i int) {
		r := readers[i]
		address, from := tab.fileURL(r.start), "disk"
		if r.server {
			address, from = tab.serverURL(r.start), "server"
		}
		add := func(format string, args ...any) {
			t.Errorf("%s, %s, from a %s: %s", r.start, r.name, from, fmt.Sprintf(format, args...))
		}
		done := false
		tab.visit(t, address, r.looks(), func(l look) {
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
	// until waits, since entries have to load, and announcements come late.
	until := func(what, expression string) bool {
		for began := time.Now(); !yes(t, tab, expression); time.Sleep(again) {
			if time.Since(began) > tooLong {
				add("%s does not come about: %s", what, ask[string](t, tab, `document.querySelector('.find').outerHTML`))
				return false
			}
		}
		return true
	}
	// A link that the list happens to cover by half is not too small a target, so sizes are checked
	// only in the box and its list.
	access := func(with string) {
		say := func(text string) { add("with %s: %s", with, text) }
		faultsOfAccess(t, tab, allRules+`, rules: {'target-size': {enabled: false}}`, say)
		faultsOfAccessIn(t, tab, `document.querySelector('.find')`, `{type: 'rule', values: ['target-size']}`, say)
		tab.tell(func(text string) { add("%s", text) })
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
	// The field works on the page found as well.
	until("the box on that page", `document.documentElement.classList.contains('scripted') && document.querySelector('#Find') !== null`)
}

// TestBrowserSearchInParts searches a site whose search is in parts, from a disk and from a server:
// what a question loads, what stays on the screen meanwhile, and what is said if a part does not
// load.
func TestBrowserSearchInParts(t *testing.T) {
	t.Parallel()
	content, dir := t.TempDir(), filepath.Join(t.TempDir(), "site")
	if err := measuredContent(content, 300); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if status := run(t.Context(), []string{"publish", "--from", content, "--to", dir}, &stdout, &stderr); status != 0 {
		t.Fatalf("publish ended with status %d\n%s", status, &stderr)
	}
	readers(t, dir, []string{"disk, phone", "server, desk"}, func(r *reader, name string) {
		address := r.serverURL("shelf-00/sheet-0003.html")
		if strings.HasPrefix(name, "disk") {
			address = r.fileURL("shelf-00/sheet-0003.html")
		}
		rows, said := `document.querySelectorAll('.found .find-link')`, `document.querySelector('.find .unseen[role=status]').textContent`
		r.open(address)
		// Records each script as it is put into the page, and the fewest rows shown at any time
		// since the first ones.
		r.is(`window.asked = [], window.fewest = null, new MutationObserver(all => { for (const m of all) for (const n of m.addedNodes) if (n.src) asked.push(n.src.slice(new URL('../', location.href).href.length)); }).observe(document.head, {childList: true}),
			new MutationObserver(() => { const n = ` + rows + `.length; if (fewest !== null) fewest = Math.min(fewest, n); }).observe(document.querySelector('.found-list'), {childList: true}), true`)
		r.is(`document.querySelector('#Find').focus(), true`)
		r.until("the first file", `'findPages' in window`)
		r.press("syrup")
		r.until("pages with syrup", rows+`.length === 8`)
		r.until("their number said aloud", `/^300 pages; the first 8 are shown$/.test(`+said+`)`)
		if !r.is(rows + `[0].querySelector('mark').textContent.toLowerCase() === 'syrup'`) {
			t.Errorf("%s: the first row says %s", name, ask[string](t, r.tab, rows+`[0].textContent`))
		}
		r.is(`window.fewest = 8, true`)
		r.press(" strings")
		r.until("pages with both words", `[...`+rows+`[0].querySelectorAll('mark')].some(m => m.textContent === 'strings')`)
		if n := ask[int](t, r.tab, `fewest`); n != 8 {
			t.Errorf("%s: the list went down to %d rows before the next answer", name, n)
		}
		asked := ask[[]string](t, r.tab, `asked`)
		sum, seen := 0, map[string]bool{}
		for _, file := range asked {
			info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(file)))
			if err != nil || seen[file] {
				t.Errorf("%s: asked for %s (again: %v), %v", name, file, seen[file], err)
				continue
			}
			seen[file] = true
			sum += int(info.Size())
		}
		if len(asked) < 4 || sum > 150e3 {
			t.Errorf("%s: %d bytes are loaded, %v", name, sum, asked)
		}

		// Enter before there is an answer opens the first page once there is one.
		r.is(`document.querySelector('#Find').select(), true`)
		r.press("277")
		r.press(kb.Enter)
		r.until("the page of that number", `document.readyState === 'complete' && /sheet-0277/.test(location.href)`)
	})
	readers(t, dir, []string{"without parts, desk"}, func(r *reader, name string) {
		if err := os.RemoveAll(filepath.Join(dir, "find-words")); err != nil {
			t.Fatal(err)
		}
		r.open(r.serverURL("shelf-00/sheet-0003.html"))
		r.is(`document.querySelector('#Find').focus(), true`)
		r.press("syrup")
		r.until("what is wrong said aloud", `/^A part of what can be found did not load/.test(document.querySelector('.find .unseen[role=status]').textContent)`)
		r.until("what is wrong shown", `!document.querySelector('.found').hidden && /did not load/.test(document.querySelector('.found-count').textContent)`)
		r.tell(func(text string) {
			if !strings.Contains(text, "404") && !strings.Contains(text, "MIME type") {
				t.Error(text)
			}
		})
	})
}

// TestBrowserSearchKept searches a kept copy whose server is gone, first while parts of the search
// are missing, then with all of them.
func TestBrowserSearchKept(t *testing.T) {
	t.Parallel()
	content, dir := t.TempDir(), filepath.Join(t.TempDir(), "site")
	if err := measuredContent(content, 100); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if status := run(t.Context(), []string{"publish", "--from", content, "--to", dir}, &stdout, &stderr); status != 0 {
		t.Fatalf("publish ended with status %d\n%s", status, &stderr)
	}
	var down, slow atomic.Bool
	slow.Store(true)
	files := http.FileServer(http.Dir(dir))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if down.Load() || slow.Load() && strings.HasPrefix(r.URL.Path, "/find-words/") {
			if c, _, err := w.(http.Hijacker).Hijack(); err == nil {
				c.Close()
			}
			return
		}
		files.ServeHTTP(w, r)
	}))
	defer server.Close()
	readers(t, dir, []string{"kept, phone"}, func(r *reader, _ string) {
		r.server = server.URL
		said := `document.querySelector('.find .unseen[role=status]').textContent`
		look := func() {
			r.open(server.URL + "/shelf-01/sheet-0077.html")
			r.until("the state of the copy", `document.querySelector('.kept').textContent.includes('copy kept') || document.querySelector('.kept').textContent.includes('Kept for')`)
			r.is(`document.querySelector('#Find').focus(), true`)
			r.press("strings")
		}
		r.open(server.URL + "/shelf-00/sheet-0003.html")
		r.tap(`.kept button:not([hidden])`)
		r.until("the copy, whose search is not there", `document.querySelector('.kept').textContent.includes('Kept for offline') && document.querySelector('.kept').textContent.includes('still being copied')`)
		down.Store(true)
		look()
		r.until("that a part is missing", `/Try again when the site can be reached/.test(`+said+`)`)

		down.Store(false)
		slow.Store(false)
		for {
			r.open(server.URL + "/shelf-00/sheet-0003.html")
			r.until("the copy", `document.querySelector('.kept').textContent.includes('Kept for offline')`)
			if r.is(`!document.querySelector('.kept').textContent.includes('still being copied')`) {
				break
			}
		}
		down.Store(true)
		look()
		r.until("an answer from the copy", `/^100 pages/.test(`+said+`) && document.querySelectorAll('.found .find-link').length === 8`)
		r.tell(func(text string) { // a server that is down is asked, and that fails
			if !strings.Contains(text, "request failed") && !strings.Contains(text, "Failed to load resource") && !strings.Contains(text, "ERR_") {
				t.Error(text)
			}
		})
	})
}
