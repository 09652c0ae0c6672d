package search

// A list says which pages have a stem. Each page is
//
//   - a sign for how far it is from the page before it and what the stem counts on it:
//     16 times the step, if that is 1, 2 or 3, and the level; or the level alone, and then
//     the step less 4 by five bits a sign, the lowest first, 32 added while more follow;
//   - one sign for each of the passages in which it counts most: a number below 32 that
//     tells passages of a page apart more or less, 32 added while more follow.
//
// Two words of which a page has a passage of the same number stand together there; one time
// in ten or so they do not. The number is taken from the passage's text, so it stays when
// others are put before it.
//
// Signs are those of base64 for addresses, so that a list is a text without escapes.
const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// mostPlaces is how many passages of a page a list gives.
const mostPlaces = 3

var signs = func() (out [128]byte) {
	for i := range len(alphabet) {
		out[alphabet[i]] = byte(i)
	}
	return
}()

// settle writes what the page that was added has of the stem.
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

// eachPage reads a list. places are the signs of the passages as they are written.
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
