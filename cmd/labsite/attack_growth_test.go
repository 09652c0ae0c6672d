//go:build attack && unix

package main

import (
	"runtime"
	"slices"
	"syscall"
	"testing"
	"time"
)

// It comes first: the system charges a process with the memory of the one that started it, which is
// little before other attacks have run.
func init() {
	attacks = slices.Insert(attacks, 0, attack{"processor and memory of one input", growingInputs})
}

// growingInputs checks each input of TestGrowth in a process of its own, which may take 256 MiB of
// memory and 2 s of processor time at most.
func growingInputs(t *testing.T) (times int) {
	labsite := program(t)
	var memory []int64
	var processor []time.Duration
	for name, x := range growing() {
		cmd := labsite(t.Context(), "check", "--fresh", "--from", writeLab(t, x.files))
		cmd.Run() // TestGrowth checks what it prints
		used, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
		if !ok {
			t.Fatal("the system does not say what a process used")
		}
		peak := int64(used.Maxrss) << 10
		if runtime.GOOS == "darwin" { // which counts bytes where others count KiB
			peak >>= 10
		}
		took := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
		if peak > 256<<20 {
			t.Errorf("%s: %d MiB of memory", name, peak>>20)
		}
		if took > 2*time.Second {
			t.Errorf("%s: %v of processor", name, took)
		}
		memory, processor = append(memory, peak), append(processor, took)
		times++
	}
	t.Logf("at most %d MiB and %v", slices.Max(memory)>>20, slices.Max(processor))
	return times
}
