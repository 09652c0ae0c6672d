//go:build browser

package main

import (
	"bytes"
	"fmt"
	"io"
	"log"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// savedRecord saves the record of a finished run like a reader, and returns what was saved.
func (r *reader) savedRecord() string {
	r.t.Helper()
	return r.downloaded(func() { r.tapButton("Save the record") })
}

// downloaded does something that has the browser save a file, and returns its text.
func (r *reader) downloaded(do func()) string {
	r.t.Helper()
	dir := r.t.TempDir()
	_, err := chromedp.CallBrowser(r.ctx, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{Behavior: "allow", DownloadPath: dir, BrowserContextID: chromedp.FromContext(r.ctx).BrowserContextID})
	must(r.t, err)
	do()
	for began := time.Now(); time.Since(began) < tooLong; time.Sleep(again) {
		files, _ := filepath.Glob(filepath.Join(dir, "record-*"))
		for _, f := range files {
			raw, err := os.ReadFile(f)
			if err == nil && strings.HasSuffix(string(raw), "}\n") && strings.HasSuffix(f, ".json") {
				return string(raw)
			}
		}
	}
	r.t.Error("no record is saved")
	return ""
}

// enter sets fields of a page as if by typing.
func (r *reader) enter(values map[string]string) {
	r.t.Helper()
	for name, text := range values {
		if !r.is(fmt.Sprintf(`(() => {
			const field = document.querySelector(%q);
			field.value = %q;
			for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, {bubbles: true}));
			return field.getAttribute('aria-invalid') !== 'true';
		})()`, fieldOf(name), text)) {
			r.t.Errorf("%s does not take %s", name, text)
		}
	}
}

// draws draws initials with the mouse or a finger: several strokes, not just a tap.
func (r *reader) draws() {
	r.t.Helper()
	r.is(`document.querySelector('.run-sheet .initials-pad').scrollIntoView({block: 'center', behavior: 'instant'}), true`)
	box := ask[[]float64](r.t, r.tab, `(b => [b.left, b.top, b.width, b.height])(document.querySelector('.run-sheet .initials-pad').getBoundingClientRect())`)
	at := func(kind string, x, y float64) {
		must(r.t, call(r.tab, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: input.DispatchMouseEventType(kind), X: box[0] + x*box[2], Y: box[1] + y*box[3], Button: "left", Buttons: 1, ClickCount: 1}))
	}
	at("mousePressed", .2, .2)
	at("mouseReleased", .2, .2)
	r.looked()
	if !r.is(`document.querySelector('.run-buttons .button').disabled`) {
		r.t.Error("a dot counts as drawn initials")
	}
	at("mousePressed", .2, .8)
	for i := range 12 {
		at("mouseMoved", .2+float64(i)*.05, .8-float64(i%4)*.2)
	}
	at("mouseReleased", .75, .2)
	r.until("the drawing", `!document.querySelector('.run-buttons .button').disabled`)
}

// runThrough runs the process of a page from start to end, and initials its holds; if draw is set,
// it draws the first initials.
func (r *reader) runThrough(draw bool) {
	r.t.Helper()
	r.tap(`.run-desk .button`)
	r.until("the run sheet", `!!document.querySelector('dialog[open]')`)
	over := `/^The process is over$/.test(document.querySelector('.run-title').textContent)`
	for n := 0; !r.is(over) && !r.t.Failed(); n++ {
		switch {
		case n > 100:
			r.t.Error("the run does not end")
		case r.is(`!document.querySelector('.run-black').hidden`):
			r.is(`document.querySelector('.run-black').dispatchEvent(new Event('pointerdown'))`)
			r.until("the run sheet after a long press", `document.querySelector('.run-black').hidden`)
		case r.is(`document.querySelector('.run-title').textContent.startsWith('Hold: ')`):
			if draw {
				r.draws()
			} else {
				r.typeInto(".run-sheet .initials-field", "KM")
			}
			draw = false
			r.tapButton("Initialled")
		default:
			r.tap(`.run-buttons .button:first-child`)
		}
		r.looked()
	}
}

// TestBrowserRecords goes full circle with pages of the demo: a run, or readings, saved as a file,
// even while the site is out of reach; recorded; published; and charted.
func TestBrowserRecords(t *testing.T) {
	t.Parallel()
	from, to := filepath.Join(t.TempDir(), "content"), filepath.Join(t.TempDir(), "site")
	must(t, os.CopyFS(from, os.DirFS(filepath.Join("..", "..", "content"))))
	labsite := func(args ...string) string {
		t.Helper()
		var out, errs bytes.Buffer
		if run(t.Context(), append(args, "--from", from), &out, &errs) != 0 {
			t.Fatalf("%v: %s%s", args, &out, &errs)
		}
		return out.String()
	}
	labsite("publish", "--to", to, "--audience", "staff")
	mixed := time.Now().AddDate(0, 0, -5).Format(time.DateOnly)
	strip := map[string]string{"drop": "3 mm", "now": "18 °C", "at_work": "35.0 °C", "ld_red": "0.82", "ld_green": "0.80", "ld_blue": "0.77",
		"hd_red": "1.95", "hd_green": "1.88", "hd_blue": "1.98", "dmin_red": "0.11", "dmin_green": "0.09", "dmin_blue": "0.11"}
	second := maps.Clone(strip)
	second["ld_green"] = "0.81"
	rounds := []struct {
		page, chart string
		readings    map[string]string
		points      int // on its chart afterwards
	}{
		{"bench/stock", "ordered", nil, 1},
		{"bench/hand-line-check", "rolls_left", map[string]string{"working_says": "20.1 °C", "reference_says": "20.0 °C", "logged": "40 rolls", "clear": "35 s", "fresh": "25 s", "stop_mixed": mixed}, 1},
		{"bench/silver-drum", "drum_filled", map[string]string{"rolls": "40 rolls", "prints": "30 prints", "drum_now": "20 l"}, 1},
		{"bench/replenishment-sheet", "given_daily", map[string]string{"small": "60 sheets"}, 1},
		{"mixing/bottle-yield", "bottles", nil, 1},
		{"bench/colour-startup", "kept_low", strip, 2},
		{"bench/colour-startup", "kept_low", second, 2},
	}
	readers(t, to, []string{"records, desk"}, func(r *reader, _ string) {
		var down atomic.Bool
		server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
			if down.Load() {
				panic(http.ErrAbortHandler)
			}
			w.Header().Set("Cache-Control", "no-store")
			http.FileServer(http.Dir(to)).ServeHTTP(w, q)
		}))
		server.Config.ErrorLog = log.New(io.Discard, "", 0)
		defer server.Close()
		r.server = server.URL
		r.clockAhead()
		var files []string
		for i, x := range rounds {
			r.open(r.serverURL(x.page + ".html"))
			r.enter(x.readings)
			var made string
			if x.page == "mixing/bottle-yield" {
				r.tap(`.record-desk .button`)
				r.until("the form of a record", `!!document.querySelector('.record-form:not([hidden])')`)
				down.Store(true)
				r.typeInto(".record-desk .initials-field", "KM")
				r.typeInto("#Record-note", `<b>"half", full`)
				r.picture("record-desk", ".record-desk")
				faultsOfAccess(t, r.tab, allRules, func(text string) { t.Errorf("with the offer of a record: %s", text) })
				made = r.downloaded(func() { r.tap(`.record-buttons .button`) })
			} else {
				r.runThrough(i == 0)
				down.Store(true)
				r.typeInto("#Run-note", `<b>"half", full`)
				r.picture("run-desk-over", "dialog")
				made = r.savedRecord()
				r.tapButton("Close this run")
			}
			down.Store(false)
			at := filepath.Join(from, fmt.Sprintf("handed-%d.json", i))
			must(t, os.WriteFile(at, []byte(made), 0o600))
			files = append(files, at)
		}
		said := labsite(append([]string{"record"}, files...)...)
		if strings.Contains(said, "unfinished") || strings.Count(said, "Recorded ") != len(rounds) {
			t.Errorf("record says %s", said)
		}
		labsite("publish", "--to", to, "--audience", "staff")
		for _, x := range rounds {
			r.open(r.serverURL(x.page + ".html"))
			points := fmt.Sprintf(`document.querySelectorAll('#Chart-%s .chart-wide .chart-mark title').length`, x.chart)
			if n := ask[int](t, r.tab, points); n != x.points {
				t.Errorf("%s charts %d records, want %d", x.page, n, x.points)
			}
			if said := labsite("record", "--list", x.page); !strings.Contains(said, `<b>"half", full`) {
				t.Errorf("kept is %s", said)
			}
		}
	})
}
