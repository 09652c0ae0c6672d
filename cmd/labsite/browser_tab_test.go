//go:build browser

package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// window is a window size and two colour schemes: a page is loaded in the first and switched to the
// second, as a reader's machine does at nightfall.
type window struct {
	name          string
	width, height int64 // CSS pixels
	phone         bool
	schemes       [2]string // prefers-color-scheme
}

var (
	phone   = window{"phone", 390, 844, true, [2]string{"light", "dark"}}
	desk    = window{"desk", 1280, 800, false, [2]string{"dark", "light"}}
	windows = []window{phone, desk}
)

// look is a window in one of its schemes.
type look struct {
	window
	scheme string
}

func (l look) name() string { return l.window.name + ", " + l.scheme }

// looks are a window in both of its schemes.
func (w window) looks() []look { return []look{{w, w.schemes[0]}, {w, w.schemes[1]}} }

// tabs is how many pages of a test are open at once: one more than a small machine has processors,
// since a page that settles also waits.
const tabs = 3

const (
	// again is how long to wait before asking once more whether something has happened.
	again = 15 * time.Millisecond
	// tooLong ends waiting for what never happens. It is no bound on speed: a busy machine may take
	// minutes.
	tooLong = 10 * time.Minute
)

// tab is an open tab and the addresses of the folder for it.
type tab struct {
	ctx    context.Context
	dir    string
	server string
	axe    string // axe-core's source
	mute   bool   // scripts do not run

	mu      sync.Mutex
	notes   []string
	sources map[network.RequestID]string
}

// inTabs calls do for 0 up to but not including n, each time with a tab of a browser. Tabs share
// nothing: each has its own store and cache.
func inTabs(t *testing.T, browser context.Context, dir string, n int, do func(tab *tab, i int)) {
	t.Helper()
	axe, err := os.ReadFile(toolFile(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(http.FileServer(http.Dir(dir)))
	defer server.Close()
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(tabs, n) {
		// A failed test ends its goroutine, so the tab is opened and closed in the same one.
		wg.Go(func() {
			tab, done := openTab(t, browser, dir, server.URL, chromedp.WithNewBrowserContext())
			defer done()
			tab.axe = string(axe)
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(tab, i)
			}
		})
	}
	wg.Wait()
	if t.Failed() {
		t.FailNow()
	}
}

// openTab opens a tab; in the context of another tab it shares that tab's store.
func openTab(t *testing.T, browser context.Context, dir, server string, options ...chromedp.ContextOption) (*tab, func()) {
	tab := &tab{dir: dir, server: server, sources: map[network.RequestID]string{}}
	ctx, done := chromedp.NewContext(browser, append(options, chromedp.WithListener(tab.listen))...)
	tab.ctx = ctx
	if err := chromedp.Do(ctx); err != nil {
		t.Errorf("opening a tab: %v", err)
	}
	must(t, call(tab, network.Enable, network.EnableParams{}))
	must(t, call(tab, log.Enable, cdp.Empty{}))
	if _, demo := demoFolders.Load(dir); demo {
		_, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: onDemoDay})
		must(t, err)
	}
	return tab, done
}

// listen notes what a page must not do. It is called on the goroutine that reads from the browser.
func (tab *tab) listen(ev any) {
	tab.mu.Lock()
	defer tab.mu.Unlock()
	note := func(format string, args ...any) { tab.notes = append(tab.notes, fmt.Sprintf(format, args...)) }
	switch ev := ev.(type) {
	case *runtime.EventConsoleAPICalled:
		if kind := string(ev.Type); kind == "error" || kind == "warning" || kind == "assert" {
			var words []string
			for _, a := range ev.Args {
				words = append(words, strings.Trim(string(a.Value)+a.Description, `"`))
			}
			note("console %s: %s", kind, strings.Join(words, " "))
		}
	case *runtime.EventExceptionThrown:
		text := ev.ExceptionDetails.Text
		if ev.ExceptionDetails.Exception != nil {
			text += " " + ev.ExceptionDetails.Exception.Description
		}
		note("exception: %s", text)
	case *log.EventEntryAdded:
		// Breaches of the content security policy are logged here too.
		if level := string(ev.Entry.Level); level == "error" || level == "warning" {
			note("browser's log, %s: %s %s", level, ev.Entry.Text, tab.within(ev.Entry.URL))
		}
	case *network.EventRequestWillBeSent:
		tab.sources[ev.RequestID] = ev.Request.URL
		if !tab.own(ev.Request.URL) {
			note("asks for something outside the site: %s", ev.Request.URL)
		}
	case *network.EventResponseReceived:
		if ev.Response.Status >= 400 {
			note("request failed: %s, status %d", tab.within(ev.Response.URL), ev.Response.Status)
		}
	case *network.EventLoadingFailed:
		if !ev.Canceled || ev.BlockedReason != "" {
			note("request failed: %s, %s %s", tab.within(tab.sources[ev.RequestID]), ev.ErrorText, ev.BlockedReason)
		}
	}
}

func (tab *tab) fileURL(name string) string {
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(tab.dir) + "/" + name}).String()
}

func (tab *tab) serverURL(name string) string {
	return tab.server + (&url.URL{Path: "/" + name}).EscapedPath()
}

func (tab *tab) own(address string) bool {
	return strings.HasPrefix(address, tab.fileURL("")) || strings.HasPrefix(address, tab.server+"/") ||
		strings.HasPrefix(address, "data:") || strings.HasPrefix(address, "blob:") || address == "about:blank"
}

// within shortens an address to the path in the folder.
func (tab *tab) within(address string) string {
	address = strings.TrimPrefix(address, tab.fileURL(""))
	return strings.TrimPrefix(address, tab.server+"/")
}

// visit loads a page in the first of several looks, switches it to each of the others, as when a
// reader turns the device or night falls, and calls see for each when the page has settled. It goes
// there straight from the last page of the same site: with an empty page between the two the
// browser would start a process for each, which takes as long as the page.
func (tab *tab) visit(t *testing.T, address string, looks []look, see func(look), trouble func(string)) {
	ctx, cancel := context.WithTimeout(tab.ctx, tooLong)
	defer cancel()
	// the old page need not be laid out again in the next window
	ask[bool](t, tab, `document.documentElement?.style.setProperty('display', 'none', 'important'), true`)
	for i, l := range looks {
		must(t, call(tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
			Width: l.width, Height: l.height, DeviceScaleFactor: 1, Mobile: l.phone}))
		must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: l.scheme}}}))
		if i == 0 {
			tab.tell(func(string) {}) // what the last page reported late
			if err := tab.load(ctx, address); err != nil {
				trouble(fmt.Sprintf("does not open: %v", err))
				return
			}
		}
		if !tab.settle(t) {
			trouble("does not come to rest")
			return
		}
		see(l)
	}
}

// load loads a page even if its address differs from that of the open page only after #, which by
// itself loads nothing.
func (tab *tab) load(ctx context.Context, address string) error {
	if strings.Contains(address, "#") {
		if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
			return err
		}
	}
	return chromedp.Do(ctx, chromedp.Navigate(address))
}

// settle waits until the page has loaded everything that it asked for, and has painted it.
func (tab *tab) settle(t *testing.T) bool {
	// Polled, since without scripts no promise is ever kept.
	for began := time.Now(); !yes(t, tab, `document.readyState === 'complete' && document.fonts.status === 'loaded'`); time.Sleep(again) {
		if time.Since(began) > tooLong {
			return false
		}
	}
	if !tab.mute {
		ask[bool](t, tab, painted)
	}
	return true
}

// painted is true once the scripts that the page loads late are there, once it has painted what it
// put off, one figure at each timer (paintWaiting in themes/hand/start.js), and once transitions
// have ended.
const painted = `(async () => {
	for (let n = -1; window.later && n !== later.asked.size;) {
		n = later.asked.size;
		await Promise.allSettled([...later.asked.values()]);
	}
	const turns = 'hand' in window ? document.querySelectorAll('figure').length + 6 : 2;
	for (let i = 0; i < turns; i++) await new Promise(f => setTimeout(f, 0));
	const moving = [document, ...[...document.querySelectorAll('*')].map(e => e.shadowRoot).filter(r => r)].flatMap(r => r.getAnimations());
	await Promise.all(moving.filter(a => a.effect.getComputedTiming().endTime !== Infinity).map(a => a.finished.catch(() => {})));
	return true;
})()`

// tell reports what was noted since it was last called.
func (tab *tab) tell(add func(string)) {
	tab.mu.Lock()
	notes := tab.notes
	tab.notes = nil
	tab.mu.Unlock()
	for _, n := range notes {
		add(n)
	}
}

// ask evaluates an expression in the page, and awaits a promise. The browser's own tools may do so
// whatever the content security policy.
func ask[T any](t *testing.T, tab *tab, expression string) T {
	v, err := answer[T](tab, expression)
	if err != nil {
		t.Errorf("asking the page for %.80s: %v", expression, err)
	}
	return v
}

// yes evaluates a condition that is asked again until it is true. A page that is just being left
// gives no answer, and one that has not made the element yet throws; both count as "not yet".
func yes(t *testing.T, tab *tab, expression string) bool {
	v, err := answer[bool](tab, expression)
	var leaving *cdproto.Error
	var thrown *chromedp.ExceptionError
	if err != nil && !errors.As(err, &leaving) && !errors.As(err, &thrown) {
		t.Errorf("asking the page for %.80s: %v", expression, err)
	}
	return v && err == nil
}

func answer[T any](tab *tab, expression string) (T, error) {
	ctx, cancel := context.WithTimeout(tab.ctx, tooLong)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// call sends the browser a command that returns nothing.
func call[P any](tab *tab, command cdp.Command[P, cdp.Empty], params P) error {
	_, err := chromedp.Call(tab.ctx, command, params)
	return err
}

// must reports trouble of the harness itself. It does not end the test, since it is not called on
// the test's own goroutine; inTabs ends it.
func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Error("the browser: ", err)
	}
}
