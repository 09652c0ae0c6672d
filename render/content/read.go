package content

import (
	"errors"
	"io/fs"
	"strings"
	"sync"

	"labsite/recipes/approval"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/asset"
	"labsite/render/regular"
)

// How many bytes a file may have; pages have page.MostBytes and data files page.MostDataBytes. That is
// more than anybody writes by hand.
const (
	mostSettings   = 64 << 10
	mostSubstances = 1 << 20
	mostFormulas   = 1 << 20
)

// read reads a file of the folder of at most so many bytes. If ok is false, the problem says why; its
// code is empty if there is no such file.
func (c *Content) read(name string, most int64) (raw []byte, problem source.Problem, ok bool) {
	if text, ok := c.recordedText(name); ok {
		return []byte(text), source.Problem{}, true
	}
	if raw, is := c.unsaved[name]; is && int64(len(raw)) <= most {
		return raw, source.Problem{}, true
	}
	raw, err := regular.Read(c.fsys, name, most)
	switch {
	case err == nil:
		return raw, source.Problem{}, true
	case errors.Is(err, fs.ErrNotExist):
		return nil, source.Problem{}, false
	}
	return nil, unreadable(name, err), false
}

// readAny reads a file of any sort, with the bound of its sort.
func (c *Content) readAny(name string) ([]byte, source.Problem, bool) {
	most, ok := asset.Bound(name)
	switch {
	case isRecord(name):
		most = approval.MostBytes
	case !ok:
		most = page.MostDataBytes
	}
	return c.read(name, most)
}

// unreadable says why a file of the content folder cannot be read.
func unreadable(name string, err error) source.Problem {
	var large *regular.TooLarge
	switch {
	case errors.As(err, &large) && large.Most == page.MostDataBytes:
		return source.DataTooLarge()
	case errors.As(err, &large) && large.Most == page.MostBytes-1:
		return source.PageTooLarge(large.Size)
	}
	return regular.Problem(name, err)
}

func systemError(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// sums caches the sums of files that are not pages, each until the file changes.
type sums struct {
	mu    sync.Mutex
	known map[string]Sum
}

// FileSum is the sum of a file's bytes, or of why it cannot be read; the zero Sum if there is no such
// file.
func (c *Content) FileSum(path string) Sum {
	if !c.has(path) && !c.recorded[path] {
		return Sum{}
	}
	s := &c.sums
	s.mu.Lock()
	known, ok := s.known[path]
	s.mu.Unlock()
	if ok {
		return known
	}
	sum := SumOf("unread")
	if raw, problem, ok := c.readAny(path); ok {
		sum = SumOfBytes(raw)
	} else {
		sum = SumOf("unread", problem.Code, problem.Message)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.known == nil {
		s.known = map[string]Sum{}
	}
	s.known[path] = sum
	return sum
}

// forgetWithin drops the sums of files whose paths begin with a prefix.
func (s *sums) forgetWithin(within string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for p := range s.known {
		if strings.HasPrefix(p, within) {
			delete(s.known, p)
		}
	}
}

func (s *sums) forget(path string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.known, path)
}
