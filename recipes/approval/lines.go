package approval

// changedLine is a text that differs from the one that was in its place.
type changedLine struct{ before, after string }

// mostCompared bounds the texts that are matched in their order; longer lists are compared as
// sets, in which a moved text counts as unchanged.
const mostCompared = 2000

// changedLines compares two lists of texts: those that both have in one order (a longest common
// subsequence) are unchanged; of the others, one removed and one added at the same place count
// as one that changed.
func changedLines(old, now []string) (out []changedLine) {
	for len(old) > 0 && len(now) > 0 && old[0] == now[0] {
		old, now = old[1:], now[1:]
	}
	for len(old) > 0 && len(now) > 0 && old[len(old)-1] == now[len(now)-1] {
		old, now = old[:len(old)-1], now[:len(now)-1]
	}
	var gone, fresh []string
	flush := func() {
		for i := range max(len(gone), len(fresh)) {
			var c changedLine
			if i < len(gone) {
				c.before = gone[i]
			}
			if i < len(fresh) {
				c.after = fresh[i]
			}
			out = append(out, c)
		}
		gone, fresh = nil, nil
	}
	if len(old)*len(now) > mostCompared*mostCompared {
		gone, fresh = only(old, now), only(now, old)
		flush()
		return out
	}
	same := common(old, now)
	i, k := 0, 0
	for i < len(old) || k < len(now) {
		switch {
		case i < len(old) && k < len(now) && old[i] == now[k]:
			flush()
			i, k = i+1, k+1
		case k == len(now) || i < len(old) && same[i+1][k] >= same[i][k+1]:
			gone = append(gone, old[i])
			i++
		default:
			fresh = append(fresh, now[k])
			k++
		}
	}
	flush()
	return out
}

// common gives the length of a longest common subsequence of two lists, from each pair of places
// on.
func common(old, now []string) [][]int32 {
	same := make([][]int32, len(old)+1)
	for i := range same {
		same[i] = make([]int32, len(now)+1)
	}
	for i := len(old) - 1; i >= 0; i-- {
		for k := len(now) - 1; k >= 0; k-- {
			if old[i] == now[k] {
				same[i][k] = same[i+1][k+1] + 1
			} else {
				same[i][k] = max(same[i+1][k], same[i][k+1])
			}
		}
	}
	return same
}

// only lists the texts of one list that the other does not have.
func only(of, other []string) (out []string) {
	has := map[string]bool{}
	for _, x := range other {
		has[x] = true
	}
	for _, x := range of {
		if !has[x] {
			out = append(out, x)
		}
	}
	return out
}
