package publish

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"io/fs"
	"path/filepath"

	"labsite/render/regular"
)

// verdict says how an old file compares with the new one of its name.
type verdict int

const (
	missing verdict = iota // there is none, or only what a power cut left of it
	same                   // it has the new file's bytes
	changed                // it is as the list says, and the new file differs
	altered                // somebody has changed it by hand
)

// stamp is what the disk says of a file without opening it.
type stamp struct {
	size     int64
	modified int64 // nanoseconds since 1970
	plain    bool  // a regular file
}

// judge compares an old file with the digest and size of the new one. A file that the new site
// replaces is always read, since a change by hand is somebody's work and must not be lost. One that
// stays is read only if its times do not show it untouched.
func (s *Staging) judge(o *oldFile, digest Digest, size int64) (verdict, error) {
	seen, untouched, err := s.old.look(o.name)
	if errors.Is(err, fs.ErrNotExist) {
		return missing, nil
	}
	if err != nil {
		return missing, err
	}
	o.seen, o.looked = seen, true
	if untouched && seen.size == o.size && o.hash == digest && !s.opt.ReadAll {
		return same, nil
	}
	raw, err := s.place.read(o.name, max(o.size, size))
	if tooLarge(err) {
		return altered, nil
	}
	if err != nil {
		return missing, err
	}
	sum := sha256.Sum256(raw)
	switch {
	case sum == digest:
		if sum == o.hash {
			s.mu.Lock()
			s.reread = true
			s.mu.Unlock()
		}
		return same, nil
	case damaged(raw):
		return missing, nil
	case sum != o.hash:
		return altered, nil
	}
	return changed, nil
}

// read reads a file of the published folder that should have the given size. One far larger
// differs, so it need not be read.
func (p place) read(name string, size int64) ([]byte, error) {
	return regular.ReadFile(filepath.Join(p.target, filepath.FromSlash(name)), size+mostZeros)
}

func tooLarge(err error) bool {
	var large *regular.TooLarge
	return errors.As(err, &large)
}

// mostZeros is how many zero bytes a power cut may leave beyond a file's own length, since disks
// allocate blocks.
const mostZeros = 1 << 20

// damaged reports whether a file holds only what a power cut leaves of one that had not reached the
// disk: nothing, or zero bytes.
func damaged(raw []byte) bool { return len(bytes.Trim(raw, "\x00")) == 0 }

// listed reports whether a file has the bytes that the list says, or none worth keeping.
func listed(raw []byte, e entry) bool { return damaged(raw) || sha256.Sum256(raw) == e.hash }
