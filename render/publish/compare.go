package publish

import (
	"bytes"
	"context"
	"crypto/sha256"
	"os"
	"path/filepath"
	"slices"
	"sync"
)

// change is what sets the new site apart from the old one.
type change struct {
	list    list   // of the new site, in the order of names
	keep    []bool // by the same index: the old file has the same bytes
	removed int
}

func (c change) result() Result {
	r := Result{Removed: c.removed}
	for i, e := range c.list {
		if c.keep[i] {
			r.Kept++
			continue
		}
		r.Written++
		r.Bytes += e.size
	}
	return r
}

func (c change) none() bool { return c.removed == 0 && !slices.Contains(c.keep, false) }

// compare reads the old files and sets their bytes beside the new ones. The
// recorded hashes alone would not do: a file damaged since would be kept. They
// serve to tell a file that the site has changed from one that a hand has
// changed; the latter is somebody's work, and refused.
func compare(ctx context.Context, p place, old oldSite, names []string, files Files) (change, error) {
	c := change{list: make(list, len(names)), keep: make([]bool, len(names))}
	recorded := make(map[string]entry, len(old.list))
	var all []string // the new names, then those that only the old site has
	all = append(all, names...)
	for _, e := range old.list {
		recorded[e.name] = e
		if _, stays := files[e.name]; !stays && old.present[e.name] {
			all = append(all, e.name)
			c.removed++
		}
	}
	var mu sync.Mutex
	var altered []string
	err := each(ctx, len(all), func(i int) error {
		name := all[i]
		fresh, stays := files[name]
		if stays {
			c.list[i] = entry{name: name, size: int64(len(fresh)), hash: sha256.Sum256(fresh)}
		}
		if !old.present[name] {
			return nil
		}
		raw, err := os.ReadFile(filepath.Join(p.target, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		if stays && bytes.Equal(raw, fresh) {
			c.keep[i] = true
			return nil
		}
		if !damaged(raw) && sha256.Sum256(raw) != recorded[name].hash {
			mu.Lock()
			altered = append(altered, name)
			mu.Unlock()
		}
		return nil
	})
	if err != nil {
		return change{}, err
	}
	if len(altered) > 0 {
		slices.Sort(altered)
		return change{}, p.altered(altered)
	}
	return c, nil
}

// damaged tells whether a file holds what a power cut leaves of one that had not
// reached the disk: nothing, or zero bytes alone.
func damaged(raw []byte) bool { return len(bytes.Trim(raw, "\x00")) == 0 }
