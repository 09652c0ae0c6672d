package formula

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"labsite/recipes/quantity"
)

// Column is one column of a data file, its cells in base units; a text cell is the
// number of its text among Words.
type Column struct {
	File, Name string
	Kind       quantity.Kind
	Unit       quantity.Unit
	Cells      []float64
	Words      []string
	// Diluted says that numbers are written as dilutions, 1+31, Engraved that they are
	// written as f-numbers, f/8.
	Diluted, Engraved bool
	// Lines are the cells' lines in the file.
	Lines []int
	// Table distinguishes columns of one file from those of another.
	Table any
	// Live says that the cells depend on values that can be set: they are then in the frame,
	// Rows of them from Slot on, and after them a value that is NaN if a row failed.
	Live       bool
	Slot, Rows int
}

// Cell is a cell of the column in a case.
func (c *Column) Cell(f *Frame, row int) float64 {
	if c.Live {
		return f.V[c.Slot+row]
	}
	return c.Cells[row]
}

// State is the slot that says whether a live column has all its cells.
func (c *Column) State() int { return c.Slot + c.Rows }

// Show is how a value is written in a message that the column has no row for it.
func (c Column) Show() quantity.Show {
	show := quantity.DefaultShow(c.Kind, c.Unit)
	show.Words = c.Words
	if c.Diluted {
		show.Style = quantity.Added
	}
	if c.Engraved {
		show.Style = quantity.Engraved
	}
	return show
}

// KindName says in words what the column holds.
func (c Column) KindName() string {
	if c.Kind.Sort == quantity.Word {
		return "a column of texts"
	}
	return "a column of " + strings.TrimPrefix(strings.TrimPrefix(c.Kind.Name(), "a "), "an ") + "s"
}

// Search is a lookup or an interpolation over columns of one file. Keys are compared
// one after the other with the node's arguments; the first of an interpolation is its x.
type Search struct {
	Result Column
	Keys   []Column

	sorted bool // by the keys: see gather
}

// Live lists the columns of the search whose cells depend on values that can be set.
func (s *Search) Live() []*Column {
	var live []*Column
	for i := range s.Keys {
		if s.Keys[i].Live {
			live = append(live, &s.Keys[i])
		}
	}
	if s.Result.Live {
		live = append(live, &s.Result)
	}
	return live
}

// chosenNow lists the cells of the rows whose keys equal the values in a case.
func (s *Search) chosenNow(f *Frame, values []float64) []float64 {
	var cells []float64
	for row := range s.count() {
		hit := true
		for i := range s.Keys {
			hit = hit && quantity.Equal(s.Keys[i].Cell(f, row), values[i])
		}
		if hit {
			cells = append(cells, s.Result.Cell(f, row))
		}
	}
	return cells
}

// count is how many rows there are.
func (s *Search) count() int {
	if s.Result.Live {
		return s.Result.Rows
	}
	return len(s.Result.Cells)
}

// repeated finds two rows with one key.
func (s *Search) repeated() (a, b int, ok bool) {
	order := make([]int, s.count())
	for i := range order {
		order[i] = i
	}
	compare := func(a, b int) int {
		for _, k := range s.Keys {
			x, y := k.Cells[a], k.Cells[b]
			if quantity.Equal(x, y) {
				continue
			}
			if x < y {
				return -1
			}
			return 1
		}
		return 0
	}
	slices.SortStableFunc(order, compare)
	for i := 1; i < len(order); i++ {
		if compare(order[i-1], order[i]) == 0 {
			return min(order[i-1], order[i]), max(order[i-1], order[i]), true
		}
	}
	return 0, 0, false
}

// find gives the row whose keys equal the values, or -1.
func (s *Search) find(values []float64) int {
	from := 0
	if s.sorted && len(values) > 0 {
		first := s.Keys[0].Cells
		from = sort.Search(len(first), func(row int) bool { return !quantity.Less(first[row], values[0]) })
	}
	for row := from; row < s.count(); row++ {
		if s.matches(row, values, 0) {
			return row
		}
		if s.sorted && quantity.Less(values[0], s.Keys[0].Cells[row]) {
			break
		}
	}
	return -1
}

// matches reports whether a row's keys equal the values, from key number from on.
func (s *Search) matches(row int, values []float64, from int) bool {
	for i := from; i < len(s.Keys); i++ {
		if !quantity.Equal(s.Keys[i].Cells[row], values[i]) {
			return false
		}
	}
	return true
}

// between finds, among the rows that the further keys choose, the two whose x are nearest to
// the first value on either side; the same row twice if its x is the value. ok is false
// beyond the given points, and both are -1 if no row is chosen.
func (s *Search) between(values []float64) (low, high int, ok bool) {
	low, high = -1, -1
	x := values[0]
	for row, v := range s.Keys[0].Cells {
		if !s.matches(row, values, 1) {
			continue
		}
		if quantity.Equal(v, x) {
			return row, row, true
		}
		if v < x && (low < 0 || v > s.Keys[0].Cells[low]) {
			low = row
		}
		if v > x && (high < 0 || v < s.Keys[0].Cells[high]) {
			high = row
		}
	}
	return low, high, low >= 0 && high >= 0
}

// Rows lists the rows of the node's data that can be chosen while its keys lie within the
// spans.
func (n *Node) Rows(keys []Span) []int { return n.Op.rows(n.Data, keys) }

// chosen lists the rows whose keys the spans allow.
func (s *Search) chosen(keys []Span) []int { return s.chosenFrom(keys, 0) }

// chosenFrom is chosen by the keys from number from on.
func (s *Search) chosenFrom(keys []Span, from int) []int {
	var rows []int
	for row := range s.Result.Cells {
		hit := true
		for i := from; i < len(s.Keys); i++ {
			hit = hit && keys[i].Holds(s.Keys[i].Cells[row])
		}
		if hit {
			rows = append(rows, row)
		}
	}
	return rows
}

// around lists the rows that an interpolation can use: in each group of rows with equal
// further keys, those inside the span of x and the nearest on either side of it.
func (s *Search) around(keys []Span) []int {
	type ends struct{ below, above float64 }
	low, high, xs := keys[0].Low, keys[0].High, s.Keys[0].Cells
	together := func(row int) string {
		var further []byte
		for _, k := range s.Keys[1:] {
			further = append(strconv.AppendFloat(further, k.Cells[row], 'g', -1, 64), ' ')
		}
		return string(further)
	}
	near := map[string]ends{}
	candidates := s.chosenFrom(keys, 1)
	for _, row := range candidates {
		key := together(row)
		at, seen := near[key]
		if !seen {
			at = ends{math.Inf(-1), math.Inf(1)}
		}
		if x := xs[row]; !math.IsInf(low, 0) && quantity.LessOrEqual(x, low) {
			at.below = max(at.below, x)
		}
		if x := xs[row]; !math.IsInf(high, 0) && quantity.LessOrEqual(high, x) {
			at.above = min(at.above, x)
		}
		near[key] = at
	}
	var rows []int
	for _, row := range candidates {
		if at := near[together(row)]; xs[row] >= at.below && xs[row] <= at.above {
			rows = append(rows, row)
		}
	}
	return rows
}
