package script

import (
	"fmt"
	"strings"

	"labsite/recipes/prove"
)

// sureness writes what uncertainties are worked out from: the runtime then does as
// prove.Propagation does.
func (e *emitter) sureness(p Page) {
	x := prove.NewPropagation(p.Sheet)
	if !p.Sureness || x == nil {
		return
	}
	w := e.out
	w.WriteString(",sure:{sources:[")
	for i, s := range x.Sources {
		e.comma(i)
		fmt.Fprintf(w, "{label:%s,slots:[%s]", quoted(s.Words()), e.slotList(s.Slots, 0))
		switch {
		case s.Rounding == nil:
			fmt.Fprintf(w, ",half:%s", number(s.Half))
		case s.Step == nil:
			w.WriteString(",half:0.5")
		default:
			e.at(s.Base, func() { fmt.Fprintf(w, ",step:s=>%s", e.Value(s.Step)) })
		}
		w.WriteByte('}')
	}
	w.WriteString("\n],steps:[")
	for i, st := range x.Steps {
		e.comma(i)
		e.at(st.Base, func() {
			fmt.Fprintf(w, "{slot:%d,unknown:%t,work:s=>%s", e.places.of(st.Slot), st.Unknown, e.Value(st.Node))
			for _, list := range []struct {
				name  string
				of    []prove.Derivative
				place func(int) int
			}{{"by", st.By, e.places.of}, {"own", st.Own, func(i int) int { return i }}} {
				fmt.Fprintf(w, ",%s:[", list.name)
				for k, d := range list.of {
					if k > 0 {
						w.WriteByte(',')
					}
					fmt.Fprintf(w, "[%d,s=>%s]", list.place(d.Of), e.Value(d.Node))
				}
				w.WriteByte(']')
			}
			w.WriteByte('}')
		})
	}
	w.WriteString("\n],figures:[")
	for i, f := range x.Figures {
		e.comma(i)
		show := prove.GiveOrTake(f)
		fmt.Fprintf(w, "{name:%s,slot:%d,show:%s,factor:%s}", quoted(f.Name), e.places.of(f.Slot), e.show(show), number(show.Unit.Factor))
	}
	w.WriteString("\n]}")
}

// at writes something of another block.
func (e *emitter) at(base int, write func()) {
	was := e.base
	e.base = base
	write()
	e.base = was
}

func (e *emitter) slotList(slots []int, base int) string {
	parts := make([]string, len(slots))
	for i, s := range slots {
		parts[i] = fmt.Sprint(e.places.of(base + s))
	}
	return strings.Join(parts, ",")
}
