package search

// A list says which pages have a stem. Each page is
//
//   - a sign for the step from the page before it and the level of the stem on it: 16 times
//     the step plus the level, if the step is 1, 2 or 3; otherwise the level alone, and then
//     the step less 4, five bits a sign, the lowest first, with 32 added while more follow;
//   - a sign for each of the passages in which it counts most: a number below 32 that mostly
//     tells the passages of a page apart, with 32 added while more follow.
//
// Two words with the same passage number on a page are taken to be in one passage, which is wrong
// about one time in ten. The number comes from the passage's text, so it stays when other passages
// are put before it.
//
// Signs are those of base64 for addresses, so that a list is a text without escapes.
const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// mostPlaces is how many passages of a page a list holds.
const mostPlaces = 3

var signs = func() (out [128]byte) {
	for i := range len(alphabet) {
		out[alphabet[i]] = byte(i)
	}
	return
}()

// settle adds a page to the list of the stem.
func (s *stem) settle(page int) {
	s.list = appendStep(s.list, page+1-s.last, s.best[0].level)
	s.list = appendPlaces(s.list, s.best[:s.places])
	s.last = page + 1
	s.pages++
	s.places = 0
}

func appendStep(b []byte, step int, level byte) []byte {
	if step < 4 {
		return append(b, alphabet[byte(step)<<4|level])
	}
	b = append(b, alphabet[level])
	for step -= 4; ; step >>= 5 {
		if step < 32 {
			return append(b, alphabet[step])
		}
		b = append(b, alphabet[step&31|32])
	}
}

func appendPlaces(b []byte, places []place) []byte {
	for i, p := range places {
		if i < len(places)-1 {
			b = append(b, alphabet[p.mark|32])
		} else {
			b = append(b, alphabet[p.mark])
		}
	}
	return b
}

// eachPage reads a list. places are the signs of the passages, as written.
func eachPage(list []byte, do func(page int, level byte, places []byte)) {
	page := -1
	for at := 0; at < len(list); {
		c := signs[list[at]]
		at++
		step := int(c >> 4)
		if step == 0 {
			step = 4
			for shift := 0; ; shift += 5 {
				more := signs[list[at]]
				at++
				step += int(more&31) << shift
				if more < 32 {
					break
				}
			}
		}
		page += step
		begin := at
		for signs[list[at]] >= 32 {
			at++
		}
		at++
		do(page, c&15, list[begin:at])
	}
}
