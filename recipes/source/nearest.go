package source

// Nearest gives the candidate that is spelled most like name, or "" where none
// is near enough to be worth offering: at most a third of the letters, and never
// more than three, may differ by insertion, removal, exchange or a swapped pair.
func Nearest(name string, candidates []string) string {
	best, bestDistance := "", 4
	a := []rune(name)
	for _, c := range candidates {
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
// and Levenshtein 1966).
func distance(a, b []rune) int {
	if len(a)-len(b) > 3 || len(b)-len(a) > 3 || len(a) > 64 || len(b) > 64 {
		return 99
	}
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(a)][len(b)]
}
