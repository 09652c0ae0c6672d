package asset

import (
	"archive/zip"
	"bytes"
	"strings"
	"testing"
)

func zipOf(names ...string) []byte {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, n := range names {
		f, _ := w.Create(n)
		f.Write([]byte("x"))
	}
	w.Close()
	return b.Bytes()
}

// Only listed endings are handed out, and only if the bytes agree.
func TestWhatIsHandedOut(t *testing.T) {
	at := func(n int, mark string) []byte { return append(make([]byte, n), mark...) }
	for _, c := range []struct {
		name string
		raw  []byte
		code string // "" where it is handed out
	}{
		{"sheet.pdf", []byte("%PDF-1.7\n"), ""}, {"sheet.pdf", []byte("<html>%PDF-1.7"), "file-no-form"}, {"sheet.pdf", zipOf("a"), "file-other-form"},
		{"prices.csv", []byte("a,b\n1,2\n"), ""}, {"notes.txt", []byte("\ufeffa é\r\n"), ""}, {"page.html.txt", []byte("<html>"), ""}, {"NOTES.TXT", nil, ""},
		{"notes.txt", []byte("caf\xe9"), "text-unfit"}, {"notes.txt", []byte("a\x00b"), "text-unfit"}, {"a.tsv", []byte("\xff\xfea\x00"), "text-unfit"},
		{"all.zip", zipOf("a.html"), ""}, {"all.tar.gz", []byte("\x1f\x8b\x08x"), ""}, {"all.tgz", []byte("\x1f\x8b\x08x"), ""}, {"all.tar", at(257, "ustar"), ""}, {"all.7z", []byte("7z\xbc\xaf\x27\x1c"), ""},
		{"list.xlsx", zipOf("[Content_Types].xml", "xl/workbook.xml"), ""}, {"list.xlsx", zipOf("[Content_Types].xml", "xl/vbaProject.bin"), "document-macros"},
		{"list.ods", zipOf("mimetype", "content.xml"), ""}, {"list.odt", zipOf("mimetype", "Basic/Standard/a.xml"), "document-macros"}, {"list.docx", zipOf("index.html"), "file-no-form"}, {"list.docx", []byte("PK\x03\x04"), "file-broken"},
		{"paper.icc", at(36, "acsp"), ""}, {"paper.icm", at(35, "acsp"), "file-no-form"},
		{"timer.mp3", []byte("ID3"), ""}, {"timer.ogg", []byte("OggS"), ""}, {"timer.wav", []byte("RIFF\x00\x00\x00\x00WAVE"), ""},
		{"evil.html", nil, "link-kind"}, {"evil.htm", nil, "link-kind"}, {"evil.HTML", nil, "link-kind"}, {"evil.xhtml", nil, "link-kind"}, {"evil.xml", nil, "link-kind"}, {"evil.js", nil, "link-kind"},
		{"evil.mjs", nil, "link-kind"}, {"evil.css", nil, "link-kind"}, {"evil.svgz", nil, "link-kind"}, {"evil.html.gz", nil, "link-kind"}, {"evil.txt.html", nil, "link-kind"}, {"evil.html.", nil, "link-kind"},
		{"labsite.yaml", nil, "link-kind"}, {"run.php", nil, "link-kind"}, {"list.xlsm", nil, "link-kind"}, {"noending", nil, "link-kind"}, {"scan.tif", nil, "link-kind"}, {".txt", nil, "link-kind"},
	} {
		f, fault := Look(c.name, c.raw)
		switch {
		case c.code == "" && fault != nil:
			t.Errorf("%s (%.12q): %s", c.name, c.raw, fault.Message)
		case c.code == "" && !bytes.Equal(f.Bytes, c.raw):
			t.Errorf("%s (%.12q) is changed", c.name, c.raw)
		case c.code != "" && (fault == nil || fault.Code != c.code):
			t.Errorf("%s (%.12q): %+v, want %s", c.name, c.raw, fault, c.code)
		}
		if _, ok := Bound(c.name); ok != (c.code != "link-kind") {
			t.Errorf("%s: that a page may link to it is said to be %v", c.name, ok)
		}
	}
	if _, ok := Bound("letters.woff2"); ok {
		t.Error("a page may link to a font")
	}
	if _, fault := Look("letters.woff2", []byte("wOF2")); fault != nil {
		t.Error("a theme may not have a font")
	}
	if l := Listed(); !strings.Contains(l, "tables and texts (.csv .tsv .txt)") || strings.Contains(l, "woff") {
		t.Errorf("listed is %s", l)
	}
}
