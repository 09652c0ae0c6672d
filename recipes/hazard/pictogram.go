package hazard

import (
	"embed"
	"strings"
	"sync"
)

// The nine symbols of GHS, drawn for this project after the descriptions of the
// UN: a black symbol on a white square that stands on its point, with a red frame.
// The ground is part of the drawing, so that it stays white on a dark page; the
// frame has more than 3:1 to white and to black (WCAG 2.2, 1.4.11).
//
//go:embed pictograms/*.svg
var drawings embed.FS

var pictograms = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	for _, code := range pictogramOrder {
		if raw, err := drawings.ReadFile("pictograms/" + strings.ToLower(code) + ".svg"); err == nil {
			all[code] = string(raw)
		}
	}
	return all
})

// PictogramSVG gives a GHS symbol (`GHS05`) as an SVG element of 200 by 200
// units, with a title and without ids, so that it can be in a page more than
// once. It is false for an unknown code.
func PictogramSVG(code string) (svg string, ok bool) {
	svg, ok = pictograms()[code]
	return svg, ok
}

// SVG is the drawing of the symbol.
func (p Pictogram) SVG() string {
	svg, _ := PictogramSVG(p.Code)
	return svg
}
