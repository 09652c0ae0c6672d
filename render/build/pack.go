package build

import (
	"errors"
	"sync"

	"github.com/klauspost/compress/s2"

	"labsite/render/search"
)

// Search entries are kept packed: a large site has a great many of them, and they are read only
// when the search is made.

// mostUnpacked bounds what is unpacked of one page or file, in bytes: none has as much text.
const mostUnpacked = 64 << 20

var errPacked = errors.New("what a page is found by cannot be read")

// packed packs bytes.
func packed[T ~string | ~[]byte](b T) string {
	room := packing.Get().(*[]byte)
	defer packing.Put(room)
	if n := s2.MaxEncodedLen(len(b)); cap(*room) < n && n > 0 {
		*room = make([]byte, n)
	}
	return string(s2.Encode((*room)[:cap(*room)], []byte(b)))
}

// packing holds the room that packing takes, several times that of what is packed.
var packing = sync.Pool{New: func() any { return new([]byte) }}

// unpacked gives the bytes that packed was given; an error for bytes that packed never made.
func unpacked(packed string) ([]byte, error) {
	n, err := s2.DecodedLen([]byte(packed))
	if err != nil || n > mostUnpacked {
		return nil, errPacked
	}
	b, err := s2.Decode(nil, []byte(packed))
	if err != nil {
		return nil, errPacked
	}
	return b, nil
}

// unpackedEntry is unpacked for what a page is found by; none if there is nothing.
func unpackedEntry(packed string) (search.Entry, error) {
	if packed == "" {
		return "", nil
	}
	b, err := unpacked(packed)
	e := search.Entry(b)
	if err != nil || e.Check() != nil {
		return "", errPacked
	}
	return e, nil
}
