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
	// Lines are the cells' lines in the file.
	Lines []int
	// Table tells columns of one file from those of another.
	Table any
}

// Search is a lookup or an interpolation over columns of one file. Keys are compared
// one after the other with the node's arguments.
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
		hit := true
		for i, k := range s.Keys {
			if !quantity.Equal(k.Cells[row], values[i]) {
				hit = false
				break
			}
		}
		if hit {
			return row
		}
	}
	return -1
}

// between finds the two rows whose x stand next to the value on either side, the same
// row twice where it meets one; ok is false beyond the given points.
func (s *Search) between(x float64) (low, high int, ok bool) {
	low, high = -1, -1
	for row, v := range s.Keys[0].Cells {
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
