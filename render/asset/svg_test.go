package asset

import (
	"fmt"
	"strings"
	"testing"
)

const svgHead = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="30" height="20">` + "\n"

func TestDrawingsThatAreSafe(t *testing.T) {
	for name, c := range map[string]struct {
		text          string
		width, height int
		without       string
	}{
		"shapes":        {svgHead + `<g id="a"><path d="M0 0h9" fill="url(#b)" style="stroke: url('#b')"/></g><use href="#a"/><use xlink:href=" #a"/></svg>`, 30, 20, ""},
		"size by view":  {`<?xml version="1.0" encoding="UTF-8"?><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 12.4, 8"/>`, 12, 8, ""},
		"a prefix":      {`<s:svg xmlns:s="http://www.w3.org/2000/svg" width="3px" height="4px"><s:title>A shape</s:title></s:svg>`, 3, 4, ""},
		"comments":      {svgHead + "<!-- /home/owner/a.svg --><rect/>\n<!-- by the owner --></svg>", 30, 20, "owner"},
		"metadata":      {svgHead + `<metadata><r:RDF xmlns:r="urn:r"><r:by>owner<metadata/></r:by></r:RDF></metadata><rect/></svg>`, 30, 20, "owner"},
		"an empty one":  {svgHead + `<metadata/><rect/></svg>`, 30, 20, "metadata"},
		"a description": {svgHead + `<desc>A lamp on a stand, on: lit</desc><text xml:space="preserve" aria-label="on">a &amp; b</text></svg>`, 30, 20, ""},
	} {
		f, fault := Look("a.svg", []byte(c.text))
		if fault != nil {
			t.Errorf("%s: %s", name, fault.Message)
			continue
		}
		if f.Width != c.width || f.Height != c.height {
			t.Errorf("%s is %d × %d", name, f.Width, f.Height)
		}
		if c.without != "" && strings.Contains(string(f.Bytes), c.without) || c.without == "" && string(f.Bytes) != c.text {
			t.Errorf("%s is published as %s", name, f.Bytes)
		}
	}
}

// Whatever in a drawing could run, load something, or never end is refused, at its line.
func TestDrawingsThatAreUnsafe(t *testing.T) {
	double := ""
	for i := range 20 {
		double += fmt.Sprintf(`<g id="a%d"><use href="#a%d"/><use href="#a%d"/></g>`, i, i+1, i+1)
	}
	for name, c := range map[string]struct {
		inside, says string
		code         string
	}{
		"a script":             {`<script>1</script>`, "the element script", ""},
		"one with a prefix":    {`<h:script xmlns:h="http://www.w3.org/1999/xhtml">1</h:script>`, "the element script", ""},
		"HTML":                 {`<foreignObject><body xmlns="http://www.w3.org/1999/xhtml"/></foreignObject>`, "the element foreignObject", ""},
		"a name of another":    {`<title xmlns="http://www.w3.org/1999/xhtml">x</title>`, "the element title", ""},
		"a style sheet":        {`<style>@import url(http://elsewhere.example)</style>`, "the element style", ""},
		"a picture":            {`<image href="https://elsewhere.example/a.png"/>`, "the element image", ""},
		"motion":               {`<rect><set attributeName="onclick" to="alert(1)"/></rect>`, "the element set", ""},
		"a link":               {`<a href="javascript:alert(1)"><rect/></a>`, "the element a", ""},
		"an event":             {`<rect onload="alert(1)"/>`, "the script onload", ""},
		"one in capitals":      {`<rect OnClick="alert(1)"/>`, "the script OnClick", ""},
		"a use elsewhere":      {`<use href="b.svg#a"/>`, "an address, b.svg#a", ""},
		"one by xlink":         {`<use xlink:href="https://elsewhere.example/#a"/>`, "an address", ""},
		"data":                 {`<use href="data:image/svg+xml,x#a"/>`, "an address", ""},
		"another base":         {`<g xml:base="https://elsewhere.example/"><use href="#a"/></g>`, "an address", ""},
		"a fill elsewhere":     {`<rect fill="url(https://elsewhere.example/#a)"/>`, "an address in fill", ""},
		"one in quotes":        {`<rect style="fill: URL( 'b.svg#a')"/>`, "an address in style", ""},
		"the second of two":    {`<rect style="fill: url(#a); stroke: url(//elsewhere.example)"/>`, "an address in style", ""},
		"one spelled":          {`<rect fill="u\72l(https://elsewhere.example)"/>`, "an address in fill", ""},
		"a set of pictures":    {`<rect style="mask: image-set('https://elsewhere.example' 1x)"/>`, "an address in style", ""},
		"an entity":            {`&lol;`, "entity", "file-broken"},
		"an instruction":       {`<?xml-stylesheet href="a.css"?>`, "<?xml-stylesheet", ""},
		"a document type":      {`<!ENTITY a "b">`, "<!ENTITY", ""},
		"an editor's note":     {`<rect xmlns:e="urn:editor" e:export="/home/owner"/>`, "the attribute export", ""},
		"one that never ends":  {`<g>`, "", "file-broken"},
		"one that is not XML":  {`<rect a=b/>`, "", "file-broken"},
		"more after its end":   {`</svg><svg xmlns="http://www.w3.org/2000/svg"><rect/>`, "after its end", "file-broken"},
		"many within another":  {strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300), "within one another", ""},
		"many":                 {strings.Repeat("<g/>", 50_001), "50,000 elements", ""},
		"a metadata script":    {`<metadata><!DOCTYPE a></metadata>`, "<!DOCTYPE", ""},
		"itself":               {`<g id="me"><use href="#me"/></g>`, "draw themselves", ""},
		"doubling":             {double + `<g id="a20"/>`, "200,000", ""},
		"doubling by patterns": {strings.ReplaceAll(strings.ReplaceAll(double, `<use href="`, `<rect fill="url(`), `"/>`, `)"/>`) + `<g id="a20"/>`, "200,000", ""},
	} {
		_, fault := Look("a.svg", []byte(svgHead+c.inside+"</svg>"))
		code := c.code
		if code == "" {
			code = "picture-unsafe"
		}
		if fault == nil || fault.Code != code || !strings.Contains(fault.Message, c.says) {
			t.Errorf("%s: %+v", name, fault)
		} else if fault.Line != 2 && !strings.Contains(c.says, "200,000") && c.says != "draw themselves" {
			t.Errorf("%s is reported at line %d: %s", name, fault.Line, fault.Message)
		}
	}
	for text, code := range map[string]string{
		`<svg width="1" height="1"/>`:                  "picture-nameless",
		`<html xmlns="http://www.w3.org/1999/xhtml"/>`: "file-no-form",
		``: "file-no-form",
		`<?xml version="1.0" encoding="UTF-16"?><svg/>`:       "file-broken",
		`<!DOCTYPE svg><svg/>`:                                "picture-unsafe",
		"\xff\xfe<\x00s\x00":                                  "file-broken",
		svgHead + strings.Repeat(" ", mostDrawing) + "</svg>": "file-too-large",
	} {
		if _, fault := Look("a.svg", []byte(text)); fault == nil || fault.Code != code {
			t.Errorf("%.40q: %+v, want %s", text, fault, code)
		}
	}
}
