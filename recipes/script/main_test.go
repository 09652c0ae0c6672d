package script

import (
	"os"
	"runtime/debug"
	"testing"
)

// The engine makes much garbage and keeps little.
func TestMain(m *testing.M) {
	debug.SetGCPercent(800)
	os.Exit(m.Run())
}
