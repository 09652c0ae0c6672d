//go:build browser

package preview

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"labsite/recipes/script/chromium"
)

// browser starts a Chromium with one empty tab.
func browser(t testing.TB) context.Context {
	t.Helper()
	ctx, end, err := chromium.Start(t.TempDir(), chromedp.WithListener(func(e any) {
		if e, ok := e.(*runtime.EventExceptionThrown); ok {
			text := e.ExceptionDetails.Text
			if e.ExceptionDetails.Exception != nil {
				text += " " + e.ExceptionDetails.Exception.Description
			}
			t.Error("a script failed: ", text)
		}
	}))
	must(t, err)
	t.Cleanup(end)
	_, err = chromedp.Call(ctx, runtime.Enable, cdp.Empty{})
	must(t, err)
	return ctx
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func ask[T any](t testing.TB, ctx context.Context, js string) T {
	t.Helper()
	ctx, cancel := context.WithTimeout(ctx, tooLong)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%.120s: %v", js, err)
	}
	return v
}

func visit(t testing.TB, ctx context.Context, address string) {
	t.Helper()
	must(t, chromedp.Do(ctx, chromedp.Navigate(address)))
	await(t, ctx, `!document.querySelector('#Proof').shadowRoot.querySelector('.bar').textContent.includes('Waiting')`)
}

// does has the page do something.
func does(t testing.TB, ctx context.Context, js string) {
	t.Helper()
	ask[bool](t, ctx, js+"; true")
}

// yes evaluates a condition that is asked again until it is true. A page that is just being left
// gives no answer, which counts as "not yet".
func yes(t testing.TB, ctx context.Context, js string) bool {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`!!(`+js+`)`, chromedp.EvalAwaitPromise))
	var leaving *cdproto.Error
	var thrown *chromedp.ExceptionError // about an element that does not exist yet
	if err != nil && !errors.As(err, &leaving) && !errors.As(err, &thrown) {
		t.Fatalf("%.120s: %v", js, err)
	}
	return v && err == nil
}

// await waits until an expression holds in the page.
func await(t testing.TB, ctx context.Context, js string) {
	t.Helper()
	for end := time.Now().Add(tooLong); !yes(t, ctx, js); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("never came true: %s\n%s", js, text(t, ctx, `document.querySelector('#Proof').shadowRoot.textContent + '\n' + document.body.innerText.slice(0, 1500)`))
		}
	}
}

func text(t testing.TB, ctx context.Context, js string) string {
	t.Helper()
	return ask[string](t, ctx, `String(`+js+`)`)
}

// picture saves a picture of the tab if PICTURES names a folder.
func picture(t testing.TB, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("PICTURES")
	if dir == "" {
		return
	}
	time.Sleep(200 * time.Millisecond)
	b, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	must(t, err)
	must(t, os.WriteFile(filepath.Join(dir, name+".png"), b, 0o666))
}

func look(t testing.TB, ctx context.Context, width, height int64, scheme string) {
	t.Helper()
	_, err := chromedp.Call(ctx, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: height, DeviceScaleFactor: 1, Mobile: width < 600})
	must(t, err)
	_, err = chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	must(t, err)
}

const (
	// tooLong ends waiting for what never happens. It is no bound on speed: a busy machine may take
	// minutes.
	tooLong = 10 * time.Minute
	shadow  = `document.querySelector('#Proof').shadowRoot`
)

// The open page takes over a save: its scroll position, opened parts and set values stay.
func TestBrowserStaysInPlace(t *testing.T) {
	l := newLab(t, Options{})
	ctx := browser(t)
	look(t, ctx, 1280, 800, "light")
	visit(t, ctx, l.proof.Address()+"staff/developing/one-shot-developer.html")
	await(t, ctx, `document.documentElement.classList.contains('handed')`)
	does(t, ctx, `window.sameWindow = true; document.querySelectorAll('main details').forEach((d, i) => { d.open = i % 2 === 0; }); window.opened = [...document.querySelectorAll('main details')].map((d) => d.open).join(); `)
	does(t, ctx, `document.querySelector('[data-given="tank"] input').focus({preventScroll: true}); scrollTo({top: 500, behavior: 'instant'})`)
	await(t, ctx, `scrollY === 500`)
	scroll := text(t, ctx, `scrollY`)
	l.replace(onePage, "value: 500 ml, from: 300 ml", "value: 750 ml, from: 300 ml")
	await(t, ctx, `document.querySelector('main').textContent.includes('750')`)
	await(t, ctx, `document.querySelector('[data-given="tank"] input') && document.activeElement === document.querySelector('[data-given="tank"] input')`)
	if got := text(t, ctx, `window.sameWindow`); got != "true" {
		t.Error("the page was loaded again")
	}
	if got := text(t, ctx, `scrollY`); got != scroll {
		t.Errorf("scrolled from %s to %s", scroll, got)
	}
	if a, b := text(t, ctx, `window.opened`), text(t, ctx, `[...document.querySelectorAll('main details')].map((d) => d.open).join()`); a != b {
		t.Errorf("parts that were open: %s, now %s", a, b)
	}
	// a value that the reader set
	does(t, ctx, `location.hash = 'tank=1%20l'`)
	await(t, ctx, `document.querySelector('[data-given="tank"] input').value.startsWith('1 l') || document.querySelector('[data-given="tank"] input').value.startsWith('1 L') || document.querySelector('[data-given="tank"] input').value.startsWith('1000')`)
	before := text(t, ctx, `document.querySelector('.figure[data-figure="concentrate"] .q').textContent`)
	l.replace(onePage, "## What goes wrong", "A sentence that is new.\n\n## What goes wrong")
	await(t, ctx, `document.querySelector('main').textContent.includes('A sentence that is new.')`)
	await(t, ctx, fmt.Sprintf(`document.querySelector('.figure[data-figure="concentrate"] .q').textContent === %q`, before))
	// the style alone
	does(t, ctx, `document.querySelector('main').kept = 'kept'`)
	l.write("look/lab.css", "body { background: rgb(1, 2, 3); }\n")
	l.write("labsite.yaml", l.read("labsite.yaml")+"\ntheme: look\n")
	await(t, ctx, `getComputedStyle(document.body).backgroundColor === 'rgb(1, 2, 3)'`)
	l.write("look/lab.css", "body { background: rgb(4, 5, 6); }\n")
	await(t, ctx, `getComputedStyle(document.body).backgroundColor === 'rgb(4, 5, 6)'`)
	if got := text(t, ctx, `document.querySelector('main').kept + window.sameWindow`); got != "kepttrue" {
		t.Error("a change of style changed more than the style")
	}
}

// A sheet over the page says what is wrong, and goes away when it is fixed.
func TestBrowserErrorsComeAndGo(t *testing.T) {
	l := newLab(t, Options{Editor: "edit://open?file={file}&line={line}&column={column}"})
	ctx := browser(t)
	look(t, ctx, 1280, 800, "light")
	visit(t, ctx, l.proof.Address()+"staff/developing/one-shot-developer.html")
	right := text(t, ctx, `document.querySelector('main h1').textContent`)
	good := l.read(onePage)
	l.write(onePage, strings.Replace(strings.Replace(good, "\nfigures:", "\nfigures:\n  odd: tnak * 2 ml", 1), "## What goes wrong", "{glvoes}\n\n## What goes wrong", 1))
	await(t, ctx, shadow+`.querySelector('.sheet').hidden === false`)
	picture(t, ctx, "errors-light")
	look(t, ctx, 1280, 800, "dark")
	picture(t, ctx, "errors-dark")
	look(t, ctx, 390, 844, "light")
	picture(t, ctx, "errors-phone")
	look(t, ctx, 1280, 800, "light")
	said := text(t, ctx, shadow+`.querySelector('.sheet').textContent`)
	for _, want := range []string{"tnak", "tank", "glvoes", "gloves", onePage + ":", "To mend it"} {
		if !strings.Contains(said, want) {
			t.Errorf("the sheet does not say %q: %s", want, said)
		}
	}
	if got := text(t, ctx, shadow+`.querySelector('.sheet mark').textContent`); got != "tnak" {
		t.Errorf("marked is %q", got)
	}
	if got := text(t, ctx, shadow+`.querySelector('.sheet a.open').href`); !strings.Contains(got, "one-shot-developer.md&line=") {
		t.Errorf("the editor's address is %s", got)
	}
	if got := text(t, ctx, `document.querySelector('main h1').textContent`); got != right {
		t.Errorf("below the sheet: %q", got)
	}
	l.write(onePage, good)
	await(t, ctx, shadow+`.querySelector('.sheet').hidden === true`)
}

// Notes are shown in the margin next to their place.
func TestBrowserNotesAreBesideTheirPlace(t *testing.T) {
	l := newLab(t, Options{})
	ctx := browser(t)
	look(t, ctx, 1360, 800, "light")
	visit(t, ctx, l.proof.Address()+"staff/developing/one-shot-developer.html")
	l.replace(onePage, "## What goes wrong", "Pour 300 ml by hand.\n\n## What goes wrong")
	await(t, ctx, shadow+`.querySelectorAll('.note').length >= 1`)
	await(t, ctx, `(() => { const p = [...document.querySelectorAll('main p')].find((p) => p.textContent.includes('by hand')); const n = [...`+shadow+`.querySelectorAll('.note')].find((n) => n.textContent.includes('typed by hand')); return p && n && Math.abs(p.getBoundingClientRect().top - n.getBoundingClientRect().top) < 200; })()`)
	does(t, ctx, `[...document.querySelectorAll('main p')].find((p) => p.textContent.includes('by hand')).scrollIntoView({block: 'center', behavior: 'instant'})`)
	picture(t, ctx, "margin-light")
	look(t, ctx, 1360, 800, "dark")
	picture(t, ctx, "margin-dark")
	look(t, ctx, 390, 844, "light")
	await(t, ctx, shadow+`.querySelector('.note .dot')`)
	does(t, ctx, `[...document.querySelectorAll('main p')].find((p) => p.textContent.includes('by hand')).scrollIntoView({block: 'center', behavior: 'instant'}); [...`+shadow+`.querySelectorAll('.dot')].at(-1).click()`)
	picture(t, ctx, "margin-phone")
}

// The numbers that a save changed are listed beside the page, and a number says how it came about.
func TestBrowserNumbers(t *testing.T) {
	l := newLab(t, Options{})
	if err := l.proof.site.Load().Settle(context.Background()); err != nil {
		t.Fatal(err)
	}
	ctx := browser(t)
	look(t, ctx, 1280, 900, "light")
	visit(t, ctx, l.proof.Address()+"staff/developing/one-shot-developer.html")
	l.replace(onePage, "value: 500 ml, from: 300 ml", "value: 750 ml, from: 300 ml")
	await(t, ctx, shadow+`.querySelector('.bar').textContent.includes('numbers changed')`)
	does(t, ctx, `[...`+shadow+`.querySelectorAll('.bar button')].find((b) => b.textContent.includes('changed')).click()`)
	await(t, ctx, shadow+`.querySelector('.panel').textContent.includes('Before')`)
	picture(t, ctx, "numbers-light")
	does(t, ctx, `document.querySelector('main .figure[data-figure="concentrate"] .q').click()`)
	await(t, ctx, shadow+`.querySelector('.panel').textContent.includes('How it came about')`)
	said := text(t, ctx, shadow+`.querySelector('.panel').textContent`)
	for _, want := range []string{"round(exact", "exact", "tank", "strength", onePage + ":"} {
		if !strings.Contains(said, want) {
			t.Errorf("the tree does not say %q: %s", want, said)
		}
	}
	// a number only in the text, a cell of a table, the length of a step
	l.replace(onePage, "## What goes wrong", "Half of it is {water / 2}.\n\n## What goes wrong")
	await(t, ctx, `[...document.querySelectorAll('main p')].some((p) => p.textContent.startsWith('Half of it is'))`)
	for _, x := range []struct{ click, says string }{
		{`[...document.querySelectorAll('main p')].find((p) => p.textContent.startsWith('Half of it is')).querySelector('.q')`, "water / 2"},
		{`document.querySelector('#Table-rolls_by_tank tbody tr:nth-child(5) td:nth-of-type(3) .q')`, "Rolls in the tank 3"},
		{`document.querySelector('#Table-rolls_by_tank tbody tr:nth-child(5) td:nth-of-type(3) .q')`, "Working solution 1500 ml"},
		{`document.querySelector('#Step-1 .step-time .q')`, "step 1 = 2 min"},
		{`document.querySelector('#Step-2 .step-time .q')`, "develop = "},
	} {
		does(t, ctx, shadow+`.querySelector('.panel').replaceChildren(); `+x.click+`.click()`)
		await(t, ctx, fmt.Sprintf(shadow+`.querySelector('.panel').textContent.includes(%q)`, x.says))
	}
	does(t, ctx, shadow+`.querySelectorAll('.panel details').forEach((d) => { d.open = true; })`)
	picture(t, ctx, "tree-light")
	look(t, ctx, 1280, 900, "dark")
	picture(t, ctx, "tree-dark")
	look(t, ctx, 390, 844, "light")
	picture(t, ctx, "tree-phone")
}

// The given values of an open page change while somebody reads it: what was set stays if it still
// may, and if it may not the page shows no number.
func TestBrowserGivenValuesChange(t *testing.T) {
	const page = "---\ntitle: Page\naudience: staff\ngiven:\n  tank: {label: Tank, value: 500 ml, from: 100 ml, to: 2 l}\n  parts: {label: Parts, value: 4, from: 1, to: 9}\nfigures:\n  part: {label: Part, formula: tank / parts, show: 1 ml}\n---\n\nTake {part}.\n"
	l := serveWith(t, filepath.Join(t.TempDir(), "content"), map[string]string{"page.md": page})
	ctx := browser(t)
	visit(t, ctx, l.proof.Address()+"staff/page.html")
	await(t, ctx, `document.documentElement.classList.contains('handed')`)
	const (
		part   = `document.querySelector('.figure[data-figure="part"] .q')`
		tank   = `document.querySelector('[data-given="tank"] input')`
		fields = `document.querySelectorAll('#Given input[type="text"]').length`
	)
	shows := func(what, want string) {
		t.Helper()
		await(t, ctx, fmt.Sprintf(`%s && %s.textContent === %q && %s >= 2`, part, part, want, fields))
		if n := ask[int](t, ctx, fields); n != 2 {
			t.Errorf("%s: there are %d fields", what, n)
		}
	}
	shows("at first", "125\u00a0ml")
	// set just before a save, and not yet in the address
	does(t, ctx, tank+`.focus(); `+tank+`.value = '1 l'; `+tank+`.dispatchEvent(new Event('input', {bubbles: true}))`)
	l.replace("page.md", "label: Part,", "label: One part,")
	await(t, ctx, `document.querySelector('.figure dt').textContent === 'One part'`)
	shows("set a moment before", "250\u00a0ml")
	if got := text(t, ctx, tank+`.value + ' ' + (document.activeElement === `+tank+`) + ' ' + location.hash`); got != "1 L true #tank=1%20L" {
		t.Errorf("the field, its focus, the address: %s", got)
	}
	l.replace("page.md", "to: 2 l", "to: 800 ml")
	await(t, ctx, `document.querySelector('main').classList.contains('no-numbers') && document.querySelector('#Limits').textContent.includes('800')`)
	if got := text(t, ctx, `[...document.querySelectorAll('main .text .q')].map((e) => e.textContent).join()`); strings.ContainsAny(got, "0123456789") {
		t.Errorf("beyond the new range: %s", got)
	}
	l.replace("page.md", "to: 800 ml", "to: 3 l")
	shows("in range again", "250\u00a0ml")
	// a given value is renamed
	renamed := strings.NewReplacer("tank:", "jug:", "tank /", "jug /").Replace(l.read("page.md"))
	l.write("page.md", renamed)
	await(t, ctx, `document.querySelector('main').classList.contains('no-numbers') && document.querySelector('#Limits').textContent.includes('tank')`)
	l.write("page.md", strings.Replace(page, "value: 4, from", "value: 5, from", 1))
	shows("with its old name", "200\u00a0ml")
	// nothing can be set any more, and then it can again
	l.write("page.md", strings.NewReplacer(", from: 100 ml, to: 2 l", "", ", from: 1, to: 9", "").Replace(page))
	await(t, ctx, part+`.textContent === '125\u00a0ml' && `+fields+` === 0`)
	if got := text(t, ctx, `document.documentElement.classList.contains('handed') || 'hand' in window`); got != "false" {
		t.Error("the controls' script goes on without controls")
	}
	does(t, ctx, `history.replaceState(null, '', location.pathname)`)
	l.write("page.md", page)
	shows("to be set again", "125\u00a0ml")
	// many saves at once, and timers of scripts that were stopped
	for i := range 30 {
		l.write("page.md", strings.Replace(page, "value: 500 ml", fmt.Sprintf("value: %d ml", 404+i*4), 1))
		time.Sleep(time.Duration(i%7) * 4 * time.Millisecond)
	}
	shows("after many saves", "130\u00a0ml")
	if got := ask[int](t, ctx, `document.querySelectorAll('.hand').length`); got != 2 {
		t.Errorf("there are %d controls", got)
	}
}

// Two browsers show the same save.
func TestBrowserTwo(t *testing.T) {
	l := newLab(t, Options{})
	a := browser(t)
	b := browser(t)
	visit(t, a, l.proof.Address()+"staff/developing/one-shot-developer.html")
	visit(t, b, l.proof.Address()+"customers/developing/index.html")
	l.replace(onePage, "title: ", "title: New: ")
	await(t, a, shadow+`.querySelector('.sheet').hidden === false`)
	l.replace(onePage, "title: New: ", "title: Renewed ")
	await(t, a, `document.querySelector('main h1').textContent.startsWith('Renewed')`)
	await(t, b, `document.querySelector('main').textContent.includes('Renewed')`)
	// one is hidden for a while, and then visible again
	sight := func(hidden bool) {
		t.Helper()
		does(t, a, fmt.Sprintf(`Object.defineProperty(document, 'hidden', {value: %v, configurable: true}); document.dispatchEvent(new Event('visibilitychange'))`, hidden))
	}
	sight(true)
	for end := time.Now().Add(tooLong); len(l.proof.hub.all()) > 1; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("a page out of sight goes on listening")
		}
	}
	l.replace(onePage, "title: Renewed ", "title: Again ")
	await(t, b, `document.querySelector('main').textContent.includes('Again')`)
	if got := text(t, a, `document.querySelector('main h1').textContent`); !strings.HasPrefix(got, "Renewed") {
		t.Errorf("out of sight the page shows %q", got)
	}
	sight(false)
	await(t, a, `document.querySelector('main h1').textContent.startsWith('Again')`)
}
