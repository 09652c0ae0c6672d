//go:build unix

package regular

import "syscall"

// withoutWaiting makes the open of a pipe return at once; a regular file is read as ever.
const withoutWaiting = syscall.O_NONBLOCK
