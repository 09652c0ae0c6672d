package publish

import (
	"errors"

	"golang.org/x/sys/unix"
)

// exchange lets two folders change places in one step, where the file system
// (APFS) can.
func exchange(a, b string) error {
	err := unix.RenamexNp(a, b, unix.RENAME_SWAP)
	for _, no := range []error{unix.EINVAL, unix.ENOSYS, unix.ENOTSUP} {
		if errors.Is(err, no) {
			return errNoExchange
		}
	}
	return err
}
