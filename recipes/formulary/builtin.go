package formulary

import (
	"embed"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"labsite/recipes/source"
)

//go:embed entries/*.yaml
var entryFiles embed.FS

// builtIns are the built-in bench formulas. There are many and a page calls few, so each is
// read on first use. A test reads, infers and checks all of them, so the
// program need not.
type builtIns struct {
	pieces []*piece // in the order of their files
	byName map[string]*piece
}

// piece is the part of a file that holds one entry.
type piece struct {
	name string
	read func() *Entry
}

// builtIn finds the pieces.
var builtIn = sync.OnceValue(func() *builtIns {
	b := &builtIns{byName: map[string]*piece{}}
	for _, f := range builtInFiles() {
		for _, p := range cut(f) {
			b.pieces = append(b.pieces, p)
			b.byName[p.name] = p
		}
	}
	return b
})

// builtInFiles are the files of the entries, in alphabetical order.
func builtInFiles() []*source.File {
	paths, err := fs.Glob(entryFiles, "entries/*.yaml")
	if err != nil {
		return nil
	}
	var files []*source.File
	for _, path := range paths {
		raw, err := entryFiles.ReadFile(path)
		if err != nil {
			continue
		}
		f, _ := source.New(path, raw)
		files = append(files, f)
	}
	return files
}

// cut finds the entries of a built-in file by their indentation. The files are written so
// that this is the same as reading them whole.
func cut(f *source.File) []*piece {
	head, _, _ := strings.Cut(f.Text, "\n")
	group := strings.TrimPrefix(head, "group: ")
	var pieces []*piece
	name, start := "", 0
	end := func(at int) {
		if name == "" {
			return
		}
		from := start
		pieces = append(pieces, &piece{name, sync.OnceValue(func() *Entry { return readPiece(f, group, from, at) })})
	}
	at := 0
	for line := range strings.Lines(f.Text) {
		if key, is := strings.CutPrefix(strings.TrimSuffix(line, ":\n"), "  "); is && strings.HasSuffix(line, ":\n") && isName(key) {
			end(at)
			name, start = key, at
		}
		at += len(line)
	}
	end(at)
	return pieces
}

// find gives a built-in entry by name.
func (b *builtIns) find(name string) (*Entry, bool) {
	p, ok := b.byName[name]
	if !ok {
		return nil, false
	}
	return p.read(), true
}

func (b *builtIns) names() []string {
	var names []string
	for _, p := range b.pieces {
		names = append(names, p.name)
	}
	slices.Sort(names)
	return names
}
