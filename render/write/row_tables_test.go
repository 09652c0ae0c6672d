package write_test

import (
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

// A cell of a data file that a spreadsheet would take for a formula stays a text in the file that
// readers take away.
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
