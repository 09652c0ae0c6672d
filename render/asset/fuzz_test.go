package asset

import (
	"bytes"
	"encoding/xml"
	"strings"
	"testing"
)

// Whatever bytes a picture has, it is refused, or what is published is accepted unchanged a second
// time and has nothing that a browser could take for a page.
func FuzzPicture(f *testing.F) {
	names := []string{"a.jpg", "a.png", "a.gif", "a.webp"}
	for which, raw := range [][]byte{jpegFile(6), pngFile(8), gifFile(), webpFile(5)} {
		f.Add(uint8(which), raw)
	}
	f.Fuzz(func(t *testing.T, which uint8, raw []byte) {
		name := names[int(which)%len(names)]
		file, fault := Look(name, raw)
		if fault != nil {
			return
		}
		if len(file.Bytes) > len(raw)+48 || markupIn(file.Bytes) != "" || file.Width <= 0 || file.Height <= 0 {
			t.Errorf("%s of %d bytes is %d × %d in %d bytes", name, len(raw), file.Width, file.Height, len(file.Bytes))
		}
		again, fault := Look(name, file.Bytes)
		if fault != nil || !bytes.Equal(again.Bytes, file.Bytes) || again.Width != file.Width {
			t.Errorf("%s is judged differently the second time: %+v", name, fault)
		}
	})
}

// Whatever a drawing holds, it is refused, or what is published has only shapes.
func FuzzDrawing(f *testing.F) {
	for _, inside := range []string{"<rect/>", `<g id="a"/><use href="#a" fill="url(#a)"/>`, "<metadata><a/></metadata><!-- b -->", "<script/>", `<rect style="fill:url(x)"/>`, "<![CDATA[<script>]]>"} {
		f.Add([]byte(svgHead + inside + "</svg>"))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		file, fault := Look("a.svg", raw)
		if fault != nil {
			if fault.Line < 0 || fault.Line > 1+bytes.Count(raw, []byte("\n")) {
				t.Errorf("told is line %d", fault.Line)
			}
			return
		}
		d := xml.NewDecoder(bytes.NewReader(file.Bytes))
		for {
			token, err := d.RawToken() // ignoring namespaces
			if err != nil {
				break
			}
			switch e := token.(type) {
			case xml.Comment, xml.Directive:
				t.Errorf("%q holds %T", file.Bytes, e)
			case xml.StartElement:
				if !shapesOfSVG[e.Name.Local] {
					t.Errorf("%q holds %s", file.Bytes, e.Name.Local)
				}
				for _, a := range e.Attr {
					if strings.HasPrefix(strings.ToLower(a.Name.Local), "on") && a.Name.Space != "xmlns" {
						t.Errorf("%q holds %s", file.Bytes, a.Name.Local)
					}
				}
			}
		}
	})
}
