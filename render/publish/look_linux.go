package publish

import (
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// looker asks the disk about files of one folder without opening them.
type looker struct {
	dir *os.File
	// When the list was written, and when its entry in the file system last changed.
	written, touched int64
}

func (l *looker) open(target string) (err error) {
	if l.dir, err = os.OpenFile(target, os.O_RDONLY|unix.O_DIRECTORY, 0); err != nil {
		return err
	}
	st, err := l.stat(listName)
	if err == nil {
		l.written, l.touched = st.Mtim.Nano(), st.Ctim.Nano()
	}
	return nil // without a list there is no file to ask about
}

func (l *looker) close() {
	if l.dir != nil {
		_ = l.dir.Close()
	}
}

// look says what the disk knows of a file, and whether that shows it untouched since the list was
// written: both its times are before those of the list. Nobody can set the second time, that of the
// last change of any kind, so a file copied in with its old date is noticed too. Equal times show
// nothing, since a clock ticks slowly.
func (l *looker) look(name string) (s stamp, untouched bool, err error) {
	st, err := l.stat(name)
	if err != nil {
		return stamp{}, false, err
	}
	s = stamp{size: st.Size, modified: st.Mtim.Nano(), plain: st.Mode&unix.S_IFMT == unix.S_IFREG}
	return s, s.plain && s.modified < l.written && st.Ctim.Nano() < l.touched, nil
}

func (l *looker) stat(name string) (st unix.Stat_t, err error) {
	for {
		err = unix.Fstatat(int(l.dir.Fd()), name, &st, unix.AT_SYMLINK_NOFOLLOW)
		if err == nil {
			return st, nil
		}
		if err != unix.EINTR {
			return st, &fs.PathError{Op: "stat", Path: name, Err: err}
		}
	}
}

// freshen moves the list's second time past those of the files, which change when links to them
// come and go. Its date stays.
func freshen(list string) {
	if info, err := os.Lstat(list); err == nil && info.Mode().IsRegular() {
		_ = os.Chmod(list, info.Mode().Perm())
	}
}
