package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"
	"time"

	"labsite/render/regular"
)

var (
	errHeld    = errors.New("held by another")
	errNoLocks = errors.New("no file locks here")
)

// lockHead starts the text of a lock file; a file that starts otherwise is
// somebody else's.
const lockHead = "labsite is publishing: "

// mostHolder is the most that is read of a lock file, in bytes.
const mostHolder = 1 << 12

// takeLock keeps two publishes into one folder apart. It is the system's own lock on an open file,
// so it ends with the process that holds it, however that ends; a file left after a kill locks
// nothing. The text in the file says who holds the lock.
//
// Where there are no such locks, a second file locks by existing, and after a kill a person has to
// delete it.
func takeLock(p place) (release func(), err error) {
	at := p.lockFile()
	for range 100 {
		if info, err := os.Stat(at); err == nil && !info.Mode().IsRegular() {
			return nil, notPlain(at)
		}
		// Nothing waits here: a pipe opened for both directions is open at once.
		f, err := os.OpenFile(at, os.O_RDWR|os.O_CREATE, 0o666)
		if err != nil {
			return nil, p.parentTrouble(err)
		}
		if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
			f.Close()
			continue
		}
		err = lockOpen(f)
		if errors.Is(err, errHeld) {
			holder := readHolder(f)
			f.Close()
			return nil, &Busy{Dir: p.said, Holder: holder, hint: "Try again when it has ended."}
		}
		if errors.Is(err, errNoLocks) {
			if info, e := f.Stat(); e == nil && info.Size() == 0 {
				os.Remove(at)
			}
			f.Close()
			return claim(p)
		}
		if err != nil {
			f.Close()
			return nil, fmt.Errorf("locking %s: %w", at, err)
		}
		// The last holder may have removed the file after it was opened here.
		here, err1 := f.Stat()
		there, err2 := os.Lstat(at)
		if err1 == nil && err2 == nil && os.SameFile(here, there) {
			return writeHolder(p, f)
		}
		f.Close()
	}
	return nil, notPlain(at)
}

func notPlain(at string) error {
	return refuse(fmt.Sprintf("%s is not a plain file, so it cannot keep two publishes apart", at), "Delete it.")
}

func writeHolder(p place, f *os.File) (release func(), err error) {
	raw, err := io.ReadAll(io.LimitReader(f, mostHolder))
	if err == nil && len(raw) > 0 && !bytes.HasPrefix(raw, []byte(lockHead)) {
		f.Close()
		return nil, refuse(fmt.Sprintf("%s is not a file that publish made", p.lockFile()), "Move it away: publish needs that name.")
	}
	if err == nil {
		err = f.Truncate(0)
	}
	if err == nil {
		_, err = f.WriteAt([]byte(holderText()), 0)
	}
	release = func() {
		// Removed while still locked, so that nobody else's is removed. Windows may not remove an
		// open file; there the second try cannot hit a file that another process has open.
		gone := os.Remove(p.lockFile()) == nil
		f.Close()
		if !gone {
			_ = os.Remove(p.lockFile())
		}
	}
	if err != nil {
		release()
		return nil, fmt.Errorf("writing %s: %w", p.lockFile(), err)
	}
	return release, nil
}

// claim locks by making a file that must not exist yet.
func claim(p place) (release func(), err error) {
	at := p.lockFile() + "-here"
	f, err := os.OpenFile(at, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		raw, _ := regular.ReadFile(at, mostHolder)
		return nil, &Busy{Dir: p.said, Holder: holderIn(string(raw)), hint: fmt.Sprintf("Try again when it has ended; if it is no longer running, delete %s.", at)}
	}
	if err != nil {
		return nil, p.parentTrouble(err)
	}
	_, err = f.WriteString(holderText())
	if err = errors.Join(err, f.Close()); err != nil {
		_ = os.Remove(at)
		return nil, fmt.Errorf("writing %s: %w", at, err)
	}
	return func() { _ = os.Remove(at) }, nil
}

func holderText() string {
	host, err := os.Hostname()
	if err != nil {
		host = "this machine"
	}
	return fmt.Sprintf("%sprocess %d on %s, since %s\n", lockHead, os.Getpid(), host, time.Now().Format("2006-01-02 15:04:05 -07:00"))
}

// readHolder says whom a lock file names, "" while it is being written.
func readHolder(f *os.File) string {
	raw := make([]byte, mostHolder)
	n, _ := f.ReadAt(raw, 0)
	return holderIn(string(raw[:n]))
}

func holderIn(text string) string {
	line, _, ok := strings.Cut(text, "\n")
	holder, own := strings.CutPrefix(line, lockHead)
	if !ok || !own {
		return ""
	}
	return holder
}

// Hold locks an open file without waiting; closing the file ends the lock. It is false if somebody
// else holds it. A disk without locks keeps nobody out.
func Hold(f *os.File) (bool, error) {
	err := lockOpen(f)
	if errors.Is(err, errHeld) {
		return false, nil
	}
	if errors.Is(err, errNoLocks) {
		return true, nil
	}
	return err == nil, err
}
