//go:build unix

package regular

import "syscall"

// withoutWaiting makes opening a pipe return at once, and makes no difference for a regular file.
const withoutWaiting = syscall.O_NONBLOCK
