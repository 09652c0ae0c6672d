package chart

import (
	"fmt"
	"math"
	"strings"
)

// Shapes tell lines and series of points apart without colour. The diamond is reserved for points out of
// limits, the ring with a dot for the page's own value.

// dashes are the patterns of lines, in turn; "" is a full line.
var dashes = []string{"", "9 5", "2 4", "14 4 2 4", "5 3", "14 4 2 4 2 4"}

// lineShapes are the filled marks on lines, in turn. There are not as many as dashes, so that it takes
// long until a pair repeats.
var lineShapes = []string{"disc", "square", "peak", "bar", "valley", "house", "plus"}

// markShapes are the open marks of measured points, in turn.
var markShapes = []string{"disc", "square", "peak", "valley", "cross", "house"}

// outline is the path of a shape centred on a spot, with a half width of about r.
func outline(shape string, at spot, r float64) string {
	// corners are in multiples of r, chosen so that all shapes look equally large
	corners := map[string][]spot{
		"square":  {{-0.9, -0.9}, {0.9, -0.9}, {0.9, 0.9}, {-0.9, 0.9}},
		"peak":    {{0, -1.2}, {1.15, 0.8}, {-1.15, 0.8}},
		"valley":  {{0, 1.2}, {1.15, -0.8}, {-1.15, -0.8}},
		"diamond": {{0, -1.3}, {1.3, 0}, {0, 1.3}, {-1.3, 0}},
		"house":   {{0, -1.2}, {1, -0.2}, {1, 1}, {-1, 1}, {-1, -0.2}},
		"bar":     {{-0.45, -1.4}, {0.45, -1.4}, {0.45, 1.4}, {-0.45, 1.4}},
		"plus": {{-0.4, -1.2}, {0.4, -1.2}, {0.4, -0.4}, {1.2, -0.4}, {1.2, 0.4}, {0.4, 0.4},
			{0.4, 1.2}, {-0.4, 1.2}, {-0.4, 0.4}, {-1.2, 0.4}, {-1.2, -0.4}, {-0.4, -0.4}},
	}
	switch shape {
	case "disc":
		r = math.Round(r*10) / 10 // rounded as it is written, or the halves would not meet in a circle
		return fmt.Sprintf("M%s %sa%s %s 0 1 0 %s 0a%s %s 0 1 0 %s 0z",
			num(at.x-r), num(at.y), num(r), num(r), num(2*r), num(r), num(r), num(-2*r))
	case "cross":
		d := 0.95 * r
		return fmt.Sprintf("M%s %sl%s %sm0 %sl%s %s",
			num(at.x-d), num(at.y-d), num(2*d), num(2*d), num(-2*d), num(-2*d), num(2*d))
	}
	var b strings.Builder
	for i, c := range corners[shape] {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		b.WriteString(letter + num(at.x+c.x*r) + " " + num(at.y+c.y*r))
	}
	return b.String() + "z"
}
