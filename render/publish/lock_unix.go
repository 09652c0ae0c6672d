//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package publish

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// lockOpen locks an open file without waiting; closing it ends the lock.
func lockOpen(f *os.File) error {
	for {
		err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
		switch {
		case errors.Is(err, unix.EINTR):
			continue
		case errors.Is(err, unix.EWOULDBLOCK):
			return errHeld
		case errors.Is(err, unix.ENOSYS), errors.Is(err, unix.ENOTSUP), errors.Is(err, unix.EOPNOTSUPP), errors.Is(err, unix.ENOLCK):
			return errNoLocks
		}
		return err
	}
}
