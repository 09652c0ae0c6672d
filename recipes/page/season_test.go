package page

import "testing"

func TestSeasonWords(t *testing.T) {
	for want, months := range map[string][]int{
		"":                                  nil,
		"July":                              {7},
		"June to August":                    {8, 6, 7},
		"November to February":              {11, 12, 1, 2},
		"March and October":                 {3, 10},
		"January, March and July to August": {1, 3, 7, 8},
		"all year":                          {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12},
	} {
		if got := SeasonWords(months); got != want {
			t.Errorf("%v is said %q, want %q", months, got, want)
		}
	}
}
