package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync"
)

// room is how much memory a command may take before garbage is collected often. Most of what a page
// needs is freed once it is written, so a site of any size fits; if more than this is in use, the
// bound rises with it, or collecting would take all the time. At five thirds of what is in use,
// 10,000 pages stay below 300 MiB.
const room = 192 << 20

// giveRoom sets the pace of garbage collection, now and after each collection, unless the user has
// set one. It is for a command that ends when its work is done.
var giveRoom = sync.OnceFunc(func() {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		debug.SetGCPercent(1000)
		setBound()
	}
})

func setBound() {
	debug.SetMemoryLimit(max(room, inUse()*5/3))
	// Nothing refers to the mark, so the next collection finds it and calls this again.
	mark := new([16]byte)
	runtime.AddCleanup(mark, func(struct{}) { setBound() }, struct{}{})
}

// inUse is what the last collection left, in bytes.
func inUse() int64 {
	sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(sample)
	if sample[0].Value.Kind() != metrics.KindUint64 {
		return 0
	}
	return int64(sample[0].Value.Uint64())
}
