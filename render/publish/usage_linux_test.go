package publish

import (
	"fmt"
	"os"
	"strings"
	"syscall"
	"time"
)

// usage returns two measures of this process: the processor time so far, and the peak of its memory
// since this call, in bytes.
func usage() (processor func() time.Duration, peak func() int64) {
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0) // resets the peak
	return func() time.Duration {
			var u syscall.Rusage
			if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
				return 0
			}
			return time.Duration(u.Utime.Nano() + u.Stime.Nano())
		}, func() int64 {
			raw, _ := os.ReadFile("/proc/self/status")
			_, rest, _ := strings.Cut(string(raw), "VmHWM:")
			var kib int64
			fmt.Sscan(rest, &kib)
			return kib << 10
		}
}
