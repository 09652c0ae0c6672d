package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"
)

// The command says where it shows the pages, shows them, and lets go of its port when it is
// ended, with a status of 0.
func TestProofFromStartToEnd(t *testing.T) {
	dir := t.TempDir()
	files := map[string]string{"index.md": "---\ntitle: The front\naudience: customers\n---\n\nHere.\n"}
	for p, text := range files {
		if err := os.WriteFile(dir+"/"+p, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for range 2 {
		ctx, stop := context.WithCancel(t.Context())
		defer stop()
		out, in := io.Pipe()
		var stderr bytes.Buffer
		ended := make(chan int, 1)
		go func() {
			ended <- run(ctx, []string{"proof", "--from", dir, "--port", "0", "--json"}, in, &stderr)
			in.Close()
		}()
		var told struct{ Address string }
		if err := json.NewDecoder(out).Decode(&told); err != nil {
			t.Fatal(err)
		}
		go io.Copy(io.Discard, out)
		r, err := http.Get(told.Address + "customers/")
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(r.Body)
		r.Body.Close()
		if r.StatusCode != http.StatusOK || !strings.Contains(string(body), "The front") {
			t.Errorf("status %d\n%s", r.StatusCode, body)
		}
		stop()
		select {
		case status := <-ended:
			if status != good || stderr.Len() > 0 {
				t.Errorf("status %d, and it said %q", status, stderr.String())
			}
		case <-time.After(20 * time.Second):
			t.Fatal("it does not end")
		}
		// The port is free for whoever wants it next.
		l, err := net.Listen("tcp", strings.Trim(strings.TrimPrefix(told.Address, "http:"), "/"))
		if err != nil {
			t.Fatal(err)
		}
		l.Close()
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != len(files) {
		t.Errorf("the content folder holds %v, %v", left, err)
	}
}
