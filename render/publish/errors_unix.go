//go:build unix

package publish

import (
	"errors"
	"syscall"
)

func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }

// isMountPoint tells what a rename says of a folder that another disk hangs on.
func isMountPoint(err error) bool {
	return errors.Is(err, syscall.EBUSY) || errors.Is(err, syscall.EXDEV)
}
