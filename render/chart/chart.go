package chart

// Chart is one drawing. Every field may be left empty: what is missing is not drawn.
type Chart struct {
	// ID is the id of the figure, and all ids in the drawing begin with it. It must be unique on its
	// page. Without it the drawing has no ids, and readers who cannot see it get the text
	// alternative as a label.
	ID string
	// Caption is plain text: what the chart is about.
	Caption string
	// Note is plain text below the drawing, such as from which readings limits were worked out.
	Note string
	X, Y Axis
	// By says what the lines differ in, if their names are only its values.
	By     string
	Lines  []Line
	Marks  []Marks
	Limits []Limit
	// Own is the page's own value, which is marked in the drawing; nil for none.
	Own *Point
}

// Line is a figure drawn over the X axis. Its points may be in any order; they are joined by straight
// lines in the order of X, and the line breaks at points that are not OK.
type Line struct {
	Name   string
	Points []Point
}

// Marks are measured points.
type Marks struct {
	Name   string
	Points []Point
	// Flags says for each point why it is out of limits, in a few words, or is "". It may be shorter
	// than Points; nil says that the points were not judged.
	Flags []string
	// Joined draws a thin line from point to point, in the order of X.
	Joined bool
}

// Point is one place in the chart, in the display units of the axes.
type Point struct {
	X, Y float64
	// OK is false if there is no figure there. Values that are not finite, or beyond 1e100, count as
	// not OK.
	OK bool
	// Shown is Y as the page writes it; if it is "", the axis writes Y.
	Shown string
}

// Limit is a line straight across at Y.
type Limit struct {
	Name string
	Y    float64
	Kind LimitKind
}

// LimitKind says how serious a limit is.
type LimitKind int

const (
	// Centre is a mean or an aim.
	Centre LimitKind = iota
	// Action is the limit beyond which to look for a cause.
	Action
	// Control is the limit beyond which to stop.
	Control
)

// usable reports whether the point can be drawn.
func (p Point) usable() bool { return p.OK && usable(p.X) && usable(p.Y) }

// usable reports whether a number is finite and so small that differences cannot overflow.
func usable(v float64) bool { return v >= -1e100 && v <= 1e100 }

// flag returns why point i is out of limits, or "".
func (m Marks) flag(i int) string {
	if i < len(m.Flags) {
		return m.Flags[i]
	}
	return ""
}
