package build

import (
	"bytes"
	"image"
	"image/jpeg"
	"strings"
	"testing"

	"labsite/recipes/page"
)

func pageWith(body string) string {
	return "---\ntitle: Home\naudience: customers\n---\n\n" + body + "\n"
}

// A page hands out only files of listed forms, and each is checked, whether it is shown or linked.
func TestFilesThatPagesHandOut(t *testing.T) {
	active := strings.Replace(plainShape, "/>", ">\n<script>alert(1)</script></svg>", 1)
	for _, c := range []struct{ name, body, file, text, want string }{
		{"a page of HTML", "[a](evil.html)", "evil.html", "<script>alert(1)</script>", "index.md:6:5: error: evil.html is not a file that a page can hand out"},
		{"XHTML", "[a](evil.xhtml)", "evil.xhtml", "x", "evil.xhtml is not a file that a page can hand out"},
		{"XML", "[a](evil.xml)", "evil.xml", "x", "pictures (.png .jpg .jpeg .gif .webp .svg), documents (.pdf"},
		{"a script", "[a](evil.js)", "evil.js", "x", "evil.js is not a file that a page can hand out"},
		{"capital letters", "[a](EVIL.HTML)", "EVIL.HTML", "x", "EVIL.HTML is not a file that a page can hand out"},
		{"the settings", "[a](labsite.yaml)", "labsite.yaml", "name: Lab\n", "labsite.yaml is not a file that a page can hand out"},
		{"a drawing that is linked", "[a](evil.svg)", "evil.svg", active, "index.md:6:5: error: evil.svg holds the element script (line 2)"},
		{"a drawing that is shown", "![a](evil.svg)", "evil.svg", active, "evil.svg holds the element script (line 2)"},
		{"a drawing by a reference", "[a][b]\n\n[b]: evil.svg", "evil.svg", active, "evil.svg holds the element script"},
		{"a large drawing", "[a](large.svg)", "large.svg", strings.Repeat(" ", 3<<20), "large.svg has 3.0 MiB; the limit is 2.0 MiB"},
		{"HTML called a picture", "[a](evil.png)", "evil.png", "<script>", "evil.png is named as PNG, but its contents are something else"},
		{"a GIF called PNG", "![a](a.png)", "a.png", "GIF89a", "a.png is named as PNG, but its contents are GIF"},
		{"a GIF and a page at once", "[a](a.gif)", "a.gif", "GIF89a/*\x00\x00\x00\x00\x00<script>*/", "a.gif cannot be read as GIF"},
		{"a document shown", "![a](a.pdf)", "a.pdf", "%PDF-1.7", "a.pdf is not a picture that a page can show"},
		{"a linked page of staff's", "[a](st/own.csv)", "st/own.csv", "a\n", "st/own.csv is for staff"},
		{"a table", "[a](a.csv)", "a.csv", "film,minutes\na,5\n", ""},
		{"a text", "[a](a.html.txt)", "a.html.txt", "<b>", ""},
		{"a drawing", "[a](a.svg) ![a](a.svg)", "a.svg", plainShape, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir, _ := editableLab(t, map[string]string{"index.md": pageWith(c.body), "st/index.md": staffsPage, c.file: c.text})
			_, list := checked(t, dir)
			if told := told(list); !strings.Contains(told, c.want) || c.want == "" && told != "" {
				t.Fatalf("reported %q, want %q", told, c.want)
			}
			if c.want != "" {
				return
			}
			if out := published(t, dir, page.Customers); string(out[c.file]) != c.text {
				t.Errorf("published is %q", out[c.file])
			}
		})
	}
}

// A photograph is published without what it says about people and places, on the site as in the
// preview, and takes the space of the upright picture.
func TestPhotographsArePublishedWithoutTheirOwner(t *testing.T) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 32, 8)), nil); err != nil {
		t.Fatal(err)
	}
	raw := b.String()
	exif := "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x02\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06\x00\x00\x01\x3b\x00\x02\x00\x00\x00\x06\x00\x00\x00\x26\x00\x00\x00\x00owner\x00"
	photo := raw[:2] + "\xff\xe1\x00" + string(rune(len(exif)+2)) + exif + raw[2:] + "<html>"
	dir, write := editableLab(t, map[string]string{"index.md": pageWith("![A tank](a.jpg) [large](a.jpg)"), "a.jpg": photo})
	_, list := checked(t, dir)
	if len(list) > 0 {
		t.Fatal(told(list))
	}
	out := published(t, dir, page.Customers)
	if p := string(out["a.jpg"]); p == "" || strings.Contains(p, "owner") || strings.Contains(p, "<html>") || !strings.Contains(p, "Exif") {
		t.Errorf("published is %q", p)
	}
	if page := string(out["index.html"]); !strings.Contains(page, `width="8" height="32"`) {
		t.Error("the page does not leave room for the picture as it stands upright")
	}
	o, list := Follow(t.Context(), dir, Options{Day: aDay})
	if o == nil {
		t.Fatal(told(list))
	}
	defer o.Close()
	o.Settle(t.Context())
	if a, ok := o.Answer(page.Customers, "a.jpg", true); !ok || !bytes.Equal(a.Bytes, out["a.jpg"]) {
		t.Errorf("the preview gives %q", a.Bytes)
	}
	write("a.jpg", "GIF89a")
	o.Update([]string{"a.jpg"})
	if a, _ := o.Answer(page.Customers, "index.html", true); !strings.Contains(told(a.List), "its contents are GIF") {
		t.Errorf("the preview says %s", told(a.List))
	}
	if a, _ := o.Answer(page.Customers, "a.jpg", true); len(a.Bytes) > 0 {
		t.Errorf("the preview gives %q", a.Bytes)
	}
}
