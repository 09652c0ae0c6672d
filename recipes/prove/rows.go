package prove

import (
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// MostGroups is how many sets of rows a page's script may hold for one function over rows. Keys
// that are choices need few; a key that can be anything would need the whole file.
const MostGroups = 2000

// tooManyGroups reports functions over the rows of a file whose keys can be set in so many ways that
// a script would need more than MostGroups.
func tooManyGroups(s *page.Sheet) source.List {
	var list source.List
	reach := NewReach(s)
	look := func(f *formula.Formula, root *formula.Node) {
		if f == nil || root == nil {
			return
		}
		root.Walk(func(n *formula.Node) bool {
			if count := reach.Groups(n, 0); count > MostGroups {
				list = append(list, source.TooManyGroups(n.Op.Name, n.Data.Result.File, count, MostGroups).At(f.SpanOf(n)))
			}
			return true
		})
	}
	for _, f := range s.Figures {
		look(f.Formula, f.Node)
	}
	for _, l := range s.Limits {
		look(l.When, l.Node)
	}
	for _, st := range s.Steps {
		look(st.For, st.Node)
	}
	return list
}

// Groups is how many sets of rows the keys of a function over rows can choose; 0 for any other
// node.
func (r *Reach) Groups(n *formula.Node, base int) int {
	if n.Data == nil || !n.Data.Gathered() {
		return 0
	}
	spans := make([]formula.Span, len(n.Args))
	for i, a := range n.Args {
		spans[i] = r.Of(a, base)
	}
	return len(n.Rows(spans))
}

// rowsHeld reports the rows of data files for which limits hold.
func (c *Case) rowsHeld() source.List {
	var list source.List
	for _, l := range c.Holding {
		if l.Each == nil {
			continue
		}
		for _, row := range l.Rows[:min(len(l.Rows), mostRowsHeld)] {
			list = append(list, source.RowHolds(string(l.Kind), len(l.Rows)).At(l.Each.Table.Columns[0].At(row)))
		}
	}
	return list
}

// mostRowsHeld is how many rows of one limit, or points of one chart, are reported.
const mostRowsHeld = 20
