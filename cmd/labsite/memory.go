package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync"
)

// room is how much memory may fill up between two collections of garbage while a site is
// made. Most of what a page needs is kept until the site is written, so that collecting
// early finds little: at Go's own pace it was a fifth of the processors' work for 2,000
// pages. From where as much is in use, the pace is Go's own again, and a site of any size
// takes no more than twice what it holds.
const room = 256 << 20

// giveRoom sets the pace of collecting garbage, now and after each collection, unless the
// user has set one. It is for a command that ends when its work is done.
var giveRoom = sync.OnceFunc(func() {
	if os.Getenv("GOGC") == "" {
		setPace()
	}
})

func setPace() {
	percent := 100
	if live := inUse(); live < room {
		percent = int(100 * room / max(live, room/32))
	}
	debug.SetGCPercent(percent)
	// The next collection finds nobody holding the mark, and calls this again.
	mark := new([16]byte)
	runtime.AddCleanup(mark, func(struct{}) { setPace() }, struct{}{})
}

// inUse is what the last collection left, in bytes.
func inUse() uint64 {
	sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(sample)
	if sample[0].Value.Kind() != metrics.KindUint64 {
		return room
	}
	return sample[0].Value.Uint64()
}
