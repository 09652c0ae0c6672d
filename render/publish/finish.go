package publish

import (
	"cmp"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"labsite/render/regular"
)

// Finish makes the folder hold exactly the files that were handed in. If nothing is new, changed or
// removed, the folder stays as it is. If it returns an error, the folder is as it was before Begin,
// and nothing is left beside it.
//
// It refuses an old file that was changed by hand, and files that somebody has put into
// the folder meanwhile.
func (s *Staging) Finish() (Result, error) {
	s.gate.Lock()
	defer s.gate.Unlock()
	if s.ended {
		return Result{}, errEnded
	}
	s.ended = true
	result, err := s.finish()
	if err != nil {
		s.undo()
		return Result{}, s.orEnded(err)
	}
	s.close()
	return result, nil
}

func (s *Staging) finish() (Result, error) {
	if s.failed != nil {
		return Result{}, s.failed
	}
	if err := context.Cause(s.ctx); err != nil {
		return Result{}, err
	}
	removed, err := s.judgeRemoved()
	if err != nil {
		return Result{}, err
	}
	if len(s.altered) > 0 {
		slices.Sort(s.altered)
		return Result{}, s.place.altered(s.altered)
	}
	if err := s.step("compared"); err != nil {
		return Result{}, err
	}
	result := Result{Written: len(s.entries) - len(s.kept), Kept: len(s.kept), Removed: removed, Bytes: s.bytes, Left: s.left}
	if s.old.tidy && !s.differs && len(s.entries) == len(s.old.files) {
		if s.reread {
			freshen(filepath.Join(s.place.target, listName))
		}
		return result, nil
	}
	if err := s.complete(); err != nil {
		return Result{}, err
	}
	former, err := swap(s.place, s.staged, s.old.exists, s.opt.byRenames, s.step)
	if err != nil {
		return Result{}, err
	}

	// From here on the new site stands, and nothing that goes wrong is an error.
	flushFolder(s.place.parent)
	_ = s.step("exchanged")
	if former != "" {
		s.clearFormer(former, &result)
	}
	return result, nil
}

// judgeRemoved looks at the old files that the new site does not have, and counts them.
func (s *Staging) judgeRemoved() (removed int, err error) {
	var gone []*oldFile
	for i := range s.old.files {
		if o := &s.old.files[i]; o.present && !o.claimed {
			gone = append(gone, o)
		}
	}
	err = each(s.ctx, len(gone), func(i int) error {
		was, err := s.judge(gone[i], Digest{}, 0) // no file's digest, so it is read
		if was == altered {
			s.mu.Lock()
			s.altered = append(s.altered, gone[i].name)
			s.mu.Unlock()
		}
		return err
	})
	return len(gone), err
}

// complete makes the staged folder ready to take the place of the old one. The list is written
// before the links, so that a kill between the two leaves nothing unlisted, and after every new
// file, so that its date shows them untouched.
func (s *Staging) complete() error {
	if err := s.openStaged(); err != nil {
		return err
	}
	slices.SortFunc(s.entries, func(a, b entry) int { return cmp.Compare(a.name, b.name) })
	if err := write(filepath.Join(s.staged, listName), s.entries.bytes()); err != nil {
		return err
	}
	if err := s.step("list written"); err != nil {
		return err
	}
	if err := s.closeJournal(); err != nil {
		return err
	}
	if s.old.ignore {
		if err := carry(filepath.Join(s.place.target, ignoreName), filepath.Join(s.staged, ignoreName)); err != nil {
			return err
		}
	}
	if err := s.linkKept(); err != nil {
		return err
	}
	if err := s.step("staged"); err != nil {
		return err
	}
	if err := flush(s.staged, s.place); err != nil {
		return err
	}
	if err := s.step("flushed"); err != nil {
		return err
	}
	if err := s.lookAgain(); err != nil {
		return err
	}
	if err := s.step("checked"); err != nil {
		return err
	}
	return context.Cause(s.ctx)
}

// linkKept gives each kept file a second name in the staged folder.
func (s *Staging) linkKept() error {
	slices.Sort(s.kept)
	for _, name := range s.kept {
		if err := s.makeFolderOf(name); err != nil {
			return err
		}
	}
	return each(s.ctx, len(s.kept), func(i int) error {
		name := filepath.FromSlash(s.kept[i])
		from, to := filepath.Join(s.place.target, name), filepath.Join(s.staged, name)
		err := error(errNoLinks)
		if !s.opt.copies {
			err = os.Link(from, to)
		}
		if errors.Is(err, fs.ErrExist) {
			return clash(s.kept[i])
		}
		if err != nil {
			err = s.copyKept(to, s.kept[i])
		}
		if err != nil {
			return err
		}
		return s.step("file")
	})
}

var errNoLinks = errors.New("no hard links here")

// copyKept stands in for a link on a file system that has none.
func (s *Staging) copyKept(to, name string) error {
	i, _ := slices.BinarySearchFunc(s.entries, name, func(e entry, name string) int { return cmp.Compare(e.name, name) })
	raw, err := s.place.read(name, s.entries[i].size)
	if tooLarge(err) || err == nil && sha256.Sum256(raw) != s.entries[i].hash {
		return s.place.altered([]string{name})
	}
	if err != nil {
		return err
	}
	if err := write(to, raw); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return clash(name)
		}
		return err
	}
	return nil
}

// lookAgain refuses to go on if somebody has worked in the folder since it was looked at, which may
// be long ago: files are handed in while pages are worked out.
func (s *Staging) lookAgain() error {
	found, err := survey(s.place.target)
	if errors.Is(err, fs.ErrNotExist) && !s.old.exists {
		return nil
	}
	if err != nil {
		return err
	}
	if foreign := s.old.foreign(found); len(foreign) > 0 {
		return s.place.foreign(foreign)
	}
	var touched []string
	for i := range s.old.files {
		o := &s.old.files[i]
		if !o.looked {
			continue
		}
		seen, _, err := s.old.look(o.name)
		if errors.Is(err, fs.ErrNotExist) || err == nil && seen == o.seen {
			continue
		}
		if err != nil {
			return err
		}
		raw, err := s.place.read(o.name, o.size)
		if err != nil && !tooLarge(err) {
			return err
		}
		if err != nil || !listed(raw, o.entry) {
			touched = append(touched, o.name)
		}
		o.seen = seen
	}
	if len(touched) > 0 {
		slices.Sort(touched)
		return s.place.altered(touched)
	}
	return nil
}

// clearFormer removes the old folder after the exchange. What somebody put there at the last moment
// moves to the same place in the new folder, where that person will look for it; what cannot move
// stays and is named.
func (s *Staging) clearFormer(former string, result *Result) {
	keepIgnoreFile(former, s.place.target)
	_ = s.step("ignore file moved")
	names := make([]string, len(s.old.files))
	for i, o := range s.old.files {
		names[i] = o.name
	}
	rest, err := dismantle(former, names, s.ownFormer, false)
	if len(rest) > 0 {
		result.Returned = carryBack(s.place, former, rest)
		_, err = dismantle(former, nil, nil, false)
	}
	if err != nil {
		result.Left = append(result.Left, former)
	}
	_ = s.step("old folder removed")
	freshen(filepath.Join(s.place.target, listName))
}

// ownFormer reports whether a file of the old folder may be removed: it is as it was when
// it was looked at, or is a second name of one that is in the new folder, or has the
// bytes of the list.
func (s *Staging) ownFormer(root *os.Root, name, base string) bool {
	o := s.old.file(name)
	info, err := root.Lstat(base)
	if err != nil || o == nil {
		return false
	}
	if o.looked && stampOf(info) == o.seen {
		return true
	}
	return ownFile(s.place, root, o.entry, base, info)
}

// ownFile tells the same of a file of which only the list is known.
func ownFile(p place, root *os.Root, e entry, at string, info fs.FileInfo) bool {
	if !info.Mode().IsRegular() {
		return false
	}
	there, err := os.Lstat(filepath.Join(p.target, filepath.FromSlash(e.name)))
	if err == nil && os.SameFile(info, there) {
		return true
	}
	raw, err := regular.Read(regular.Below(root), at, e.size+mostZeros)
	return err == nil && listed(raw, e)
}

func stampOf(info fs.FileInfo) stamp {
	return stamp{size: info.Size(), modified: info.ModTime().UnixNano(), plain: info.Mode().IsRegular()}
}

func clash(name string) error {
	return refuse(fmt.Sprintf("%s cannot be published beside a file whose name is the same to this disk (capitals, accents)", name),
		"Rename one of the two pages or files.")
}
