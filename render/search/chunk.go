package search

import (
	"fmt"
	"strconv"
)

// A part of pages ends after one page in four, chosen by the hash of its address, or when it is
// large enough. So a page that grows changes few parts besides its own.
const (
	chunkBytes = 8 << 10
	chunkPages = 63 // the most that one sign of the alphabet can count
)

// text writes the texts of a page, [address, title, section, passages]; passages are
// [field, text, anchor], the anchor left out if there is none.
func (x *Index) text(p Page, e *parsed) {
	b := x.chunk
	if x.chunkPages == 0 {
		x.chunkFirst = x.pages
	} else {
		b = append(b, ",\n"...)
	}
	b = appendText(append(b, '['), p.Address)
	b = append(append(b, ','), e.title...)
	b = appendText(append(b, ','), p.Where)
	b = append(b, ",["...)
	b = append(b, e.passages...)
	x.chunk = append(b, "]]"...)
	x.chunkPages++
	if hashOf(p.Address)>>8&3 == 0 || len(x.chunk) >= chunkBytes || x.chunkPages == chunkPages {
		x.endChunk()
	}
}

// endChunk puts the part, or holds it back as long as everything may fit in one file.
func (x *Index) endChunk() {
	if x.chunkPages == 0 {
		return
	}
	x.chunks = append(x.chunks, alphabet[x.chunkPages])
	if x.parted {
		x.putChunk(len(x.chunks)-1, x.chunkFirst, x.chunk)
		x.chunk = x.chunk[:0]
	} else {
		x.held = append(x.held, x.chunk)
		x.heldBytes += len(x.chunk)
		x.chunk = nil
		if x.heldBytes > x.bounds.whole {
			x.part()
		}
	}
	x.chunkPages = 0
}

// part goes over to parts, since the data is too much for one file.
func (x *Index) part() {
	x.parted = true
	first := 0
	for i, b := range x.held {
		x.putChunk(i, first, b)
		first += int(signs[x.chunks[i]])
	}
	x.held, x.heldBytes = nil, 0
}

// putChunk writes a part of pages. In place of a stamp it says which pages they are.
func (x *Index) putChunk(number, first int, pages []byte) {
	name := "pages-" + strconv.Itoa(number)
	b := make([]byte, 0, len(pages)+80)
	b = fmt.Appendf(b, "%s.take(\"%d+%d\",%q,[", Name, first, signs[x.chunks[number]], name)
	b = append(b, pages...)
	x.put(Folder+name+".js", append(b, "]);\n"...))
}
