package content

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
)

// Sum tells two contents apart: the first half of a SHA-256. The zero Sum stands for what is
// not there.
type Sum [16]byte

// Summer takes in parts, each with its length, so that two lists of parts have one Sum only
// where they are the same.
type Summer struct {
	hash hash.Hash
	room [256]byte // through which texts pass, since a hash takes bytes alone
}

// NewSummer begins with the parts given.
func NewSummer(parts ...string) *Summer {
	s := &Summer{hash: sha256.New()}
	for _, p := range parts {
		s.Add(p)
	}
	return s
}

// Add takes in one part.
func (s *Summer) Add(part string) {
	s.begin(len(part))
	for len(part) > 0 {
		n := copy(s.room[:], part)
		s.hash.Write(s.room[:n])
		part = part[n:]
	}
}

// AddBytes takes in one part; the same as Add of a text of these bytes.
func (s *Summer) AddBytes(part []byte) {
	s.begin(len(part))
	s.hash.Write(part)
}

func (s *Summer) begin(length int) {
	binary.LittleEndian.PutUint64(s.room[:8], uint64(length))
	s.hash.Write(s.room[:8])
}

// AddSum takes in another Sum.
func (s *Summer) AddSum(x Sum) { s.hash.Write(x[:]) }

// Sum gives the sum of all parts so far.
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
