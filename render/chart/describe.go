package chart

import (
	"fmt"
	"strings"
)

// mostNamed is how many points out of limits the text alternative names; the list below the drawing names
// all.
const mostNamed = 10

// Describe is the text alternative, in plain sentences: what the axes show, where each line begins, turns
// and ends, how many measured points there are and which are out of limits, and the page's own value.
func (c Chart) Describe() string {
	var parts []string
	say := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	x, y := c.domains()
	if c.X.Label != "" {
		from, to := x.low, x.high
		if e := c.reach(); e.any {
			from, to = e.low, e.high
		}
		say("Across: %s, %s to %s.", c.X.Label, c.X.about(from), c.X.about(to))
	}
	if c.Y.Label != "" {
		say("Up: %s.", c.Y.Label)
	}
	if c.By != "" {
		say("A line for each value of %s.", c.By)
	}
	for _, l := range c.Lines {
		say("%s", c.describeLine(l, y))
	}
	for _, m := range c.Marks {
		say("%s", c.describeMarks(m))
	}
	if len(c.Limits) > 0 {
		var each []string
		for _, l := range c.Limits {
			if usable(l.Y) {
				each = append(each, strings.TrimSpace(l.Name+" "+c.Y.about(l.Y)))
			}
		}
		say("Lines across: %s.", strings.Join(each, ", "))
	}
	if c.Own != nil {
		if c.Own.usable() {
			say("At the values set on this page: %s.", c.ownWords())
		} else {
			say("At the values set on this page there is no figure.")
		}
	}
	return strings.Join(parts, " ")
}

// reach is the range of X that points cover, without the margin that the axis adds.
func (c Chart) reach() (e extent) {
	for _, l := range c.Lines {
		for _, p := range l.Points {
			e.take(p.X)
		}
	}
	for _, m := range c.Marks {
		for _, p := range m.Points {
			if p.usable() {
				e.take(p.X)
			}
		}
	}
	return e
}

// ownWords is the page's own value and where it lies.
func (c Chart) ownWords() string { return c.Y.shown(*c.Own) + " " + c.X.placed(c.Own.X) }

func (c Chart) at(p Point) string { return c.Y.shown(p) + " " + c.X.placed(p.X) }

// describeLine describes the course of a line: its ends, and its turns if they are few.
func (c Chart) describeLine(l Line, y extent) string {
	name := l.Name
	if name == "" {
		name = "The line"
	}
	points := ordered(l.Points)
	var drawn []Point
	for _, p := range points {
		if p.usable() {
			drawn = append(drawn, p)
		}
	}
	text := name + ": "
	switch len(drawn) {
	case 0:
		return text + "no figure anywhere."
	case 1:
		text += c.at(drawn[0])
	default:
		text += c.course(drawn, (y.high-y.low)*1e-6)
	}
	var missing []string
	for i, p := range points {
		if p.usable() || i > 0 && !points[i-1].usable() {
			continue
		}
		last := i
		for last+1 < len(points) && !points[last+1].usable() {
			last++
		}
		if from, to := c.X.about(p.X), c.X.about(points[last].X); from == to {
			missing = append(missing, c.X.placed(p.X))
		} else {
			missing = append(missing, "from "+from+" to "+to)
		}
	}
	if len(missing) > 0 {
		text += "; no figure " + strings.Join(missing, ", ")
	}
	return text + "."
}

// course describes how two or more points rise and fall, ignoring changes below the noise.
func (c Chart) course(points []Point, noise float64) string {
	turns := []Point{points[0]}
	way := 0
	for i := 1; i < len(points); i++ {
		d := points[i].Y - turns[len(turns)-1].Y
		switch {
		case d > noise && way >= 0, d < -noise && way <= 0:
			if way == 0 {
				way = 1
				if d < 0 {
					way = -1
				}
				turns = append(turns, points[i])
			} else {
				turns[len(turns)-1] = points[i]
			}
		case d > noise || d < -noise:
			way = -way
			turns = append(turns, points[i])
		}
	}
	first, last := points[0], points[len(points)-1]
	verb := func(from, to Point) string {
		if to.Y > from.Y {
			return "rises"
		}
		return "falls"
	}
	switch len(turns) {
	case 1:
		return fmt.Sprintf("stays at %s from %s to %s", c.Y.shown(first), c.X.about(first.X), c.X.about(last.X))
	case 2:
		return fmt.Sprintf("%s from %s to %s", verb(first, last), c.at(first), c.at(last))
	case 3:
		return fmt.Sprintf("%s from %s to %s, then %s to %s",
			verb(first, turns[1]), c.at(first), c.at(turns[1]), verb(turns[1], last), c.at(last))
	}
	low, high := lowestHighest(points)
	return fmt.Sprintf("goes up and down, from %s to %s; lowest %s, highest %s", c.at(first), c.at(last), c.at(low), c.at(high))
}

func lowestHighest(points []Point) (low, high Point) {
	low, high = points[0], points[0]
	for _, p := range points[1:] {
		if p.Y < low.Y {
			low = p
		}
		if p.Y > high.Y {
			high = p
		}
	}
	return low, high
}

// describeMarks says how many points there are, what their range is, and which are out of limits.
func (c Chart) describeMarks(m Marks) string {
	var drawn []Point
	var out []string
	for i, p := range m.Points {
		if !p.usable() {
			continue
		}
		drawn = append(drawn, p)
		if why := m.flag(i); why != "" {
			out = append(out, c.X.about(p.X)+", "+c.Y.shown(p)+" ("+why+")")
		}
	}
	name := m.Name
	if name == "" {
		name = "Measured"
	}
	switch len(drawn) {
	case 0:
		return name + ": no points."
	case 1:
		name += ": 1 point, " + c.at(drawn[0])
	default:
		low, high := lowestHighest(drawn)
		name += fmt.Sprintf(": %d points, lowest %s, highest %s", len(drawn), c.at(low), c.at(high))
	}
	switch n := len(out); {
	case n == 0 && m.Flags != nil: // without flags they were not judged
		name += "; none out of limits"
	case n > mostNamed:
		name += fmt.Sprintf("; %d out of limits: %s and %d more", n, strings.Join(out[:mostNamed], "; "), n-mostNamed)
	case n > 0:
		name += fmt.Sprintf("; %d out of limits: %s", n, strings.Join(out, "; "))
	}
	return name + "."
}
