package build

import (
	"errors"
	"sync"

	"github.com/klauspost/compress/s2"

	"labsite/render/search"
)

// Search entries are kept packed: a large site has a great many of them, and they are read only
// when the search is made.

// mostUnpacked bounds the unpacked text of one page or file, in bytes: none has that much.
const mostUnpacked = 64 << 20

var errPacked = errors.New("the search entry of a page cannot be read")

// packed packs bytes.
func packed[T ~string | ~[]byte](b T) string {
	room := packing.Get().(*[]byte)
	defer packing.Put(room)
	if n := s2.MaxEncodedLen(len(b)); cap(*room) < n && n > 0 {
		*room = make([]byte, n)
	}
	return string(s2.Encode((*room)[:cap(*room)], []byte(b)))
}

// packing pools the buffers to pack into, each several times as long as the packed text.
var packing = sync.Pool{New: func() any { return new([]byte) }}

// unpacked reverses packed; bytes that packed never made are an error.
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

// unpackedEntry unpacks a search entry; nothing unpacks to none.
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
