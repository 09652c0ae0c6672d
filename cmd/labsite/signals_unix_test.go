//go:build unix

package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
)

// process starts this binary under another name, like a testscript script.
func process(t *testing.T, args ...string) (*exec.Cmd, *bufio.Reader) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := &exec.Cmd{Path: self, Args: args, Stderr: new(bytes.Buffer)}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill() })
	return cmd, bufio.NewReader(out)
}

func exitStatus(t *testing.T, err error) int {
	t.Helper()
	var exit *exec.ExitError
	if err == nil {
		return 0
	}
	if !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return exit.ExitCode()
}

// The first signal tells the work to end, the second ends the program even if the work goes on.
func TestASecondSignalEndsAtOnce(t *testing.T) {
	for _, second := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		cmd, out := process(t, "deaf")
		for _, step := range []struct {
			says string
			send os.Signal
		}{{"working", os.Interrupt}, {"told", second}} {
			line, err := out.ReadString('\n')
			if err != nil || strings.TrimSpace(line) != step.says {
				t.Fatalf("%q %v, not %s", line, err, step.says)
			}
			if err := cmd.Process.Signal(step.send); err != nil {
				t.Fatal(err)
			}
		}
		if status := exitStatus(t, cmd.Wait()); status != atOnce {
			t.Errorf("it ends with %d", status)
		}
	}
}

// The first signal, as by Ctrl-C, ends a preview that is working out its pages in the background;
// to finish them would take longer than anybody waits.
func TestASignalEndsAPreviewAtWork(t *testing.T) {
	cmd, out := process(t, "labsite", "proof", "--from", laborious(t), "--port", "0")
	for line := ""; !strings.Contains(line, "Ctrl-C ends it"); {
		var err error
		if line, err = out.ReadString('\n'); err != nil {
			t.Fatal(err)
		}
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	rest, err := io.ReadAll(out)
	if status := exitStatus(t, cmd.Wait()); err != nil || status != good || !strings.Contains(string(rest), "The preview has ended.") {
		t.Errorf("it ends with %d and says %s %v", status, rest, err)
	}
}
