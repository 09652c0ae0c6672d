//go:build !linux

package publish

import "time"

// usage measures nothing here.
func usage() (processor func() time.Duration, peak func() int64) {
	return func() time.Duration { return 0 }, func() int64 { return 0 }
}
