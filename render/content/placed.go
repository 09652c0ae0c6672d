package content

import (
	"sync"

	"labsite/recipes/source"
	"labsite/render/asset"
)

// Placed is a picture or other file that a page shows or links to.
type Placed struct {
	Width, Height int // of a picture, in CSS pixels; 0 if not known
	// Unread says why the file cannot be read, Unfit why it cannot be published; nil if it can.
	Unread, Unfit *source.Problem
}

type placedFiles struct {
	mu     sync.Mutex
	judged map[string]*Placed
}

// Placed judges a file that a page shows or links to, once until it changes.
func (c *Content) Placed(full string) *Placed {
	f := &c.placed
	f.mu.Lock()
	defer f.mu.Unlock()
	if p := f.judged[full]; p != nil {
		return p
	}
	p, _ := c.look(full)
	if f.judged == nil {
		f.judged = map[string]*Placed{}
	}
	f.judged[full] = p
	return p
}

// PlacedBytes reads a file as it is published; false if it cannot be read.
func (c *Content) PlacedBytes(full string) ([]byte, bool) {
	p, raw := c.look(full)
	return raw, p.Unread == nil && p.Unfit == nil
}

// look reads a file and judges it, and returns the bytes to publish.
func (c *Content) look(full string) (*Placed, []byte) {
	most, _ := asset.Bound(full)
	raw, problem, ok := c.read(full, most)
	if !ok {
		return &Placed{Unread: &problem}, nil
	}
	file, fault := asset.Look(full, raw)
	if fault != nil {
		return &Placed{Unfit: &fault.Problem}, nil
	}
	return &Placed{Width: file.Width, Height: file.Height}, file.Bytes
}

func (f *placedFiles) forget(path string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	delete(f.judged, path)
}

// unread lists the files that could not be read.
func (f *placedFiles) unread() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	var out []string
	for path, p := range f.judged {
		if p.Unread != nil {
			out = append(out, path)
		}
	}
	return out
}
