package main

import (
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
)

// lines is an output that can be read while it is written.
type lines struct {
	mu      sync.Mutex
	b       bytes.Buffer
	written chan struct{} // if not nil, gets a signal at each write, unless one is waiting
}

func (l *lines) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	select {
	case l.written <- struct{}{}: // the reader then waits for the lock
	default:
	}
	return l.b.Write(p)
}

func (l *lines) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// The preview prints its address, answers there, and ends cleanly when told to.
func TestProofCommand(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "content")
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var errs lines
	out := lines{written: make(chan struct{}, 1)}
	ended := make(chan int, 1)
	go func() { ended <- run(ctx, []string{"proof", "--from", dir, "--port", "0"}, &out, &errs) }()
	address := ""
	for address == "" {
		select {
		case <-out.written:
			address = regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(out.String())
		case status := <-ended:
			t.Fatalf("it ends with status %d and prints no address: %s%s", status, out.String(), errs.String())
		}
	}
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	body, _ := io.ReadAll(r.Body)
	r.Body.Close()
	if r.StatusCode != http.StatusOK || !strings.Contains(string(body), "Preview, not published.") {
		t.Errorf("the first page is answered %d:\n%.400s", r.StatusCode, body)
	}
	cancel()
	if status := <-ended; status != good {
		t.Errorf("it ends with status %d: %s", status, errs.String())
	}
	if _, err := http.Get(address); err == nil {
		t.Error("the address is still answered")
	}
}

// Wrong use is reported before anything is served.
func TestProofCommandUsedWrongly(t *testing.T) {
	for _, x := range []struct {
		args   []string
		status int
		says   string
	}{
		{[]string{"--audience", "visitors"}, wrongUse, "--audience is customers or staff"},
		{[]string{"--editor", "edit"}, wrongUse, "--editor is an address with {file} in it"},
		{[]string{"--from", "no-such-folder"}, wrong, "no-such-folder"},
		{[]string{"more"}, wrongUse, ""},
	} {
		var out, errs bytes.Buffer
		status := run(context.Background(), append([]string{"proof", "--port", "0"}, x.args...), &out, &errs)
		if status != x.status || !strings.Contains(errs.String(), x.says) {
			t.Errorf("proof %v ends with status %d and says %s", x.args, status, &errs)
		}
	}
}

// If a port is taken, the message says what to do about it.
func TestProofPortTaken(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, port, _ := net.SplitHostPort(l.Addr().String())
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "index.md"), []byte("---\ntitle: T\naudience: staff\n---\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	status := run(t.Context(), []string{"proof", "--from", dir, "--port", port}, &out, &errs)
	want := "labsite: port " + port + " is taken, perhaps by another preview; choose another one with --port, or --port 0 for any that is free\n"
	if status != wrong || errs.String() != want {
		t.Errorf("%d: %s", status, errs.String())
	}
}
