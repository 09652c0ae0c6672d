//go:build browser

package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
)

// TestBrowserLedger reads the checks of pages on a phone: none is cut off, and a screen reader
// finds them as a table.
func TestBrowserLedger(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "customers")
	readers(t, dir, []string{"checks, phone"}, func(r *reader, _ string) {
		// The first has long sources, the second long numbers, the third both.
		for _, name := range []string{guide, "developing/washing-film.html", "printing/bigger-print.html"} {
			r.open(r.fileURL(name))
			r.unfold("#Checks")
			cut := ask[[]string](t, r.tab, `[...document.querySelectorAll('.ledger *')].filter(e => e.clientWidth && !e.closest('thead')
				&& (e.getBoundingClientRect().right > innerWidth - 10 || e.scrollWidth > e.clientWidth + 1)).map(e => e.textContent)`)
			if len(cut) > 0 {
				t.Errorf("%s: does not fit: %q", name, cut)
			}
			if n := ask[int](t, r.tab, `document.querySelectorAll('.ledger td.number').length`); n < 4 {
				t.Errorf("%s shows %d numbers of its checks", name, n)
			}
		}
		r.open(r.fileURL(guide))
		r.unfold("#Checks")
		tree, err := chromedp.Call(r.ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		must(t, err)
		found := map[string]int{}
		var heads []string
		for _, n := range tree.Nodes {
			if n.Ignored || n.Role == nil {
				continue
			}
			role := strings.Trim(string(n.Role.Value), `"`)
			found[role]++
			if role == "columnheader" && n.Name != nil {
				heads = append(heads, strings.Trim(string(n.Name.Value), `"`))
			}
		}
		if all := strings.Join(heads, " "); !strings.Contains(all, "Figure Expected Found") {
			t.Errorf("the heads of columns read %q", all)
		}
		rows := ask[int](t, r.tab, `document.querySelectorAll('.ledger tr').length`)
		if found["row"] < rows || found["rowheader"] == 0 || found["cell"] < 2*rows {
			t.Errorf("a screen reader finds %v in a page with %d rows of checks", found, rows)
		}
	})
}

// TestBrowserSheets prints a long guide: each sheet says which page and revision it belongs to, and
// how many there are, and no heading ends a sheet.
func TestBrowserSheets(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "customers")
	readers(t, dir, []string{"paper, desk"}, func(r *reader, _ string) {
		r.open(r.fileURL(guide))
		heads := ask[[]string](t, r.tab, `[...document.querySelectorAll('main h2, main h3')].map(h => h.textContent.replace(/\s+/g, ''))`)
		printed, err := printedText(r.tab, a4, asItLies)
		must(t, err)
		sheets := strings.Split(strings.TrimSuffix(printed, "\f"), "\f")
		if len(sheets) < 3 {
			t.Fatalf("a long guide prints on %d sheets", len(sheets))
		}
		for i, text := range sheets {
			for _, want := range []string{"G-001 revision 4", "brindleweir.example/developing/one-shot-developer.html", "Set to: Working solution 500 ml", fmt.Sprintf("%d / %d", i+1, len(sheets))} {
				if !strings.Contains(squeezeAll(text), squeezeAll(want)) { // some fonts have thin spaces
					t.Errorf("sheet %d is without %q", i+1, want)
				}
			}
			body, _, _ := strings.Cut(text, "Brindle Weir Film Lab: ")
			lines := strings.Split(strings.TrimSpace(body), "\n")
			last := squeezeAll(lines[len(lines)-1])
			for _, h := range heads {
				if h != "" && last == h {
					t.Errorf("the heading %q stands alone at the foot of sheet %d", h, i+1)
				}
			}
		}
	})
}

// unfold opens the folded part of a block.
func (r *reader) unfold(part string) {
	r.t.Helper()
	if !r.is(fmt.Sprintf(`(d => d && (d.open = true))(document.querySelector(%q + ' > details'))`, part)) {
		r.t.Errorf("%s has nothing to unfold", part)
	}
}

func squeezeAll(s string) string { return strings.Join(strings.Fields(s), "") }
