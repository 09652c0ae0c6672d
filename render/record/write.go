package record

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/durable"
	"labsite/render/publish"
	"labsite/render/regular"
)

// patience is how long to wait for somebody else who is recording into the same file.
const patience = 10 * time.Second

// Write adds entries to the files that their pages keep; with an error in the list it adds none.
// The list says which of them cannot be added and why; the error is the disk's.
func Write(ctx context.Context, dir string, entries []*Entry) (source.List, error) {
	root, err := regular.OpenRoot(dir) // so that no link in it can lead a write elsewhere
	if err != nil {
		return nil, err
	}
	defer root.Close()
	w := &writer{root: root}
	return w.write(ctx, entries)
}

// writer adds to the files of one folder.
type writer struct {
	root *os.Root
	step func(string) // called at each step, for tests
}

func (w *writer) did(step string) {
	if w.step != nil {
		w.step(step)
	}
}

// next is the next state of a file, and the name it has until it is complete.
type next struct {
	file, begun string
	raw         []byte
	before      []byte // what the file holds now; nil if there is none
}

func (w *writer) write(ctx context.Context, entries []*Entry) (list source.List, err error) {
	var files []string
	for _, e := range entries {
		if !slices.Contains(files, e.File) {
			files = append(files, e.File)
		}
	}
	slices.Sort(files) // everybody locks in the same order, so that no two wait for each other
	for _, file := range files {
		release, held, err := w.lock(ctx, file)
		if err != nil {
			return nil, err
		}
		defer release()
		if !held {
			return source.List{source.RecordHeld(file).AtFile(file)}, nil
		}
	}
	var all []next
	defer func() {
		for _, n := range all {
			w.root.Remove(n.begun) // gone already if it was renamed
		}
	}()
	for _, file := range files {
		raw, before, said := w.added(file, entries)
		if list = append(list, said...); list.Errors() > 0 {
			continue
		}
		w.clear(file)
		n := next{file: file, begun: path.Join(path.Dir(file), "."+path.Base(file)+".next-"+durable.Random()), raw: raw, before: before}
		all = append(all, n)
		if err := w.begin(n); err != nil {
			return nil, err
		}
		w.did("written")
	}
	if list.Errors() > 0 {
		return list, nil
	}
	for i, n := range all {
		if err := w.root.Rename(n.begun, n.file); err != nil {
			return nil, errors.Join(err, w.putBack(all[:i]))
		}
		w.did("named")
		durable.Settle(w.root, path.Dir(n.file))
	}
	return list, nil
}

// putBack gives files that already have their next state the former one again, since a later file
// could not be given its own, and the records of one command are kept all or not at all.
func (w *writer) putBack(all []next) (err error) {
	for _, n := range all {
		if n.before == nil {
			err = errors.Join(err, w.root.Remove(n.file))
			continue
		}
		n.raw = n.before
		failed := w.begin(n) // the name is free again since the rename
		if failed == nil {
			failed = w.root.Rename(n.begun, n.file)
		}
		err = errors.Join(err, failed)
	}
	return err
}

// lock keeps everybody else from adding to a file. The lock file is never removed: the lock is the
// system's own and ends with the process, however that ends.
func (w *writer) lock(ctx context.Context, file string) (release func(), held bool, err error) {
	f, err := w.root.OpenFile(path.Join(path.Dir(file), "."+path.Base(file)+".lock"), os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, false, err
	}
	release = func() { f.Close() }
	for until := time.Now().Add(patience); ; {
		held, err := publish.Hold(f)
		if err != nil {
			f.Close()
			return nil, false, err
		}
		if held || ctx.Err() != nil || time.Now().After(until) {
			return release, held, ctx.Err()
		}
		select {
		case <-ctx.Done():
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// added is a file with its new entries added, and as it was before, nil if there was none.
func (w *writer) added(file string, entries []*Entry) (raw, before []byte, list source.List) {
	before, err := regular.Read(regular.Below(w.root), file, page.MostDataBytes)
	there := true
	switch {
	case errors.Is(err, fs.ErrNotExist):
		there, before = false, nil
	case err != nil:
		return nil, nil, source.List{regular.Problem(file, err).AtFile(file)}
	case before == nil:
		before = []byte{}
	}
	k := &kept{file: file, raw: before}
	list = k.read()
	for _, e := range entries {
		if e.File == file && list.Errors() == 0 {
			list = append(list, k.add(e, there)...)
			there = true
		}
	}
	if list.Errors() == 0 { // what will be written must be readable
		f, said := source.New(file, k.raw)
		_, more := page.ReadTable(f)
		list = append(append(list, said...), more...)
	}
	return k.raw, before, list
}

// kept is a file with its rows.
type kept struct {
	file  string
	raw   []byte
	heads []string
	rows  []keptRow
}

type keptRow struct {
	cells      []string
	line       int
	start, end int // in raw
}

// read reads the rows; if the file is not CSV, page.ReadTable says what is wrong.
func (k *kept) read() source.List {
	k.rows, k.heads = nil, nil
	r := csv.NewReader(bytes.NewReader(k.raw))
	for start := 0; ; {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			f, list := source.New(k.file, k.raw)
			_, more := page.ReadTable(f)
			return append(list, more...)
		}
		line, _ := r.FieldPos(0)
		end := int(r.InputOffset())
		if k.heads == nil {
			for _, h := range cells {
				k.heads = append(k.heads, strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))
			}
		} else {
			k.rows = append(k.rows, keptRow{cells, line, start, end})
		}
		start = end
	}
}

// add adds an entry, or replaces the unfinished row of the same run.
func (k *kept) add(e *Entry, there bool) source.List {
	if !there {
		k.raw = row(e.heads)
		k.read()
	}
	names := func(heads []string) (out []string) {
		for _, h := range heads {
			name, _, _ := strings.Cut(h, "[")
			out = append(out, strings.TrimSpace(name))
		}
		return out
	}
	if !slices.Equal(names(k.heads), names(e.heads)) {
		return source.List{source.RecordColumns(k.heads, e.heads).AtFile(k.file)}
	}
	for _, old := range k.rows {
		made, err := time.Parse(time.RFC3339Nano, old.cells[0])
		if err != nil || !made.Equal(e.made) {
			continue
		}
		by := len(old.cells) - 2
		if old.cells[by] != Unfinished || e.cells[by] == Unfinished || !slices.Equal(old.cells[:by], e.cells[:by]) {
			return source.List{source.RecordTwice(e.Made, k.file, old.line).At(e.at)}
		}
		k.raw = slices.Concat(k.raw[:old.start], row(e.cells), k.raw[old.end:])
		e.Line, e.Finished = old.line, true
		return k.read()
	}
	if n := len(k.raw); n > 0 && k.raw[n-1] != '\n' {
		k.raw = append(k.raw, '\n')
	}
	k.raw = append(k.raw, row(e.cells)...)
	list := k.read()
	if len(k.rows) > 0 {
		e.Line = k.rows[len(k.rows)-1].line
	}
	return list
}

func row(cells []string) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write(cells)
	w.Flush()
	return b.Bytes()
}

// begin writes the next state of a file under a name that nobody reads, and makes it durable.
func (w *writer) begin(n next) error {
	mode := fs.FileMode(0o644)
	if info, err := w.root.Lstat(n.file); err == nil {
		mode = info.Mode().Perm()
	}
	return durable.Begin(w.root, n.begun, n.raw, mode, w.step)
}

// clear removes what killed writers left behind; nobody else is writing, since the file is locked.
func (w *writer) clear(file string) {
	durable.Clear(w.root, path.Dir(file), func(f fs.FileInfo) bool { return strings.HasPrefix(f.Name(), "."+path.Base(file)+".next-") })
}
