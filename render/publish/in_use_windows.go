package publish

import (
	"errors"
	"syscall"
)

// isInUse recognises the errors of renaming a folder in which a program has a file open
// (ERROR_ACCESS_DENIED, ERROR_SHARING_VIOLATION).
func isInUse(err error) bool {
	return errors.Is(err, syscall.Errno(5)) || errors.Is(err, syscall.Errno(32))
}
