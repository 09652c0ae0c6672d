// Package chart draws figures and measured points as SVG that follows the
// theme: lines over a given value, points with their limits, axes with units
// and round ticks, the page's own value, and a text that says what the drawing
// shows.
//
// Nothing depends on colour alone: lines differ in dash, in the shape of their
// marks and in a label at their end; points out of limits have a shape and a
// number of their own and are named in the text. A drawing has no style
// attribute and no script, so that the strictest content security policy lets
// it through; its look is in Style, its colours come from the text around it.
//
// It is not a general plotting library: two axes, both even (not logarithmic),
// values in display units, English words. It computes no figure and no limit.
//
// # Phases of a drawing
//
//	domain.go    what each axis shows
//	ticks.go     the ticks: round values whose labels fit
//	draw.go      lines, limits, marks and the page's own value
//	place.go     puts labels where they cover nothing
//	describe.go  says in words what the drawing shows
//	figure.go    writes all of it as SVG, in two layouts
//
// # Decisions
//
// Charts are drawn here. gonum/plot was tried: its SVG puts an inline style on every element
// (refused by a strict content security policy), with fixed colours, a white ground and a fixed
// font, in points, without class, role, title or description.
package chart
