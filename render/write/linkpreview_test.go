package write_test

import (
	"encoding/base64"
	"regexp"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

// dot is a picture of one pixel.
var dot, _ = base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==")

// TestLinkPreview looks for the properties that every page must have by the Open Graph protocol (ogp.me, from
// memory: og:title, og:type, og:url, and og:image if there is a picture to show), with full addresses.
func TestLinkPreview(t *testing.T) {
	files := map[string]string{
		"index.md":        "---\ntitle: Lab\naudience: customers\n---\n\nText.\n",
		"guides/a&b.md":   "---\ntitle: 'A \"<b>\" & c'\naudience: customers\nsummary: About it.\n---\n\n![A drawing](d.svg) ![One \"dot\"](../one dot.png)\n\n![Second](../two.png)\n",
		"guides/d.svg":    `<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>`,
		"one dot.png":     string(dot),
		"two.png":         string(dot),
		"staff/index.md":  "---\ntitle: Staff\naudience: staff\n---\n\n![Hidden](h.png)\n",
		"staff/h.png":     string(dot),
		"staff/a/open.md": "---\ntitle: Open\naudience: customers\n---\n\nText.\n",
	}
	files["guides/a&b.md"] = strings.Replace(files["guides/a&b.md"], "../one dot.png", "<../one dot.png>", 1)
	bare := buildtest.Sited(t, files, page.Customers)
	for name, page := range bare {
		if strings.Contains(string(page), `property="og:`) {
			t.Errorf("%s has a preview without an address to show", name)
		}
	}
	files["labsite.yaml"] = "name: Lab\naddress: https://lab.example\n"
	out := buildtest.Sited(t, files, page.Customers)
	properties := func(name string) map[string]string {
		got := map[string]string{}
		for _, m := range regexp.MustCompile(`<meta property="og:([^"]*)" content="([^"]*)">`).FindAllStringSubmatch(string(out[name]), -1) {
			if _, twice := got[m[1]]; twice {
				t.Errorf("%s has og:%s twice", name, m[1])
			}
			got[m[1]] = m[2]
		}
		return got
	}
	for name, want := range map[string]map[string]string{
		"index.html": {"type": "website", "title": "Lab", "site_name": "Lab", "url": "https://lab.example/index.html"},
		"guides/a&b.html": {"type": "article", "title": "A &#34;&lt;b&gt;&#34; &amp; c", "site_name": "Lab", "url": "https://lab.example/guides/a&amp;b.html",
			"description": "About it.", "image": "https://lab.example/one%20dot.png", "image:alt": "One &#34;dot&#34;"},
	} {
		got := properties(name)
		if len(got) != len(want) {
			t.Errorf("%s has %v", name, got)
		}
		for p, w := range want {
			if got[p] != w {
				t.Errorf("%s: og:%s is %q, want %q", name, p, got[p], w)
			}
		}
	}
}
