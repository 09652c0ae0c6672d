package build

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"
	"unsafe"

	"labsite/render/regular"
)

// Store keeps the results of pages from one run to the next, in the user's cache folder, a file
// for each content folder. The file begins with the digest of the program that wrote it and
// that of all that follows: a file that another build wrote, or that is damaged, is ignored,
// and everything is worked out again. It is written under a temporary name and renamed over
// the old one, so that commands that run at the same time never see half a file; the last one
// wins. Only the user may read it, since it holds staff pages. Deleting it is always safe.
//
// A result with errors is not kept. A nil Store keeps nothing.
type Store struct {
	file    string
	program Digest
	loaded  int    // results read from the file, whether or not they still hold
	trouble string // why the file could not be read or written
	whole   bool   // all of the file was loaded, so it need not be written unless something is new
}

// magic begins the file, with a number that is raised when its form changes.
const magic = "labsite results 5\n"

// maxStoreBytes is how long the file may be, in bytes: some hundred thousand pages.
const maxStoreBytes = 1 << 30

// Reuse says in JSON how much of earlier runs was used.
type Reuse struct {
	// Taken counts the results loaded from earlier runs, Made the pages that were worked out
	// in this one.
	Taken int `json:"taken"`
	Made  int `json:"made"`
	// Trouble says why the store could not be read or written; "" if it could.
	Trouble string `json:"trouble"`
}

// Remembered says what was taken from earlier runs, and what was made in this one.
func (s *Site) Remembered() Reuse {
	out := Reuse{Made: int(s.Memory.made.Load())}
	if store := s.opt.Store; store != nil {
		out.Taken, out.Trouble = store.loaded, store.trouble
	}
	return out
}

// OpenStore finds the store of a content folder in a cache folder, "" for the user's own. It is
// nil, which keeps nothing, if there is no place for one.
func OpenStore(cache, dir string) *Store {
	if cache == "" {
		own, err := os.UserCacheDir()
		if err != nil {
			return nil
		}
		cache = filepath.Join(own, "labsite")
	}
	full, err := filepath.Abs(dir)
	if err != nil {
		return nil
	}
	if real, err := filepath.EvalSymlinks(full); err == nil {
		full = real
	}
	program, err := programSum()
	if err != nil {
		return nil
	}
	sum := sha256.Sum256([]byte(full))
	return &Store{file: filepath.Join(cache, hex.EncodeToString(sum[:8])+".results"), program: program}
}

// Recall loads the results that earlier publishes and checks kept, for a command that looks at
// single pages and keeps nothing itself.
func (s *Site) Recall() { s.opt.Store.load(s) }

// load fills the memory of a site with the results that the file holds.
func (s *Store) load(to *Site) {
	if s == nil {
		return
	}
	raw, err := regular.ReadFile(s.file, maxStoreBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return
	}
	if err == nil {
		err = s.decode(raw, to)
	}
	if err != nil {
		s.again(err)
		return
	}
	s.use()
}

// use dates the file anew, so that clearOld keeps it: if nothing changes, nothing writes it. Once in
// some days is enough.
func (s *Store) use() {
	now := time.Now()
	if info, err := os.Stat(s.file); err == nil && now.Sub(info.ModTime()) > staleAfter/9 {
		_ = os.Chtimes(s.file, now, now)
	}
}

// again notes why the file, or a part of it, could not be used and is worked out again.
func (s *Store) again(err error) { s.trouble = fmt.Sprintf("%s is worked out again: %v", s.file, err) }

func (s *Store) decode(raw []byte, to *Site) error {
	n := headBytes
	if len(raw) < n || string(raw[:len(magic)]) != magic {
		return errCode
	}
	kept := raw[n:]
	sum := sha256.Sum256(kept)
	switch {
	case !bytes.Equal(raw[len(magic):len(magic)+sha256.Size], s.program[:]):
		return errors.New("another build of the program wrote it")
	case !bytes.Equal(raw[n-sha256.Size:n], sum[:]):
		return errors.New("it is damaged")
	}
	// The texts of the results are parts of what was read, which nobody changes from here on.
	c := &coder{reading: true, in: unsafe.String(unsafe.SliceData(kept), len(kept))}
	var pages []keptPage
	var shared [groups][]written
	for g := range shared {
		each(c, &shared[g], c.written)
	}
	each(c, &pages, c.page)
	if c.bad {
		return errCode
	}
	m := to.Memory
	m.mu.Lock()
	defer m.mu.Unlock()
	m.shared = shared
	for _, p := range pages {
		if m.kept[p.path] == nil && to.Content.Page(p.path) != nil {
			p.result.generation = -1
			m.kept[p.path] = p.result
			s.loaded++
		}
	}
	s.whole = s.loaded == len(pages)
	return nil
}

// keptPage is the result on a page, in the file.
type keptPage struct {
	path   string
	result *Result
}

func (c *coder) page(p *keptPage) {
	c.text(&p.path)
	if c.reading {
		p.result = &Result{Path: p.path}
	}
	c.result(p.result)
}

// save writes the results of a site to the file, unless it already holds just these.
func (s *Store) save(of *Site) {
	if s == nil {
		return
	}
	if s.whole && !of.Memory.changed.Load() {
		return
	}
	if err := s.write(func(to io.Writer) error { return encode(of, to) }); err != nil {
		s.trouble = "nothing was kept for the next run: " + err.Error()
	}
}

// encode writes the results of a site, page by page.
func encode(of *Site, to io.Writer) error {
	var pages []keptPage
	for _, p := range of.Content.Pages {
		if r := of.Memory.Stale(p.Path); r != nil && !r.Wrong && r.List.Errors() == 0 {
			pages = append(pages, keptPage{p.Path, r})
		}
	}
	c := &coder{}
	for g := range of.Memory.shared {
		each(c, &of.Memory.shared[g], c.written)
	}
	c.many(len(pages))
	for i := range pages {
		c.page(&pages[i])
		if _, err := to.Write(c.out); err != nil {
			return err
		}
		c.out = c.out[:0]
	}
	_, err := to.Write(c.out)
	return err
}

// headBytes is the length of the head, which comes before the results: which kind of file it is,
// which program wrote it, and the digest of all that follows.
const headBytes = len(magic) + 2*sha256.Size

func (s *Store) head(sum Digest) []byte {
	return slices.Concat([]byte(magic), s.program[:], sum[:])
}

// write writes the file under a temporary name and renames it; fill writes all that follows the
// head.
func (s *Store) write(fill func(to io.Writer) error) error {
	dir := filepath.Dir(s.file)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(dir, "."+filepath.Base(s.file)+"-") // with mode 0600
	if err != nil {
		return err
	}
	err = s.writeTo(f, fill)
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err == nil {
		err = os.Rename(f.Name(), s.file)
	}
	if err != nil {
		_ = os.Remove(f.Name())
		return err
	}
	clearOld(dir)
	return nil
}

func (s *Store) writeTo(f *os.File, fill func(to io.Writer) error) error {
	sum := sha256.New()
	b := bufio.NewWriterSize(io.NewOffsetWriter(f, int64(headBytes)), 256<<10)
	if err := fill(io.MultiWriter(b, sum)); err != nil {
		return err
	}
	if err := b.Flush(); err != nil {
		return err
	}
	_, err := f.WriteAt(s.head(Digest(sum.Sum(nil))), 0)
	return err
}

// staleAfter is how long a file is kept that nobody uses: most likely its folder is gone.
const staleAfter = 90 * 24 * time.Hour

func clearOld(dir string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > staleAfter {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}
