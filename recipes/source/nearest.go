package source

import (
	"strings"
	"unicode/utf8"
)

// Nearest gives the candidate spelled most like name, or "" if none is near enough to be
// worth offering: it may differ only in capital letters, or in at most a third of its letters
// and never more than three, where a letter is added, missing, wrong or swapped with the next.
func Nearest(name string, candidates []string) string {
	best, bestDistance := "", 4
	a := []rune(name)
	for _, c := range candidates {
		if strings.EqualFold(c, name) {
			return c
		}
		if n := utf8.RuneCountInString(c); n > len(a)+3 || len(a) > n+3 {
			continue
		}
		b := []rune(c)
		limit := min(3, max(1, (max(len(a), len(b))+1)/3))
		d := distance(a, b)
		if d <= limit && (d < bestDistance || d == bestDistance && c < best) {
			best, bestDistance = c, d
		}
	}
	return best
}

// distance is the optimal string alignment distance (published by Damerau 1964
// and Levenshtein 1966); beyond three it is merely some number above three.
func distance(a, b []rune) int {
	const longest = 64
	if len(a)-len(b) > 3 || len(b)-len(a) > 3 || len(a) > longest || len(b) > longest {
		return 99
	}
	var rows [3][longest + 1]uint8 // the row before the last, the last, this one
	for j := range len(b) + 1 {
		rows[1][j] = uint8(j)
	}
	for i := 1; i <= len(a); i++ {
		before, last, row := &rows[(i-1)%3], &rows[i%3], &rows[(i+1)%3]
		row[0] = uint8(i)
		least := row[0]
		for j := 1; j <= len(b); j++ {
			cost := uint8(1)
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
			least = min(least, d)
		}
		if least > 4 { // a swapped pair may yet take one off
			return int(least)
		}
	}
	return int(rows[(len(a)+1)%3][len(b)])
}
