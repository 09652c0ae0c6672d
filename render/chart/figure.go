package chart

import (
	_ "embed"
)

// Style is the style sheet for drawings, to be added to the site's own. The theme can set every colour in
// it through a custom property; they are listed at its top.
//
//go:embed chart.css
var Style string

// Figure returns the chart as a piece of a page: the caption, the drawing in both layouts, of which Style
// shows one, the note, and the list of points out of limits with their reasons. It is well-formed XML as
// well as HTML, always the same for the same chart, with all texts escaped.
func (c Chart) Figure() string {
	var m markup
	m.open("figure", "class", "chart", "id", prefix(c.ID))
	m.WriteString("\n")
	if c.Caption != "" {
		m.text("figcaption", c.Caption, "class", "chart-caption")
	}
	if c.empty() {
		m.text("p", nothingYet, "class", "chart-note")
		m.close("figure")
		return m.String()
	}
	m.WriteString(c.SVG(Wide))
	m.WriteString(c.SVG(Narrow))
	if c.Note != "" {
		m.text("p", c.Note, "class", "chart-note")
	}
	if all := c.flaggedPoints(); len(all) > 0 {
		m.open("ol", "class", "chart-flags")
		m.WriteString("\n")
		for _, f := range all {
			words := c.X.full(f.point.X) + ", " + c.Y.shown(f.point) + ": " + f.why
			if name := c.Marks[f.series].Name; name != "" && len(c.Marks) > 1 {
				words = name + ", " + words
			}
			m.text("li", words)
		}
		m.close("ol")
	}
	m.close("figure")
	return m.String()
}

// nothingYet stands in place of a drawing without points, such as that of a page's records before the
// first: there is nothing to take the axes from.
const nothingYet = "No reading yet: the drawing begins with the first."

// empty reports whether there is nothing to draw yet.
func (c Chart) empty() bool {
	return len(c.Marks) > 0 && !c.reach().any
}

// SVG returns only the drawing, in one layout.
//
// A script can move the page's own value without knowing how it was drawn: the root element has data-plot
// (left, top, right, bottom of the area between the axes) and data-x and data-y (the values at its ends,
// in display units). The group of class chart-own is moved by its transform; the lines chart-own-down and
// chart-own-left begin at x1, y1; chart-own-value and chart-own-where are the two lines of its label.
func (c Chart) SVG(l Layout) string {
	d := c.draw(l)
	var m markup
	id := ""
	if c.ID != "" {
		id = prefix(c.ID) + "-" + d.name
	}
	words := c.Describe()
	pairs := []string{
		"xmlns", "http://www.w3.org/2000/svg", "class", "chart-drawing chart-" + d.name,
		"viewBox", "0 0 " + num(d.width) + " " + num(d.height), "role", "img",
		"font-size", num(d.text), "fill", "currentColor",
		"data-plot", num(d.plot.left) + " " + num(d.plot.top) + " " + num(d.plot.right) + " " + num(d.plot.bottom),
		"data-x", exact(d.x.low) + " " + exact(d.x.high),
		"data-y", exact(d.y.low) + " " + exact(d.y.high),
	}
	title := c.Caption
	if title == "" {
		title = "Chart"
	}
	if id == "" {
		m.open("svg", append(pairs, "aria-label", title+". "+words)...)
	} else {
		m.open("svg", append(pairs, "aria-labelledby", id+"-title", "aria-describedby", id+"-words")...)
		m.WriteString("\n")
		m.text("title", title, "id", id+"-title")
		m.text("desc", words, "id", id+"-words")
	}
	m.WriteString(d.back.String())
	m.WriteString(d.front.String())
	m.WriteString(d.own.String())
	for _, t := range d.labels {
		if !t.grouped {
			anchor := t.anchor
			if anchor == "start" {
				anchor = ""
			}
			m.text("text", t.words, "class", t.class, "x", num(t.at.x), "y", num(t.at.y), "text-anchor", anchor)
		}
	}
	m.close("svg")
	return m.String()
}
