package publish

import (
	"errors"

	"golang.org/x/sys/unix"
)

// exchange lets two folders change places in one step.
func exchange(a, b string) error {
	err := unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE)
	for _, no := range []error{unix.EINVAL, unix.ENOSYS, unix.EOPNOTSUPP} {
		if errors.Is(err, no) {
			return errNoExchange
		}
	}
	return err
}
