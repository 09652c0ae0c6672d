package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// framed writes the messages of a session, one to a line, as an editor sends them: each after its
// length. $WORK in a message is the folder of the script, as in an address.
func framed(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: framed MESSAGES FILE")
	}
	work := strings.TrimPrefix(filepath.ToSlash(ts.Getenv("WORK")), "/")
	var out strings.Builder
	for line := range strings.Lines(ts.ReadFile(args[0])) {
		if line = strings.ReplaceAll(strings.TrimSpace(line), "$WORK", work); line != "" {
			fmt.Fprintf(&out, "Content-Length: %d\r\n\r\n%s", len(line), line)
		}
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(out.String()), 0o666))
}
