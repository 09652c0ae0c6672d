package formula

import (
	"cmp"
	"slices"

	"labsite/recipes/quantity"
)

// gather groups rows by their set of keys: it gives a search with one row for each set, in the
// order of the keys, whose result is what over makes of the cells in the file's order. Keys that
// differ only by noise are one key.
func (s *Search) gather(over func(cells []float64) float64) *Search {
	keys := make([][]float64, len(s.Keys))
	for i, k := range s.Keys {
		keys[i] = withoutNoise(k)
	}
	order := make([]int, len(s.Result.Cells))
	for i := range order {
		order[i] = i
	}
	compare := func(a, b int) int {
		for _, k := range keys {
			if c := cmp.Compare(k[a], k[b]); c != 0 {
				return c
			}
		}
		return 0
	}
	slices.SortStableFunc(order, compare)
	out := &Search{Result: s.Result, Keys: slices.Clone(s.Keys), sorted: true}
	out.Result.Cells, out.Result.Lines = nil, nil
	for i := range out.Keys {
		out.Keys[i].Cells, out.Keys[i].Lines = nil, nil
	}
	var cells []float64
	for i, row := range order {
		cells = append(cells, s.Result.Cells[row])
		if i+1 < len(order) && compare(row, order[i+1]) == 0 {
			continue
		}
		out.Result.Cells = append(out.Result.Cells, over(cells))
		for k := range keys {
			out.Keys[k].Cells = append(out.Keys[k].Cells, keys[k][row])
		}
		cells = cells[:0]
	}
	return out
}

// Gathered reports whether each row of the search stands for all rows of a file with its keys.
func (s *Search) Gathered() bool { return s.sorted }

// withoutNoise gives the cells of a column, with cells that differ only by noise made equal.
func withoutNoise(c Column) []float64 {
	if c.Kind.Sort == quantity.Word {
		return c.Cells
	}
	distinct := slices.Clone(c.Cells)
	slices.Sort(distinct)
	distinct = slices.Compact(distinct)
	same := make(map[float64]float64, len(distinct))
	for i, v := range distinct {
		same[v] = v
		if i > 0 && quantity.Equal(same[distinct[i-1]], v) {
			same[v] = same[distinct[i-1]]
		}
	}
	out := make([]float64, len(c.Cells))
	for i, v := range c.Cells {
		out[i] = same[v]
	}
	return out
}
