//go:build browser

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const soundPage = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; img-src 'self'; script-src 'self'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>%[1]s</title>
<link rel="stylesheet" href="sound.css">%[2]s
</head>
<body>
<header><a href="index.html">Home</a></header>
<main id="content">
<h1>%[1]s</h1>
<p>Nothing is wrong with this text.</p>%[3]s
</main>
</body>
</html>
`

const soundSheet = `body { margin: 1rem; font: 1rem/1.5 sans-serif; color: #111; background: #fff }
a { color: #00c }
@media (prefers-color-scheme: dark) { body { color: #eee; background: #111 } a { color: #acf } }
.faint { color: #999 }
@media (prefers-color-scheme: dark) { .faint-in-the-dark { color: #333 } }
.wide { width: 600px }
@media print { .off-paper h1 { display: none } }
`

// movesLate puts something tall above the text once the page has been painted, like a script that
// was loaded late (see painted).
const movesLate = `globalThis.later = () => {};
later.asked = new Map([['it', new Promise((done) => {
	new PerformanceObserver((list, it) => {
		it.disconnect();
		const box = document.createElement('div');
		box.className = 'tall';
		document.querySelector('main').before(box);
		requestAnimationFrame(() => requestAnimationFrame(done));
	}).observe({type: 'paint', buffered: true});
})]]);`

// TestBrowserFindsFaults gives the checks a page for each fault that they look for, and one without
// any: a check that finds nothing here would find nothing on a real site either.
func TestBrowserFindsFaults(t *testing.T) {
	t.Parallel()
	type planted struct {
		name, head, body string
		files            map[string]string
		want             []string // each must be part of a fault of the page
	}
	all := []planted{
		{name: "sound"},
		{name: "wide", body: `<p class="wide">A line.</p>`, want: []string{"(from disk, phone, light): scrolls sideways", "p.wide"}},
		{name: "faint", body: `<p class="faint">A line.</p>`, want: []string{"(phone, light): color-contrast"}},
		{name: "faint-in-the-dark", body: `<p class="faint-in-the-dark">A line.</p>`, want: []string{"(desk, dark): color-contrast"}},
		{name: "faint-when-narrow", body: `<p class="faint-when-narrow">A line.</p>`, head: `<link rel="stylesheet" href="faint-when-narrow.css">`,
			files: map[string]string{"faint-when-narrow.css": "@media (max-width: 30rem) { .faint-when-narrow { color: #999 } }"},
			want:  []string{"sets a colour for some widths alone, where no test of contrast looks: .faint-when-narrow {color}"}},
		{name: "faint-on-another-ground", body: `<p class="grey">A line.</p><div class="ground"><p class="grey">A line.</p></div>`, head: `<link rel="stylesheet" href="faint-on-another-ground.css">`,
			files: map[string]string{"faint-on-another-ground.css": ".grey { color: #777; background: transparent } body { background: #000 !important } .ground { background: #666 }"},
			want:  []string{"(phone, light): color-contrast", "(desk, dark): color-contrast"}},
		{name: "when-narrow", body: `<p class="when-narrow"><img src="dot.svg" width="9" height="9"></p>`, head: `<link rel="stylesheet" href="when-narrow.css">`,
			files: map[string]string{"when-narrow.css": "@media (min-width: 30rem) { .when-narrow { display: none } }"}, want: []string{"(phone, light): image-alt"}},
		{name: "no-description", body: `<p><img src="dot.svg" width="9" height="9"></p>`, want: []string{"image-alt", "wcag/h37"}},
		{name: "heading-skipped", body: `<h3>Deep</h3>`, want: []string{"heading-order"}},
		{name: "small-target", body: `<p><button type="button">a</button><button type="button">b</button></p>`,
			files: map[string]string{"small-target.css": "button { font-size: 6px; padding: 0; margin: 0; border: 0; height: 8px; width: 8px }"},
			head:  `<link rel="stylesheet" href="small-target.css">`, want: []string{"target-size"}},
		{name: "unclosed", body: `<p>A <b>line.</p>`, want: []string{"close-order"}},
		{name: "loud", head: `<script src="loud.js" defer></script>`,
			files: map[string]string{"loud.js": "console.warn('careful now'); console.error('oh no'); throw new Error('really no')"},
			want:  []string{"(from disk, phone, light): console warning: careful now", "(from a server, desk, dark): console error: oh no", "exception: Uncaught Error: really no"}},
		{name: "loads-late", head: `<script src="loads-late.js" defer></script>`,
			files: map[string]string{"late.js": "", "loads-late.js": "const e = document.createElement('script'); e.src = 'late.js'; document.head.append(e)"},
			want:  []string{"(from a server, desk, dark): has loaded [late.js loads-late.html loads-late.js sound.css]"}},
		{name: "moves", head: `<script src="moves.js" defer></script><link rel="stylesheet" href="moves.css">`,
			files: map[string]string{"moves.css": ".tall { height: 400px }", "moves.js": movesLate},
			want:  []string{"(from disk, phone, light): the layout moves by", "(from a server, desk, dark): the layout moves by"}},
		{name: "promise", head: `<script src="promise.js" defer></script>`,
			files: map[string]string{"promise.js": "Promise.reject(new Error('left alone'))"}, want: []string{"left alone"}},
		{name: "inline", body: `<p style="color: red">A line.</p>`, want: []string{"(from disk, phone, light): browser's log, error", "no-inline-style"}},
		{name: "inline-script", body: `<script>document.title = 'x'</script>`, want: []string{"(from a server, desk, dark): browser's log, error"}},
		{name: "asks-outside", body: `<p><img src="https://elsewhere.example/dot.png" alt="A dot." width="9" height="9"></p>`,
			want: []string{"asks for something outside", "points outside the site"}},
		{name: "asks-in-vain", body: `<p><img src="none.svg" alt="Nothing." width="9" height="9"></p>`,
			want: []string{"(from disk, phone, light): request failed: none.svg", "(from a server, desk, dark): request failed: none.svg, status 404", "<img> none.svg: there is no such file"}},
		{name: "dead-link", body: `<p><a href="none.html">None</a></p>`, want: []string{"<a> none.html: there is no such file"}},
		{name: "dead-place", body: `<p><a href="sound.html#none">None</a></p>`, want: []string{`there is no place "none" in sound.html`}},
		{name: "dead-place-here", body: `<p><a href="#none">None</a></p>`, want: []string{`there is no place "none" in dead-place-here.html`}},
		{name: "folder", body: `<p><a href="deeper/">Deeper</a></p>`, files: map[string]string{"deeper/note.txt": ""}, want: []string{"is a folder"}},
		{name: "from-the-top", body: `<p><a href="/sound.html">Sound</a></p>`, want: []string{"starts at the top of the server"}},
		{name: "way-out", body: `<p><a href="../sound.html">Sound</a></p>`, want: []string{"leads out of the folder"}},
		{name: "bad-scheme", body: `<p><a href="javascript:history.back()">Back</a></p>`, want: []string{"points outside the site"}},
		{name: "text-changed", body: `<p id="says">Wait for the number.</p>`, head: `<script src="text-changed.js" defer></script>`,
			files: map[string]string{"text-changed.js": "document.getElementById('says').textContent = 'Here it is.'"},
			want:  []string{`(without scripts): says "Wait for the number."`}},
		{name: "off-paper", body: ``, files: map[string]string{"off-paper.css": "@media print { h1 { display: none } }"},
			head: `<link rel="stylesheet" href="off-paper.css">`, want: []string{"(on paper): its heading"}},
		{name: "beyond-the-sheet", body: `<p class="beyond">A line.</p>`, head: `<link rel="stylesheet" href="beyond-the-sheet.css">`,
			files: map[string]string{"beyond-the-sheet.css": "@media print { .beyond { width: 900px } }"}, want: []string{"(on paper): is wider than its sheet", "P A line."}},
		{name: "missing", body: `<p><a href="/sound.html">Sound</a> <a href="/none.html">None</a></p>`,
			want: []string{"goes from where the page stands", "/none.html: there is no such file"}},
		{name: "unreached", want: []string{"no link leads here"}},
	}
	dir := t.TempDir()
	write := func(name, text string) {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write("sound.css", soundSheet)
	write("dot.svg", `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><circle cx="4" cy="4" r="4"/></svg>`)
	var links strings.Builder
	for _, p := range all {
		head := p.head
		if head != "" {
			head = "\n" + head
		}
		write(p.name+".html", fmt.Sprintf(soundPage, "The page "+p.name, head, "\n"+p.body))
		for name, text := range p.files {
			write(name, text)
		}
		if p.name != "unreached" && p.name != "missing" {
			fmt.Fprintf(&links, "\n<p><a href=\"%s.html\">The page %s</a></p>", p.name, p.name)
		}
	}
	write("index.html", fmt.Sprintf(soundPage, "Planted faults", "", links.String()))

	inspections, faults := inspect(t, dir, "")
	if len(inspections) != len(all)+1 {
		t.Errorf("looked at %d pages, want %d", len(inspections), len(all)+1)
	}
	said := map[string]string{}
	for _, f := range faults {
		said[f.page] += f.String() + "\n"
	}
	for _, name := range []string{"sound.html", "index.html"} {
		if said[name] != "" {
			t.Errorf("a page without faults has:\n%s", said[name])
		}
	}
	for _, p := range all {
		for _, want := range p.want {
			if !strings.Contains(said[p.name+".html"], want) {
				t.Errorf("of %s.html nothing like %q is said, but:\n%s", p.name, want, said[p.name+".html"])
			}
		}
	}
}
