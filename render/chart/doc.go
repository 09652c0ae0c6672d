// Package chart draws figures and measured points as SVG in the look of the theme: lines over a given
// value, points with their limits, axes with units and round ticks, the page's own value, and a text
// that says what the drawing shows.
//
// Nothing depends on colour alone: lines differ in dash, in the shape of their marks and in a label at
// their end; points out of limits have a shape and a number of their own and are named in the text. A
// drawing has no style attribute and no script, so that it works under the strictest content security
// policy; its look is in Style, and its colours come from the text around it.
//
// It is not a general plotting library: there are two axes, both linear, values are in display units,
// and words are English. It works out no figure and no limit.
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
// Charts are drawn here because the SVG of gonum/plot, which was tried, has an inline style on every
// element (refused by a strict content security policy), fixed colours, a white background and a fixed
// font, sizes in points, and no class, role, title or description.
package chart
