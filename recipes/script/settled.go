package script

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"sync"

	"labsite/recipes/quantity"
)

// settled are scripts that agreed with Go, so that of pages with the same numbers only one is run:
// the engine takes a fifth of a publish. The key of a script is all that decides whether it agrees:
// its bytes, the values at which it is tried, and what Go works out for each.
type settled struct {
	mu   sync.Mutex
	keys map[settledSum]struct{}
}

type settledSum [sha256.Size]byte

// mostSettled bounds what is kept; when it is reached, all is dropped.
const mostSettled = 20000

func (s *settled) has(key settledSum) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, has := s.keys[key]
	return has
}

func (s *settled) add(key settledSum) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.keys == nil || len(s.keys) >= mostSettled {
		s.keys = map[settledSum]struct{}{}
	}
	s.keys[key] = struct{}{}
}

func settledKey(js []byte, cases []triedCase) settledSum {
	var k keyed
	k.text(string(js))
	for _, c := range cases {
		k.numbers(c.values)
		for _, list := range [][]quantity.Shown{c.want.Given, c.want.Figures, c.want.Placed} {
			k.count(len(list))
			for _, s := range list {
				k.text(s.Text)
				k.text(s.Unit)
				k.number(s.Number)
				k.flags(s.Missing, s.Date)
			}
		}
		for _, text := range []string{c.want.Limits, c.want.Reasons, c.want.Failed, c.want.Times} {
			k.text(text)
		}
		k.numbers(c.want.Clock)
	}
	return sha256.Sum256(k.out)
}

// keyed writes values one after another, texts and lists with their lengths, so that different
// values are never written the same.
type keyed struct{ out []byte }

func (k *keyed) count(n int) { k.out = binary.AppendVarint(k.out, int64(n)) }

func (k *keyed) number(x float64) {
	k.out = binary.LittleEndian.AppendUint64(k.out, math.Float64bits(x))
}

func (k *keyed) text(s string) {
	k.count(len(s))
	k.out = append(k.out, s...)
}

func (k *keyed) numbers(list []float64) {
	k.count(len(list))
	for _, x := range list {
		k.number(x)
	}
}

func (k *keyed) flags(list ...bool) {
	for _, is := range list {
		n := 0
		if is {
			n = 1
		}
		k.count(n)
	}
}
