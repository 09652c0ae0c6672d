package main

import (
	"os"
	"regexp"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// await waits until a file matches a pattern, for as long as the test may run: how long a command
// takes is a matter for benchmarks.
func await(deadline time.Time) func(*testscript.TestScript, bool, []string) {
	return func(ts *testscript.TestScript, neg bool, args []string) {
		if neg || len(args) != 2 {
			ts.Fatalf("usage: await FILE PATTERN")
		}
		pattern, err := regexp.Compile(args[1])
		ts.Check(err)
		for {
			raw, err := os.ReadFile(ts.MkAbs(args[0]))
			if err == nil && pattern.Match(raw) {
				return
			}
			if !deadline.IsZero() && time.Now().After(deadline) {
				ts.Fatalf("%s never held %s; it holds %q (%v)", args[0], args[1], raw, err)
			}
			time.Sleep(5 * time.Millisecond) // before looking again
		}
	}
}

// lastLook is when a test gives up waiting, early enough to say what it waited for; zero for never.
func lastLook(t interface{ Deadline() (time.Time, bool) }) time.Time {
	end, limited := t.Deadline()
	if !limited {
		return time.Time{}
	}
	return end.Add(-max(time.Second, time.Until(end)/20))
}
