//go:build browser

package main

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// window is a size to look at a page in, and the colour schemes in the order in
// which they come: a page is loaded in the first and changed to the second, as a
// reader's machine does at nightfall.
type window struct {
	name          string
	width, height int64 // CSS pixels
	phone         bool
	schemes       [2]string // prefers-color-scheme
}

var windows = []window{
	{"phone", 390, 844, true, [2]string{"light", "dark"}},
	{"desk", 1280, 800, false, [2]string{"dark", "light"}},
}

// look is a window in one of its schemes.
type look struct {
	window
	scheme string
}

func (l look) name() string { return l.window.name + ", " + l.scheme }

// tabs is how many pages are open at once; the machine has two cores.
const tabs = 2

const (
	// rest is how long a page may still be busy after it has loaded.
	rest = 50 * time.Millisecond
	// tooLong ends a page that does not come to rest.
	tooLong = 30 * time.Second
)

// tab is an open tab and where it finds the folder.
type tab struct {
	ctx    context.Context
	dir    string
	server string
	axe    string // axe-core's source

	mu      sync.Mutex
	notes   []string
	sources map[network.RequestID]string
}

// inTabs calls do for 0 up to but not including n, each time with a tab of one
// Chromium that nobody else uses meanwhile.
func inTabs(t *testing.T, dir string, n int, do func(tab *tab, i int)) {
	t.Helper()
	axe, err := os.ReadFile(toolFile(t, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(http.FileServer(http.Dir(dir)))
	defer server.Close()
	browser := startChromium(t)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(tabs, n) {
		// A failed test ends its goroutine; the tab is opened and closed in it.
		wg.Go(func() {
			tab, done := openTab(t, browser, dir, server.URL)
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

// startChromium starts a browser that knows nobody and asks nobody.
func startChromium(t *testing.T) context.Context {
	t.Helper()
	path := os.Getenv("CHROMIUM")
	if path == "" {
		var err error
		if path, err = exec.LookPath("chromium"); err != nil {
			t.Fatalf("%v: run `make tools`, or set CHROMIUM to the path of a Chromium", err)
		}
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.UserDataDir(t.TempDir()),
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", false),
	)
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // Chromium's sandbox refuses the superuser
	}
	allocator, end := chromedp.NewExecAllocator(t.Context(), options...)
	browser, closeBrowser := chromedp.NewContext(allocator)
	t.Cleanup(func() {
		closeBrowser()
		end()
	})
	if err := chromedp.Do(browser); err != nil {
		t.Fatalf("starting %s: %v", path, err)
	}
	return browser
}

func openTab(t *testing.T, browser context.Context, dir, server string) (*tab, func()) {
	tab := &tab{dir: dir, server: server, sources: map[network.RequestID]string{}}
	ctx, done := chromedp.NewContext(browser, chromedp.WithListener(tab.listen))
	tab.ctx = ctx
	if err := chromedp.Do(ctx); err != nil {
		t.Errorf("opening a tab: %v", err)
	}
	must(t, call(tab, network.Enable, network.EnableParams{}))
	must(t, call(tab, log.Enable, cdp.Empty{}))
	return tab, done
}

// listen notes what a page must not do. It runs on the goroutine that reads from
// the browser.
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
		// Also where breaches of the content security policy are told.
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

// visit opens a page and calls see for each scheme, when the page is at rest.
func (tab *tab) visit(t *testing.T, address string, w window, see func(look), trouble func(string)) {
	ctx, cancel := context.WithTimeout(tab.ctx, tooLong)
	defer cancel()
	must(t, call(tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: w.width, Height: w.height, DeviceScaleFactor: 1, Mobile: w.phone}))
	must(t, chromedp.Do(ctx, chromedp.Navigate("about:blank")))
	tab.tell(func(string) {}) // what the page before said late
	for i, scheme := range w.schemes {
		must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}))
		if i == 0 {
			if err := chromedp.Do(ctx, chromedp.Navigate(address)); err != nil {
				trouble(fmt.Sprintf("does not open: %v", err))
				return
			}
		}
		if !tab.settle(t) {
			trouble("does not come to rest")
			return
		}
		see(look{w, scheme})
	}
}

// settle waits until the page has loaded all that it asked for.
func (tab *tab) settle(t *testing.T) bool {
	// Asked again and again, since without scripts no promise is ever kept.
	for began := time.Now(); !ask[bool](t, tab, `document.readyState === 'complete' && document.fonts.status === 'loaded'`); time.Sleep(rest) {
		if time.Since(began) > tooLong {
			return false
		}
	}
	time.Sleep(rest)
	return true
}

// tell hands on what was noted since it was last called.
func (tab *tab) tell(add func(string)) {
	tab.mu.Lock()
	notes := tab.notes
	tab.notes = nil
	tab.mu.Unlock()
	for _, n := range notes {
		add(n)
	}
}

// ask has the page work out an expression; a promise is waited for. The browser's
// own tools may do so against any content security policy.
func ask[T any](t *testing.T, tab *tab, expression string) T {
	ctx, cancel := context.WithTimeout(tab.ctx, tooLong)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Errorf("asking the page for %.80s: %v", expression, err)
	}
	return v
}

// call gives the browser a command that answers nothing.
func call[P any](tab *tab, command cdp.Command[P, cdp.Empty], params P) error {
	_, err := chromedp.Call(tab.ctx, command, params)
	return err
}

// must notes trouble of the harness itself. It does not end the test, since it is
// called on other goroutines than the test's own; inTabs ends it.
func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Error("the browser: ", err)
	}
}
