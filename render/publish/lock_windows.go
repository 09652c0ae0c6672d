package publish

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lockOpen locks an open file without waiting; closing it ends the lock. It locks a byte far past
// the text, since Windows lets nobody else read the part that is locked.
func lockOpen(f *os.File) error {
	far := &windows.Overlapped{OffsetHigh: 1}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, far)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return errHeld
	}
	if errors.Is(err, windows.ERROR_NOT_SUPPORTED) || errors.Is(err, windows.ERROR_INVALID_FUNCTION) {
		return errNoLocks
	}
	return err
}
