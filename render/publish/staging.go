package publish

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
	"sync"
)

// Digest is the SHA-256 of a file's bytes (FIPS 180-4).
type Digest = [sha256.Size]byte

// Staging is a publish under way: files are handed in one by one, from any number of goroutines,
// and Finish puts them all in place. It keeps names and digests, never bytes.
//
// After an error of Put or Keep nothing can be published any more: Finish returns that error again.
// A caller ends with Finish or Abandon, and may defer Abandon, which does nothing after Finish.
type Staging struct {
	ctx     context.Context // its end stops the publish
	place   place
	opt     Options
	old     oldSite
	parents []string // folders that Begin made to publish into, the innermost first
	left    []string
	release func() // of the lock

	gate  sync.RWMutex // held for reading while a file is handed in, so that the end waits for it
	ended bool

	mu      sync.Mutex // guards all below
	names   map[string]bool
	folders map[string]bool // those that names are in; true once made in the staged folder
	entries list            // what was handed in, in that order
	kept    []string        // names of those that are unchanged
	altered []string        // names of old files changed by hand
	differs bool            // something is not as the old list says
	reread  bool            // an unchanged old file had to be read, since its times left a doubt
	bytes   int64           // of new and changed files
	staged  string          // the folder in which the new site is built, "" until it is needed
	journal *os.File
	failed  error
}

var (
	errEnded = errors.New("this publish has ended")
	errTwice = errors.New("was handed in twice")
)

// Begin prepares a publish into dir: it takes the lock, clears up after a killed publish, and looks
// at the old site. It changes nothing that a reader sees. Until Finish has exchanged the folders,
// dir is as it was before, and giving up leaves nothing beside it.
//
// It refuses (see Refusal) a dir that is a file, a symbolic link, the top of a disk, or a
// folder around the content. Finish refuses a folder that holds files which no publish wrote
// or which were changed by hand since; a .gitignore at the top is the one exception, and is
// carried over. Another publish into the same dir is refused while this one runs (see Busy).
// The parent of dir is made if missing.
//
// Folders are made with mode 0777 and files with 0666, less the user's mask; the new folder takes
// the mode of an existing dir.
//
// The lock is held until Finish or Abandon. ctx stops the publish until the folders change
// places; after that the work is done and only the removal of the old folder is left, which is
// not stopped.
func Begin(ctx context.Context, dir string, opt Options) (*Staging, error) {
	place, err := locate(dir, opt.Content)
	if err != nil {
		return nil, err
	}
	if err := context.Cause(ctx); err != nil {
		return nil, place.stopped(err)
	}
	parents, err := makeParents(place.parent)
	if err != nil {
		return nil, place.parentTrouble(err)
	}
	s := &Staging{ctx: ctx, place: place, opt: opt, parents: parents, release: func() {},
		names: map[string]bool{}, folders: map[string]bool{}}
	if err := s.begin(); err != nil {
		s.undo()
		return nil, s.orEnded(err)
	}
	return s, nil
}

func (s *Staging) begin() error {
	release, err := takeLock(s.place)
	if err != nil {
		return err
	}
	s.release = release
	if err := s.step("locked"); err != nil {
		return err
	}
	if s.left, err = clearLeftovers(s.place); err != nil {
		return err
	}
	if err := s.step("leftovers cleared"); err != nil {
		return err
	}
	if s.old, err = readOld(s.place); err != nil {
		return err
	}
	return s.step("old site read")
}

// Old returns the digest that the old site's list gives for a file, if it lists that file and the
// file is still there. It opens nothing, so the file may have been changed since: Keep looks.
func (s *Staging) Old(name string) (Digest, bool) {
	if o := s.old.file(name); o != nil {
		return o.hash, true
	}
	return Digest{}, false
}

// Put hands in a file: a path with forward slashes, relative to the folder, and its bytes. If the
// old site has the same bytes under that name, nothing is written; otherwise the file is in the
// staged folder when Put returns. The caller may then use the bytes again. It is safe to call from
// several goroutines.
//
// It refuses a name that some system cannot store or that was handed in before, and one that is a
// folder for another file. Other errors come from the disk or the end of the context.
func (s *Staging) Put(name string, data []byte) error {
	s.gate.RLock()
	defer s.gate.RUnlock()
	if err := s.ready(); err != nil {
		return err
	}
	err := s.claim(name)
	if err == nil {
		err = s.put(entry{name: name, size: int64(len(data)), hash: sha256.Sum256(data)}, data)
	}
	return s.fail(err)
}

func (s *Staging) put(e entry, data []byte) error {
	was := missing
	if o := s.old.file(e.name); o != nil {
		var err error
		if was, err = s.judge(o, e.hash, e.size); err != nil {
			return err
		}
	}
	switch was {
	case same:
		s.keep(e, s.old.file(e.name).entry != e)
		return nil
	case altered:
		s.mu.Lock()
		s.altered = append(s.altered, e.name)
		s.mu.Unlock()
		return nil // Finish refuses, and names them all
	}
	if err := s.store(e, data); err != nil {
		return err
	}
	s.mu.Lock()
	s.entries = append(s.entries, e)
	s.differs = true
	s.bytes += e.size
	s.mu.Unlock()
	return s.step("file")
}

// Keep hands in a file by its digest, for a caller who knows that the bytes are those of the last
// publish. It returns false if the old site does not have that file with these bytes: the caller
// then hands in the bytes by Put. It is safe to call from several goroutines, and its errors are
// those of Put.
//
// A file that its times show untouched since the last publish is not read; see the
// package's comment.
func (s *Staging) Keep(name string, digest Digest) (bool, error) {
	s.gate.RLock()
	defer s.gate.RUnlock()
	if err := s.ready(); err != nil {
		return false, err
	}
	o := s.old.file(name)
	if o == nil || o.hash != digest {
		return false, nil
	}
	if err := s.claim(name); err != nil {
		return false, s.fail(err)
	}
	was, err := s.judge(o, digest, o.size)
	if err != nil {
		return false, s.fail(err)
	}
	if was == same {
		s.keep(o.entry, false)
		return true, nil
	}
	s.mu.Lock()
	o.claimed = false
	s.mu.Unlock()
	return false, nil
}

// keep notes a file that the old site has; differs says that the list does not have it so. It is
// linked at the end, and only if something differs, since otherwise no folder is made.
func (s *Staging) keep(e entry, differs bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.entries = append(s.entries, e)
	s.kept = append(s.kept, e.name)
	s.differs = s.differs || differs
}

// claim takes a name, or says why it cannot stand beside the others.
func (s *Staging) claim(name string) error {
	if err := checkName(name); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.claimed(name) {
		return fmt.Errorf("%q %w", name, errTwice)
	}
	if _, both := s.folders[name]; both {
		for _, inside := range s.allNames() {
			if strings.HasPrefix(inside, name+"/") {
				return fileAndFolder(name, inside)
			}
		}
	}
	for d := path.Dir(name); d != "."; d = path.Dir(d) {
		if _, known := s.folders[d]; known {
			break
		}
		if s.claimed(d) {
			return fileAndFolder(d, name)
		}
		s.folders[d] = false
	}
	if o := s.old.file(name); o != nil {
		o.claimed = true
	} else {
		s.names[name] = true
	}
	return nil
}

func (s *Staging) claimed(name string) bool {
	if o := s.old.file(name); o != nil {
		return o.claimed
	}
	return s.names[name]
}

// allNames returns all names that were handed in, sorted.
func (s *Staging) allNames() []string {
	names := slices.Collect(maps.Keys(s.names))
	for _, o := range s.old.files {
		if o.claimed {
			names = append(names, o.name)
		}
	}
	slices.Sort(names)
	return names
}

// ready reports whether a file may be handed in.
func (s *Staging) ready() error {
	if s.ended {
		return errEnded
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.failed != nil {
		return s.failed
	}
	return s.orEnded(context.Cause(s.ctx))
}

// fail notes the first error, which Finish returns again.
func (s *Staging) fail(err error) error {
	if err == nil {
		return nil
	}
	err = s.orEnded(err)
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.failed == nil {
		s.failed = err
	}
	return err
}

// orEnded returns err, in words for a person if it is that the context ended.
func (s *Staging) orEnded(err error) error {
	cause := context.Cause(s.ctx)
	var said *stopError
	if err == nil || cause == nil || !errors.Is(err, cause) || errors.As(err, &said) {
		return err
	}
	return s.place.stopped(cause)
}

func (s *Staging) step(name string) error {
	if s.opt.step == nil {
		return nil
	}
	return s.opt.step(name)
}

// Abandon ends a publish without publishing: the folder is as it was, and nothing is left beside
// it. It waits for files that are being handed in.
func (s *Staging) Abandon() {
	s.gate.Lock()
	defer s.gate.Unlock()
	if !s.ended {
		s.ended = true
		s.undo()
	}
}

// undo removes what the publish has made so far.
func (s *Staging) undo() {
	if s.journal != nil {
		_ = s.journal.Close()
	}
	if s.staged != "" {
		_, _ = dismantle(s.staged, s.allNames(), nil, true)
	}
	s.close()
	for _, d := range s.parents {
		_ = os.Remove(d) // fails, as it should, if someone has put a file there
	}
}

// close releases the old folder and the lock.
func (s *Staging) close() {
	s.old.close()
	s.release()
}
