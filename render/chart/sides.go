package chart

import (
	"strconv"
	"strings"
)

// sideLabel names a line or a limit beside the plot, at its right end.
type sideLabel struct {
	name   string
	words  []string // as written: the name in a few lines, or a letter
	letter string   // set if the name is in the key below
	line   int      // index of the line, or -1
	limit  int      // index of the limit, or -1
	end    Point    // where the line ends
	place  float64  // centre of the label
	early  bool     // the line ends before the plot does
}

// sides collects the labels. If all names are short enough they are written out; otherwise all become
// letters, with a key below.
func (d *drawing) sides() {
	for i, l := range d.Lines {
		if !visible(l.Name) || len(d.Lines) == 1 && l.Name == d.Y.Label {
			continue
		}
		all := runs(ordered(l.Points))
		if len(all) == 0 {
			continue
		}
		last := all[len(all)-1]
		d.side = append(d.side, &sideLabel{name: l.Name, line: i, limit: -1, end: last[len(last)-1]})
	}
	for i, l := range d.Limits {
		if visible(l.Name) && usable(l.Y) {
			d.side = append(d.side, &sideLabel{name: l.Name, line: -1, limit: i, end: Point{X: d.x.high, Y: l.Y}})
		}
	}
	short := true
	for _, s := range d.side {
		s.words = wrap(s.name, d.text, d.beside)
		whole := strings.Join(s.words, " ") == strings.Join(strings.Fields(s.name), " ")
		short = short && whole && len(s.words) <= 2
	}
	if short {
		return
	}
	letters := map[string]string{}
	for _, s := range d.side {
		if s.limit < 0 {
			s.letter = letterAt(len(letters))
			letters["line "+strconv.Itoa(s.line)] = s.letter
		} else {
			l := d.Limits[s.limit]
			one := "limit " + strconv.Itoa(int(l.Kind)) + l.Name
			if letters[one] == "" {
				letters[one] = letterAt(len(letters))
			}
			s.letter = letters[one]
		}
		s.words = []string{s.letter}
	}
}

// letterAt counts A to Z, AA, AB and so on.
func letterAt(i int) string {
	s := ""
	for i++; i > 0; i = (i - 1) / 26 {
		s = string(rune('A'+(i-1)%26)) + s
	}
	return s
}

// sideRoom is the width and height that the labels need.
func (d *drawing) sideRoom() (width, height float64) {
	for _, s := range d.side {
		width = max(width, widest(s.words, d.text))
		height += d.sideHeight(s)
	}
	return width, height
}

func (d *drawing) sideHeight(s *sideLabel) float64 {
	return float64(len(s.words))*d.text*1.15 + 5
}

// writeSides writes the labels beside the plot, each as near to its line's end as the others allow, and
// joined to the end by a thin line.
func (d *drawing) writeSides() {
	var wanted, heights []float64
	for _, s := range d.side {
		wanted = append(wanted, d.py(s.end.Y))
		heights = append(heights, d.sideHeight(s))
	}
	half := d.text * 0.7
	centres := stack(wanted, heights, d.plot.top-half, d.plot.bottom+half)
	for i, s := range d.side {
		end := d.place(s.end)
		end.x = max(end.x, d.plot.left)
		x := d.plot.right + 16
		tone := ""
		if s.limit < 0 {
			tone = " chart-tone-" + nth(s.line)
		}
		d.back.empty("path", "class", "chart-leader"+tone, "fill", "none", "stroke", "currentColor", "stroke-opacity", "0.7",
			"d", "M"+num(end.x+3)+" "+num(end.y)+"H"+num(max(d.plot.right+3, end.x+3))+"L"+num(x-3)+" "+num(centres[i]))
		if end.x < d.plot.right-1 {
			d.strokes = append(d.strokes, stroke{end, spot{d.plot.right, end.y}})
		}
		first := centres[i] - float64(len(s.words)-1)*d.text*1.15/2 + d.text*0.35
		class := "chart-name"
		if s.limit >= 0 {
			class = "chart-limit-name"
		}
		for j, w := range s.words {
			d.write(class, "start", w, spot{x, first + float64(j)*d.text*1.15})
		}
	}
}
