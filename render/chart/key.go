package chart

// keyItem is an entry of the key below the plot: a sample and what it stands for.
type keyItem struct {
	sample func(at spot) // draws the sample at the middle of its left edge
	wide   float64       // width of the sample
	words  string
}

// Widths of a sample in the key: of a line, and of a mark.
const longSample, shortSample = 34, 14

// markItems are the entries of the marks.
func (d *drawing) markItems() (all []keyItem) {
	for i, m := range d.Marks {
		if !visible(m.Name) {
			continue
		}
		wide := float64(shortSample)
		if m.Joined {
			wide = longSample
		}
		all = append(all, keyItem{wide: wide, words: m.Name, sample: func(at spot) {
			if m.Joined {
				d.joinPath("M" + num(at.x) + " " + num(at.y) + "h" + num(wide))
			}
			d.openMark(i, spot{at.x + wide/2, at.y}, "")
		}})
	}
	return all
}

// keyItems are the entries for all that is not named in the plot itself.
func (d *drawing) keyItems() []keyItem {
	const long, short = longSample, shortSample
	var all []keyItem
	seen := map[string]bool{}
	for _, s := range d.side {
		if s.letter == "" || seen[s.letter] {
			continue
		}
		seen[s.letter] = true
		all = append(all, keyItem{wide: long, words: s.letter + "  " + s.name, sample: func(at spot) {
			from, to := at, spot{at.x + long, at.y}
			if s.limit >= 0 {
				d.limitPath(d.Limits[s.limit].Kind, from, to)
				return
			}
			d.linePath(s.line, []spot{from, to})
			if len(d.Lines) > 1 {
				d.lineMark(s.line, spot{at.x + long/2, at.y})
			}
		}})
	}
	for i, l := range d.Lines {
		if len(runs(ordered(l.Points))) == 0 && visible(l.Name) {
			all = append(all, keyItem{wide: long, words: l.Name + ": no figure", sample: func(at spot) {
				d.linePath(i, []spot{at, {at.x + long, at.y}})
			}})
		}
	}
	all = append(all, d.markItems()...)
	if len(d.flaggedPoints()) > 0 {
		all = append(all, keyItem{wide: short, words: "out of limits", sample: func(at spot) {
			d.flagMark(spot{at.x + short/2, at.y}, "")
		}})
	}
	if d.Own != nil && d.Own.usable() {
		words := "values set on this page"
		if d.unplaced {
			words += ": " + d.ownWords()
		}
		all = append(all, keyItem{wide: short, words: words, sample: func(at spot) {
			at.x += short / 2
			d.front.open("g", "class", "chart-own-sample", "transform", "translate("+num(at.x)+" "+num(at.y)+")")
			d.front.WriteString(ownShape)
			d.front.close("g")
		}})
	}
	return all
}

// writeKey writes the entries below the plot, as many to a row as fit.
func (d *drawing) writeKey() {
	const gap, spacing = 8, 22
	x, y := 0.0, d.below+d.line()*0.7
	row := false
	for _, k := range d.keyItems() {
		lines := wrapKey(k.words, d.text, d.width-k.wide-gap)
		w := k.wide + gap + widest(lines, d.text)
		if row && x+w > d.width {
			x, y = 0, y+d.line()*1.15
		}
		row = true
		k.sample(spot{x, y})
		for i, words := range lines {
			if i > 0 {
				y += d.line()
			}
			d.write("chart-key", "start", words, spot{x + k.wide + gap, y + d.text*0.35})
		}
		x += w + spacing
		if len(lines) > 1 {
			x = d.width // the next item begins a row
		}
		d.below = y + d.line()*0.6
	}
}

// wrapKey is wrap, except that a text which fits keeps the two spaces after its letter.
func wrapKey(words string, size, room float64) []string {
	if textWidth(words, size) <= room {
		return []string{words}
	}
	return wrap(words, size, room)
}
