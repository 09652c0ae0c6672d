package formula

import (
	"slices"

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
	// Diluted says that numbers are written as dilutions, 1+31.
	Diluted bool
	// Lines are the cells' lines in the file.
	Lines []int
	// Table tells columns of one file from those of another.
	Table any
}

// Show is how values of the column are written where there is no row for them.
func (c Column) Show() quantity.Show {
	show := quantity.DefaultShow(c.Kind, c.Unit)
	show.Words = c.Words
	if c.Diluted {
		show.Style = quantity.Added
	}
	return show
}

// Search is a lookup or an interpolation over columns of one file. Keys are compared
// one after the other with the node's arguments; the first of an interpolation is its x.
type Search struct {
	Result Column
	Keys   []Column
}

// repeated finds two rows with one key.
func (s *Search) repeated() (a, b int, ok bool) {
	order := make([]int, len(s.Result.Cells))
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
	for row := range s.Result.Cells {
		if s.met(row, values, 0) {
			return row
		}
	}
	return -1
}

// met tells whether a row's keys, from one on, equal the values.
func (s *Search) met(row int, values []float64, from int) bool {
	for i := from; i < len(s.Keys); i++ {
		if !quantity.Equal(s.Keys[i].Cells[row], values[i]) {
			return false
		}
	}
	return true
}

// between finds, among the rows that the further keys choose, the two whose x stand next to
// the first value on either side, the same row twice where it meets one; ok is false beyond
// the given points, and both are -1 where no row is chosen.
func (s *Search) between(values []float64) (low, high int, ok bool) {
	low, high = -1, -1
	x := values[0]
	for row, v := range s.Keys[0].Cells {
		if !s.met(row, values, 1) {
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
