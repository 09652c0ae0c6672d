package content

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
)

// Sum identifies a content: it is the first half of its SHA-256. The zero Sum stands for something
// that does not exist.
type Sum [16]byte

// Summer adds up parts, each with its length, so that only equal lists of parts have the same Sum.
type Summer struct {
	hash hash.Hash
	room [256]byte // texts are copied through it, since a hash takes only bytes
}

// NewSummer makes a Summer that begins with some parts.
func NewSummer(parts ...string) *Summer {
	s := &Summer{hash: sha256.New()}
	for _, p := range parts {
		s.Add(p)
	}
	return s
}

// Add adds a part.
func (s *Summer) Add(part string) {
	s.begin(len(part))
	for len(part) > 0 {
		n := copy(s.room[:], part)
		s.hash.Write(s.room[:n])
		part = part[n:]
	}
}

// AddBytes adds a part, like Add of a text of these bytes.
func (s *Summer) AddBytes(part []byte) {
	s.begin(len(part))
	s.hash.Write(part)
}

func (s *Summer) begin(length int) {
	binary.LittleEndian.PutUint64(s.room[:8], uint64(length))
	s.hash.Write(s.room[:8])
}

// AddSum adds another Sum.
func (s *Summer) AddSum(x Sum) { s.hash.Write(x[:]) }

// Sum is the sum of all parts so far.
func (s *Summer) Sum() (out Sum) {
	copy(out[:], s.hash.Sum(s.room[:0]))
	return out
}

// SumOf is the sum of some parts.
func SumOf(parts ...string) Sum { return NewSummer(parts...).Sum() }

// SumOfBytes is SumOf of one part.
func SumOfBytes(part []byte) Sum {
	s := NewSummer()
	s.AddBytes(part)
	return s.Sum()
}
