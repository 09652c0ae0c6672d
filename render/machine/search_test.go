package machine_test

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"net/url"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/render/build/buildtest"
	"labsite/render/content"
	"labsite/render/search"
	"labsite/render/write"
)

// entriesOf reads the pages back from a site's search: from its one file, or from the parts that
// hold pages.
func entriesOf(t *testing.T, files map[string][]byte) (pages [][]any) {
	t.Helper()
	if _, after, ok := bytes.Cut(files[search.File], []byte(`,"whole":`)); ok {
		if err := json.Unmarshal(bytes.TrimSuffix(bytes.TrimSpace(after), []byte("});")), &pages); err != nil {
			t.Fatal(err)
		}
		return pages
	}
	for name, part := range files {
		if !strings.HasPrefix(name, search.Folder+"pages-") {
			continue
		}
		_, held, _ := bytes.Cut(part, []byte(",[["))
		var some [][]any
		if err := json.Unmarshal(append([]byte("[["), bytes.TrimSuffix(bytes.TrimSpace(held), []byte(");"))...), &some); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		pages = append(pages, some...)
	}
	return pages
}

// Every entry leads to a place that exists, and none contains a quantity.
func TestSearchEntriesOfTheDemo(t *testing.T) {
	for _, a := range []page.Audience{page.Customers, page.Staff} {
		files := buildtest.Demo(t, a)
		pages := entriesOf(t, files)
		if len(pages) < 10 {
			t.Errorf("%s: %d pages can be found", a, len(pages))
		}
		for _, page := range pages {
			name, err := url.PathUnescape(page[0].(string))
			if err != nil || files[name] == nil {
				t.Errorf("%v is not a page", page[0])
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
			if !bytes.Contains(files[page], []byte(`src="`+content.Up(strings.TrimSuffix(page[:strings.LastIndex("/"+page, "/")], "/"))+write.FindBox+`"`)) {
				t.Errorf("%s does not load %s", page, write.FindBox)
			}
		}
	}
}

// mostEntries is how large the demo's entries may be when compressed by a server.
const mostEntries = 100 << 10

func TestSizeOfSearchEntries(t *testing.T) {
	for _, a := range []page.Audience{page.Customers, page.Staff} {
		script := buildtest.Demo(t, a)[search.File]
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
