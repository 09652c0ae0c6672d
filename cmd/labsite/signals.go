package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// atOnce is the exit status after a second signal, the one that a shell reports for a program that
// SIGINT ended.
const atOnce = 130

// untilSignal returns a context that the first signal ends: the command stops what it is doing,
// undoes what it has begun to write, and says so. The second signal ends the program by exit at
// once, whatever it is doing; the next publish repairs one that is killed.
func untilSignal(exit func(status int)) (ctx context.Context, stop func()) {
	ctx, cancel := context.WithCancel(context.Background())
	came := make(chan os.Signal, 2)
	signal.Notify(came, os.Interrupt, syscall.SIGTERM)
	go func() {
		<-came
		cancel()
		<-came
		exit(atOnce)
	}()
	return ctx, func() {
		signal.Stop(came)
		cancel()
	}
}

// whileWanted does work that changes only memory, and stops waiting for it when ctx ends. The work
// itself watches ctx, but the libraries that it calls do not, and one page may hold them up for a
// while. The program ends soon after.
func whileWanted(ctx context.Context, work func()) error {
	done := make(chan struct{})
	go func() {
		defer close(done)
		work()
	}()
	select {
	case <-done:
	case <-ctx.Done():
	}
	return ctx.Err()
}
