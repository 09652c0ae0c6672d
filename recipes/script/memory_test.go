package script

import (
	"io/fs"
	"testing/fstest"
)

// memory is a content folder in memory.
type memory map[string]string

func (m memory) fs() fs.FS {
	out := fstest.MapFS{}
	for name, text := range m {
		out[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return out
}
