// Package sourcetest is for tests that try hostile input, in whatever package reads it, and for
// those that need room. It measures nothing: what it guards against takes gigabytes, or longer
// than go gives a test.
package sourcetest

import (
	"runtime"
	"testing"
	"time"
)

// TooLate fires shortly before go ends the test, so that the test can say what does not end. How
// long things take is for a benchmark to say.
func TooLate(t testing.TB) <-chan time.Time {
	d, ok := t.(interface{ Deadline() (time.Time, bool) })
	if !ok {
		return nil
	}
	end, limited := d.Deadline()
	if !limited {
		return nil
	}
	left := time.Until(end)
	return time.After(left - max(time.Second, left/20))
}

// Bounded runs something hostile and checks that it ends and takes less than 256 MiB. It sets no
// time limit of its own, so that a busy machine fails no test.
func Bounded(t *testing.T, what string, run func()) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	done := make(chan bool)
	go func() { run(); close(done) }()
	select {
	case <-done:
	case <-TooLate(t):
		t.Fatalf("%s does not end", what)
	}
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; used > 256<<20 {
		t.Errorf("%s took %d MiB", what, used>>20)
	}
}
