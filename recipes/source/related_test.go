package source

import (
	"fmt"
	"testing"
)

// A cycle of many pages lists the first of them as its other places, and no more than an editor
// can show.
func TestRelatedIsBounded(t *testing.T) {
	for _, n := range []int{2, mostRelated, mostRelated + 1, 10_000} {
		var way []string
		for i := range n {
			way = append(way, fmt.Sprintf("page-%d.md", i))
		}
		got := PageCycle(append(way, way[0])).At(Span{}).Related()
		if len(got) != min(n, mostRelated) {
			t.Fatalf("%d pages have %d other places", n, len(got))
		}
		for i, r := range got {
			if next := way[(i+1)%n]; r.File != way[i] || r.Draws != next || r.Says != "draws on "+next {
				t.Errorf("%d of %d is %+v", i, n, r)
			}
		}
	}
}
