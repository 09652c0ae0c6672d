package publish

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"

	"labsite/render/regular"
)

// journalName is the file in a staged folder that names each file before it is written, in the form
// of the list. It is removed once the list is whole, so it also tells a folder that is being built
// from one that was published.
const journalName = ".labsite-staged"

// openStaged makes the folder in which the new site is built, beside the old one, if it is not
// there yet. The journal comes before every other file, so that whatever a kill leaves can be
// recognised as ours.
func (s *Staging) openStaged() (err error) {
	if s.staged != "" {
		return nil
	}
	mode := fs.FileMode(0o777)
	if s.old.exists {
		mode = s.old.mode // never more open than the old folder
	}
	if s.staged, err = makeHidden(s.place, s.place.nextPrefix(), mode); err != nil {
		return s.place.parentTrouble(err)
	}
	if s.old.exists {
		// The user's mask may have taken away a permission that the old folder has, and the folder
		// must be writable in any case.
		if err := os.Chmod(s.staged, mode|0o700); err != nil {
			return err
		}
	}
	if err := s.step("folder made"); err != nil {
		return err
	}
	s.journal, err = os.OpenFile(filepath.Join(s.staged, journalName), os.O_WRONLY|os.O_CREATE|os.O_EXCL|os.O_APPEND, 0o666)
	if err == nil {
		_, err = s.journal.WriteString(listHead + "\n")
	}
	if err != nil {
		return err
	}
	return s.step("journal begun")
}

func (s *Staging) closeJournal() error {
	err := s.journal.Close()
	s.journal = nil
	return errors.Join(err, os.Remove(filepath.Join(s.staged, journalName)))
}

// store writes a new or changed file into the staged folder.
func (s *Staging) store(e entry, data []byte) error {
	if err := s.announce(e); err != nil {
		return err
	}
	err := write(filepath.Join(s.staged, filepath.FromSlash(e.name)), data)
	if errors.Is(err, fs.ErrExist) {
		return clash(e.name)
	}
	return err
}

// announce prepares for a file: the staged folder, its line in the journal, and the folders it is
// in.
func (s *Staging) announce(e entry) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.failed != nil {
		return s.failed
	}
	if err := s.openStaged(); err != nil {
		s.failed = s.orEnded(err) // before another goroutine goes on in a folder without a journal
		return err
	}
	if _, err := s.journal.WriteString(e.line()); err != nil {
		return err
	}
	return s.makeFolderOf(e.name)
}

// makeFolderOf makes the folders that a file is in, outer ones first.
func (s *Staging) makeFolderOf(name string) error {
	d := path.Dir(name)
	if d == "." || s.folders[d] {
		return nil
	}
	if err := s.makeFolderOf(d); err != nil {
		return err
	}
	if err := os.Mkdir(filepath.Join(s.staged, filepath.FromSlash(d)), 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	s.folders[d] = true
	return nil
}

// write makes a file that must not exist yet.
func write(at string, data []byte) error {
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// carry makes a second name for a file, or a copy if there are no hard links.
func carry(from, to string) error {
	if os.Link(from, to) == nil {
		return nil
	}
	raw, err := regular.ReadFile(from, mostIgnore)
	if err != nil {
		return err
	}
	return write(to, raw)
}

// makeHidden makes a folder beside the target under a name that is not taken.
func makeHidden(p place, prefix string, mode fs.FileMode) (string, error) {
	for {
		at := filepath.Join(p.parent, hiddenName(prefix))
		err := os.Mkdir(at, mode)
		if err == nil {
			return at, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", err
		}
	}
}

// mark is the number of random bytes in a hidden name.
const mark = 4

func hiddenName(prefix string) string {
	var b [mark]byte
	rand.Read(b[:]) // never fails
	return prefix + hex.EncodeToString(b[:])
}
