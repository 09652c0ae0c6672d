//go:build unix

package publish

import (
	"errors"
	"syscall"
)

func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }

// isMountPoint recognises the error of renaming a folder on which another disk is mounted.
func isMountPoint(err error) bool {
	return errors.Is(err, syscall.EBUSY) || errors.Is(err, syscall.EXDEV)
}
