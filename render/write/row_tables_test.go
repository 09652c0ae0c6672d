package write_test

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

const logPage = "---\ntitle: Log\naudience: customers\ndata: {log: log.csv}\ntables:\n  all: {caption: Log, of: log, columns: [day, ended, off, note]}\n---\n\n{all}\n"

// Words are flush left and may wrap, numbers are flush right; a date of the file is written out like all
// dates on a page, and in ISO 8601 in the CSV.
func TestRowsOnThePage(t *testing.T) {
	site := buildtest.Sited(t, map[string]string{"page.md": logPage, "log.csv": "day,ended,off [K],note [text]\n2026-11-01,2026-11-02,-0.5,warm\n"}, page.Customers)
	for _, want := range []string{`<th scope="col" class="words">Note</th>`, `class="number first" data-of="Ended"><span class="q">2&nbsp;November&nbsp;2026</span>`, `<td class="words" data-of="Note"><span class="q">warm</span>`} {
		if !strings.Contains(string(site["page.html"]), want) {
			t.Errorf("the page has no %s", want)
		}
	}
	if got, want := string(site["page.all.csv"]), "Day,Ended,Off,Note\r\n2026-11-01,2026-11-02,-0.5 K,warm\r\n"; got != want {
		t.Errorf("the file is %q, want %q", got, want)
	}
}

// A cell of a data file that a spreadsheet would take for a formula stays a text in the published CSV.
func TestRowsForASpreadsheet(t *testing.T) {
	site := buildtest.Sited(t, map[string]string{
		"page.md": "---\ntitle: Log\naudience: customers\ndata: {log: log.csv}\ntables:\n  all: {caption: Log, of: log, columns: [day, off, note]}\n---\n\n{all}\n",
		"log.csv": "day,off [K],note [text]\n2026-11-01,-0.5,\"=1+2\"\n2026-11-02,0.5,@a\n",
	}, page.Customers)
	const want = "Day,Off,Note\r\n2026-11-01,-0.5 K,'=1+2\r\n2026-11-02,0.5 K,'@a\r\n"
	if got := string(site["page.all.csv"]); got != want {
		t.Errorf("the table is %q, want %q", got, want)
	}
}
