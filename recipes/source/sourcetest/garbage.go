package sourcetest

import "runtime/debug"

// LetGarbageLie collects garbage seldom, for tests that make much of it and keep little: whole
// sites and script engines, made and thrown away again and again. TestMain calls it.
func LetGarbageLie() {
	debug.SetGCPercent(800)
	debug.SetMemoryLimit(2 << 30)
}
