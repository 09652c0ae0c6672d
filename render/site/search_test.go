package site

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"net/url"
	"strings"
	"testing"

	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
)

// entriesOf takes the data out of the search entries.
func entriesOf(t *testing.T, script []byte) (pages [][]any) {
	t.Helper()
	at := bytes.LastIndex(script, []byte(`({"pages":`))
	if at < 0 {
		t.Fatal("the script holds no entries")
	}
	var data struct{ Pages [][]any }
	if err := json.Unmarshal(bytes.TrimSuffix(bytes.TrimSpace(script[at+1:]), []byte(");")), &data); err != nil {
		t.Fatal(err)
	}
	return data.Pages
}

// TestSearchEntriesOfTheDemo: every entry leads to a place that is there, and none gives a
// quantity.
func TestSearchEntriesOfTheDemo(t *testing.T) {
	s := demo(t)
	for _, a := range []sheet.Audience{sheet.Customers, sheet.Staff} {
		files := rendered(t, s, a)
		pages := entriesOf(t, files[searchEntries])
		if len(pages) < 10 {
			t.Errorf("%s: %d pages can be found", a, len(pages))
		}
		for _, page := range pages {
			name, err := url.PathUnescape(page[0].(string))
			if err != nil || files[name] == nil {
				t.Errorf("%v is no page", page[0])
			}
			for _, x := range page[3].([]any) {
				passage := x.([]any)
				text := passage[1].(string)
				if found := quantity.Find(text); len(found) > 0 {
					t.Errorf("%s: an entry gives %v: %s", name, found[0].Text, text)
				}
				if len(passage) > 2 && !bytes.Contains(files[name], []byte(` id="`+passage[2].(string)+`"`)) {
					t.Errorf("%s has no place %q for: %s", name, passage[2], text)
				}
			}
		}
		for _, page := range []string{"index.html", "developing/one-shot-developer.html"} {
			if !bytes.Contains(files[page], []byte(`src="`+up(strings.TrimSuffix(page[:strings.LastIndex("/"+page, "/")], "/"))+searchBox+`"`)) {
				t.Errorf("%s does not load %s", page, searchBox)
			}
		}
	}
}

// mostEntries is how large the demo's entries may be when a server compresses them.
const mostEntries = 100 << 10

func TestSizeOfSearchEntries(t *testing.T) {
	s := demo(t)
	for _, a := range []sheet.Audience{sheet.Customers, sheet.Staff} {
		script := rendered(t, s, a)[searchEntries]
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		z.Write(script)
		z.Close()
		t.Logf("%s: %d bytes, %d compressed", a, len(script), b.Len())
		if b.Len() > mostEntries {
			t.Errorf("%s: the entries have %d bytes compressed, more than %d", a, b.Len(), mostEntries)
		}
	}
}
