package script

import (
	"flag"
	"os"
	"runtime/debug"
	"testing"
)

// The engine makes much garbage and keeps little.
func TestMain(m *testing.M) {
	flag.Parse()
	_ = flag.Set("rapid.nofailfile", "true") // the failing page is in the message
	debug.SetGCPercent(800)
	os.Exit(m.Run())
}
