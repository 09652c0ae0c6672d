package script

import (
	"fmt"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
)

// process writes the times of the page's steps and of their agitation, in seconds. A step without a
// time gets an empty entry, so that steps keep their numbers.
func (e *emitter) process(s *page.Sheet) {
	timed := false
	for _, st := range s.Steps {
		timed = timed || st.Node != nil
	}
	if !timed {
		return
	}
	e.out.WriteString(",process:[")
	for i, st := range s.Steps {
		e.comma(i)
		if st.Node == nil {
			e.out.WriteString("{}")
			continue
		}
		fmt.Fprintf(e.out, "{show:%s,work:s=>%s", e.show(st.Show), e.Value(st.Node))
		put := func(name string, v *quantity.Value) {
			if v != nil {
				fmt.Fprintf(e.out, ",%s:%s", name, number(v.Base))
			}
		}
		put("drain", st.Drain)
		if a := st.Agitate; a != nil {
			put("first", a.First)
			put("every", a.Every)
			put("turning", a.Turning)
		}
		e.out.WriteByte('}')
	}
	e.out.WriteString("\n]")
}

// grids writes which given values the page's tables run through.
func (e *emitter) grids(s *page.Sheet) {
	n := 0
	for _, g := range s.Grids {
		if g.Rows == nil {
			continue // a weighing list or the rows of a file, which have no given to run through
		}
		if n == 0 {
			e.out.WriteString(",grids:[")
		}
		e.comma(n)
		n++
		var cells []string
		for _, f := range g.Cells {
			cells = append(cells, f.Name)
		}
		fmt.Fprintf(e.out, "{name:%s,cells:%s,rows:%s", quoted(g.Name), quoted(cells), e.run(g.Rows))
		if g.Columns != nil {
			fmt.Fprintf(e.out, ",columns:%s", e.run(g.Columns))
		}
		e.out.WriteByte('}')
	}
	if n > 0 {
		e.out.WriteString("\n]")
	}
}

func (e *emitter) run(r *page.Run) string {
	out := "[" + quoted(r.Given.Name) + ",["
	for i, v := range r.Values {
		if i > 0 {
			out += ","
		}
		out += end(&v)
	}
	return out + "]]"
}
