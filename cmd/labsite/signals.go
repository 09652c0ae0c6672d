package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// atOnce is the exit status after a second signal, as a shell tells of a program that one has
// ended.
const atOnce = 130

// untilSignal gives a context that the first signal ends: the command stops what it is doing,
// takes back what it has begun to write, and says so. The second signal ends the program by
// exit at once, whatever it is doing; a publish that is killed is put right by the next one.
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

// whileWanted does work that changes nothing but memory, and gives up waiting for it when ctx
// ends. All of that work watches ctx; but the libraries that it goes through do not, and one
// page may hold them up for a while. The program ends soon after.
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
