package chart

import (
	"math"
	"strconv"
	"strings"
)

// draw makes the drawing in one layout: first the space that labels need, then what lies between the
// axes, then the labels, each clear of what is already there.
func (c Chart) draw(l Layout) *drawing {
	d := &drawing{Chart: c, frame: frames[l]}
	d.x, d.y = c.domains()
	d.sides()
	d.measure()
	d.grid()
	d.drawGaps()
	d.drawLimits()
	d.drawLines()
	d.drawMarks()
	d.drawOwn()
	d.writeSides()
	d.writeOwn()
	d.writeNumbers()
	d.writeGaps()
	d.writeKey()
	d.height = math.Ceil(d.below + 2)
	return d
}

// measure finds the plot's edges and the ticks, and writes the axes' titles.
func (d *drawing) measure() {
	sideWidth, sideHeight := d.sideRoom()
	height := max(d.frame.plot, sideHeight-d.text*1.4)
	top := d.titleAbove()
	d.up = d.ticksUp(height)
	left := d.widestTick(d.up) + 9
	right := d.width - 12
	if sideWidth > 0 {
		right = d.width - sideWidth - 16
	}
	d.plot = box{left: left, top: top, right: right, bottom: top + height}
	d.across = d.X.ticks(d.x.low, d.x.high, d.fitAcross)
	y := d.writeAcross(d.plot.bottom + d.text*1.6)
	d.below = y + d.text*0.6
	d.room = d.plot.grown(-1)
}

// titleAbove writes the title above the plot, and returns where the plot begins.
func (d *drawing) titleAbove() float64 {
	top := d.text * 0.7
	for _, words := range wrap(d.Y.title(), d.text, d.width) {
		d.write("chart-title", "start", words, spot{0, top + d.text*0.4})
		top += d.line()
	}
	if d.Y.title() != "" {
		top += d.text * 0.5
	}
	return top
}

// ticksUp chooses the ticks of the Y axis in a plot of this height.
func (d *drawing) ticksUp(height float64) []tick {
	span := d.y.high - d.y.low
	separate := func(t []tick) bool {
		return len(t) < 2 || (t[1].at-t[0].at)/span*height >= 2.4*d.text
	}
	// short labels leave more room to draw in, and are worth fewer ticks, but at least three
	short := d.Y.ticks(d.y.low, d.y.high, func(t []tick) bool {
		return separate(t) && len(t) >= 3 && d.widestTick(t) <= d.width*0.2
	})
	if short != nil {
		return short
	}
	return d.Y.ticks(d.y.low, d.y.high, func(t []tick) bool {
		return separate(t) && len(t) > 0 && d.widestTick(t) <= d.width*0.4
	})
}

// fitAcross reports whether the labels of X ticks fit side by side.
func (d *drawing) fitAcross(t []tick) bool {
	last := math.Inf(-1)
	for _, k := range t {
		b := d.tickBox(k)
		if b.left < last+1.2*d.text || b.left < 0 || b.right > d.width {
			return false
		}
		last = b.right
	}
	return len(t) > 0
}

// writeAcross writes the labels of the X axis and its title, from y downwards, and returns where they
// end.
func (d *drawing) writeAcross(y float64) float64 {
	second := false
	for _, k := range d.across {
		b := d.tickBox(k)
		middle := (b.left + b.right) / 2
		d.write("chart-tick", "middle", k.label, spot{middle, y})
		if k.second != "" {
			d.write("chart-tick", "middle", k.second, spot{middle, y + d.text*1.15})
			second = true
		}
	}
	if second {
		y += d.text * 1.15
	}
	y += d.text * 0.5
	for _, words := range wrap(d.X.title(), d.text, d.width) {
		y += d.line()
		half := textWidth(words, d.text) / 2
		middle := (d.plot.left + d.plot.right) / 2
		d.write("chart-title", "middle", words, spot{max(half, min(middle, d.width-half)), y})
	}
	return y
}

// tickBox is where the label of an X tick stands: under its tick, but within the drawing.
func (d *drawing) tickBox(t tick) box {
	half := max(textWidth(t.label, d.text), textWidth(t.second, d.text)) / 2
	x := d.px(t.at)
	x = max(half, min(x, d.width-half))
	return box{left: x - half, right: x + half}
}

// widestTick is the width that Y ticks need.
func (d *drawing) widestTick(t []tick) float64 {
	w := 0.0
	for _, k := range t {
		w = max(w, textWidth(upLabel(k), d.text))
	}
	return w
}

// grid draws the axes, and a faint line at each tick. Dates have no lines, since nobody reads values off
// at their ticks.
func (d *drawing) grid() {
	p := d.plot
	d.back.open("g", "class", "chart-grid", "fill", "none", "stroke", "currentColor", "stroke-opacity", "0.16")
	for _, t := range d.up {
		d.back.empty("path", "d", "M"+num(p.left)+" "+num(d.py(t.at))+"H"+num(p.right))
		d.write("chart-tick", "end", upLabel(t), spot{p.left - 9, d.py(t.at) + d.text*0.35})
	}
	if d.X.Kind != Date {
		for _, t := range d.across {
			d.back.empty("path", "d", "M"+num(d.px(t.at))+" "+num(p.top)+"V"+num(p.bottom))
		}
	}
	d.back.close("g")
	path := "M" + num(p.left) + " " + num(p.top) + "V" + num(p.bottom) + "H" + num(p.right)
	for _, t := range d.across {
		path += "M" + num(d.px(t.at)) + " " + num(p.bottom) + "v5"
	}
	for _, t := range d.up {
		path += "M" + num(p.left) + " " + num(d.py(t.at)) + "h-4"
	}
	d.back.empty("path", "class", "chart-axes", "fill", "none", "stroke", "currentColor", "d", path)
}

// upLabel writes a Y tick in one line.
func upLabel(t tick) string { return strings.TrimSpace(t.label + " " + t.second) }

// drawGaps shades the ranges where no line has a figure.
func (d *drawing) drawGaps() {
	for _, g := range d.shared() {
		if b := d.gapBox(g); b.right-b.left >= 1 {
			d.back.empty("rect", "class", "chart-without", "fill-opacity", "0.08",
				"x", num(b.left), "y", num(b.top), "width", num(b.right-b.left), "height", num(b.bottom-b.top))
		}
	}
}

func (d *drawing) gapBox(g gap) box {
	return box{d.px(g.from), d.plot.top, d.px(g.to), d.plot.bottom}
}

// writeGaps labels the shaded ranges, if there is room.
func (d *drawing) writeGaps() {
	const words = "no figure"
	for _, g := range d.shared() {
		b := d.gapBox(g)
		w := textWidth(words, d.text)
		for at := b.top + d.text*1.2; b.right-b.left > w+6 && at < b.bottom; at += d.line() {
			middle := (b.left + b.right) / 2
			room := box{middle - w/2, at - d.text*0.8, middle + w/2, at + d.text*0.25}
			if d.crossings(room, 1) == 0 {
				d.write("chart-without-name", "middle", words, spot{middle, at})
				break
			}
		}
	}
}

// drawLimits draws the limits, straight across.
func (d *drawing) drawLimits() {
	for _, l := range d.Limits {
		if usable(l.Y) {
			from, to := spot{d.plot.left, d.py(l.Y)}, spot{d.plot.right, d.py(l.Y)}
			d.limitPath(l.Kind, from, to)
			d.strokes = append(d.strokes, stroke{from, to})
		}
	}
}

func (d *drawing) limitPath(k LimitKind, from, to spot) {
	class, width, dash := "chart-centre", "1.5", ""
	switch k {
	case Action:
		class, dash = "chart-action", "6 4"
	case Control:
		class, width, dash = "chart-control", "2.25", "12 3 3 3"
	}
	d.front.empty("path", "class", "chart-limit "+class, "fill", "none", "stroke", "currentColor",
		"stroke-width", width, "stroke-dasharray", dash,
		"d", "M"+num(from.x)+" "+num(from.y)+"H"+num(to.x))
}

// drawLines draws each line and, if there are several, its marks.
func (d *drawing) drawLines() {
	for i, l := range d.Lines {
		for _, run := range runs(ordered(l.Points)) {
			var path []spot
			for _, p := range run {
				at := d.place(p)
				if n := len(path); n > 0 && num(path[n-1].x) == num(at.x) && num(path[n-1].y) == num(at.y) {
					continue
				}
				path = append(path, at)
			}
			d.linePath(i, path)
			for j := 1; j < len(path); j++ {
				d.strokes = append(d.strokes, stroke{path[j-1], path[j]})
			}
			if len(path) == 1 {
				d.lineMark(i, path[0])
				d.dots = append(d.dots, about(path[0], 5))
			} else if len(d.Lines) > 1 {
				for _, at := range spaced(path, d.every, d.every*math.Mod(0.3+0.382*float64(i), 1)) {
					if d.nearOwn(at) {
						continue
					}
					d.lineMark(i, at)
					d.dots = append(d.dots, about(at, 5))
				}
			}
		}
	}
}

// nearOwn reports whether a mark at a spot would touch that of the page's own value.
func (d *drawing) nearOwn(at spot) bool {
	return d.Own != nil && d.Own.usable() && about(d.place(*d.Own), 14).meets(about(at, 1))
}

// spaced returns spots on a path, the first so far along it and the others at equal distances. A path
// that is too short has one spot in its middle.
func spaced(path []spot, every, first float64) []spot {
	length := 0.0
	for j := 1; j < len(path); j++ {
		length += math.Hypot(path[j].x-path[j-1].x, path[j].y-path[j-1].y)
	}
	if first > length {
		first = length / 2
	}
	var all []spot
	next, gone := first, 0.0
	for j := 1; j < len(path); j++ {
		a, b := path[j-1], path[j]
		long := math.Hypot(b.x-a.x, b.y-a.y)
		for long > 0 && next <= gone+long && (next <= length-10 || len(all) == 0) {
			t := (next - gone) / long
			all = append(all, spot{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y)})
			next += every
		}
		gone += long
	}
	return all
}

// nth is the number of the tone of a line or, counting on from the lines, of a series: 1 to 6 in turn.
func nth(i int) string { return strconv.Itoa(i%6 + 1) }

func (d *drawing) linePath(i int, path []spot) {
	if len(path) < 2 {
		return
	}
	var b strings.Builder
	for j, at := range fewer(path, 0.12) {
		if j == 0 {
			b.WriteString("M")
		} else {
			b.WriteString("L")
		}
		b.WriteString(num(at.x) + " " + num(at.y))
	}
	d.front.empty("path", "class", "chart-line chart-tone-"+nth(i), "fill", "none", "stroke", "currentColor",
		"stroke-width", "2.25", "stroke-linejoin", "round", "stroke-dasharray", dashes[i%len(dashes)], "d", b.String())
}

// fewer leaves out spots of a path that lie within so many units of the straight line that replaces them:
// the difference cannot be seen, and a curve takes a tenth of the bytes. The method is that of Douglas
// and Peucker (1973), from memory.
func fewer(path []spot, within float64) []spot {
	if len(path) < 3 {
		return path
	}
	a, b := path[0], path[len(path)-1]
	long := math.Hypot(b.x-a.x, b.y-a.y)
	far, at := 0.0, 0
	for i, p := range path[1 : len(path)-1] {
		off := math.Hypot(p.x-a.x, p.y-a.y)
		if long > 0 {
			off = math.Abs((b.x-a.x)*(a.y-p.y)-(a.x-p.x)*(b.y-a.y)) / long
		}
		if off > far {
			far, at = off, i+1
		}
	}
	if far <= within {
		return []spot{a, b}
	}
	left := fewer(path[:at+1], within)
	return append(left[:len(left)-1:len(left)-1], fewer(path[at:], within)...)
}

func (d *drawing) lineMark(i int, at spot) {
	d.front.empty("path", "class", "chart-line-mark chart-tone-"+nth(i), "d", outline(lineShapes[i%len(lineShapes)], at, 4))
}

func (d *drawing) joinPath(path string) {
	d.front.empty("path", "class", "chart-join", "fill", "none", "stroke", "currentColor", "stroke-opacity", "0.6", "d", path)
}

// mostSingle is how many points of a series are drawn one by one, each with a text that shows on hovering.
// More are drawn smaller and as one path.
const mostSingle = 150

// drawMarks draws measured points, those out of limits last, on top of the others.
func (d *drawing) drawMarks() {
	for i, m := range d.Marks {
		if m.Joined {
			d.joinMarks(m)
		}
		many := len(m.Points) > mostSingle
		seen := map[string]bool{}
		var all strings.Builder
		for j, p := range m.Points {
			if !p.usable() || m.flag(j) != "" {
				continue
			}
			at := d.place(p)
			here := num(at.x) + " " + num(at.y)
			if seen[here] {
				continue
			}
			seen[here] = true
			d.dots = append(d.dots, about(at, 5))
			if many {
				all.WriteString(outline(markShapes[i%len(markShapes)], at, 3))
			} else {
				d.openMark(i, at, d.at(p))
			}
		}
		if all.Len() > 0 {
			d.markPath(i, all.String(), "")
		}
	}
	for _, f := range d.flaggedPoints() {
		at := d.place(f.point)
		d.marks = append(d.marks, about(at, 7))
		hint := ""
		if len(d.Marks[f.series].Points) <= mostSingle {
			hint = d.at(f.point)
		}
		d.flagMark(at, hint)
	}
}

func (d *drawing) joinMarks(m Marks) {
	for _, run := range runs(ordered(m.Points)) {
		var path strings.Builder
		var last spot
		for j, p := range run {
			at := d.place(p)
			if j == 0 {
				path.WriteString("M")
			} else {
				path.WriteString("L")
				d.strokes = append(d.strokes, stroke{last, at})
			}
			path.WriteString(num(at.x) + " " + num(at.y))
			last = at
		}
		d.joinPath(path.String())
	}
}

// titled writes a path with a text that shows on hovering.
func (m *markup) titled(hint string, pairs ...string) {
	if hint == "" {
		m.empty("path", pairs...)
		return
	}
	m.open("path", pairs...)
	m.open("title")
	m.WriteString(escape(hint) + "</title>")
	m.close("path")
}

func (d *drawing) openMark(i int, at spot, hint string) {
	d.markPath(i, outline(markShapes[i%len(markShapes)], at, 4.25), hint)
}

func (d *drawing) markPath(i int, path, hint string) {
	d.front.titled(hint, "class", "chart-mark chart-tone-"+nth(len(d.Lines)+i), "fill", "none",
		"stroke", "currentColor", "stroke-width", "1.5", "d", path)
}

func (d *drawing) flagMark(at spot, hint string) {
	d.front.titled(hint, "class", "chart-flag", "d", outline("diamond", at, 5.5))
}

// mostNumbered is how many points out of limits may get numbers: more could not be told apart in the drawing,
// and looking for free places would take long.
const mostNumbered = 60

// writeNumbers writes beside each point out of limits its number in the list below the drawing, if there
// is a free place.
func (d *drawing) writeNumbers() {
	all := d.flaggedPoints()
	if len(all) > mostNumbered {
		return
	}
	for i, f := range all {
		words := strconv.Itoa(i + 1)
		b, ok := d.find(d.place(f.point), d.wide("chart-number", words), d.text*1.05, 8, 18)
		if ok {
			d.write("chart-number", "start", words, spot{b.left, b.top + d.text*0.8})
		}
	}
}

// ownShape is the mark of the page's own value, centred on the origin.
const ownShape = `<circle class="chart-own-ring" r="7" fill="none" stroke="currentColor" stroke-width="2"/>` +
	`<circle class="chart-own-dot" r="2.75"/>` + "\n"

// drawOwn keeps the place of the page's own value free, and draws lines from it to the axes.
func (d *drawing) drawOwn() {
	if d.Own == nil || !d.Own.usable() {
		return
	}
	at := d.place(*d.Own)
	d.marks = append(d.marks, about(at, 9))
	foot, side := spot{at.x, d.plot.bottom}, spot{d.plot.left, at.y}
	d.strokes = append(d.strokes, stroke{at, foot}, stroke{at, side})
	guide := func(class string, to spot) {
		d.own.empty("line", "class", "chart-own-guide "+class, "stroke", "currentColor", "stroke-dasharray", "2 3",
			"x1", num(at.x), "y1", num(at.y), "x2", num(to.x), "y2", num(to.y))
	}
	guide("chart-own-down", foot)
	guide("chart-own-left", side)
}

// writeOwn draws the mark of the page's own value and its label, in a group that a script can move.
func (d *drawing) writeOwn() {
	if d.Own == nil || !d.Own.usable() {
		return
	}
	at := d.place(*d.Own)
	d.own.open("g", "class", "chart-own", "transform", "translate("+num(at.x)+" "+num(at.y)+")")
	d.own.WriteString(ownShape)
	value, where := d.Y.shown(*d.Own), "at "+d.X.full(d.Own.X)
	width := max(d.wide("chart-own-value", value), textWidth(where, d.text))
	b, ok := d.find(at, width, d.text*1.05+d.line(), 11, 52)
	d.unplaced = !ok
	if ok {
		anchor, x := "start", b.left
		if b.right < at.x {
			anchor, x = "end", b.right
		}
		y := b.top + d.text*0.8
		for i, words := range []string{value, where} {
			class := []string{"chart-own-value", "chart-own-where"}[i]
			l := d.write(class, anchor, words, spot{x, y + float64(i)*d.line()})
			l.grouped = true
			d.own.text("text", words, "class", class, "x", num(l.at.x-at.x), "y", num(l.at.y-at.y), "text-anchor", anchor)
		}
	}
	d.own.close("g")
}
