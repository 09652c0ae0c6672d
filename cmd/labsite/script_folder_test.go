package main

import (
	"bytes"
	"html"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

type remembered struct{}

// bytesOf maps every name in a folder to the bytes of the file or the target of the link.
func bytesOf(ts *testscript.TestScript, dir string) map[string]string {
	out := map[string]string{}
	ts.Check(filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		short, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		switch {
		case e.IsDir():
			out[short] = "a folder"
		case e.Type()&fs.ModeSymlink != 0:
			to, err := os.Readlink(name)
			out[short] = "a link to " + to
			return err
		default:
			b, err := os.ReadFile(name)
			out[short] = string(b)
			return err
		}
		return nil
	}))
	return out
}

// writeBytes writes a file of any bytes: the text may have the escapes of Go strings, and is filled
// up with the letter a to the size, if given.
func writeBytes(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: bytes FILE TEXT [SIZE]")
	}
	text, err := strconv.Unquote(`"` + args[1] + `"`)
	ts.Check(err)
	if len(args) == 3 {
		size, err := strconv.Atoi(args[2])
		ts.Check(err)
		text += strings.Repeat("a", size-len(text))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(text), 0o666))
}

func remember(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: remember NAME FOLDER")
	}
	ts.Value(remembered{}).(map[string]map[string]string)[args[0]] = bytesOf(ts, ts.MkAbs(args[1]))
}

func unchanged(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: [!] unchanged NAME FOLDER")
	}
	before, ok := ts.Value(remembered{}).(map[string]map[string]string)[args[0]]
	if !ok {
		ts.Fatalf("nothing is remembered as %s", args[0])
	}
	what := difference(before, bytesOf(ts, ts.MkAbs(args[1])))
	if neg != (what != "") {
		ts.Fatalf("%s: %s", args[1], what)
	}
}

// difference names one file in which two folders differ, "" if there is none.
func difference(a, b map[string]string) string {
	for name, text := range a {
		now, there := b[name]
		switch {
		case !there:
			return name + " is gone"
		case now != text:
			return name + " changed"
		}
	}
	for name := range b {
		if _, there := a[name]; !there {
			return name + " is new"
		}
	}
	return ""
}

// nowhere searches the names and bytes of a folder for words, ignoring case, as they are and with
// the escapes of HTML and of addresses undone.
func nowhere(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: nowhere FOLDER WORD…")
	}
	files := bytesOf(ts, ts.MkAbs(args[0]))
	if len(files) < 2 {
		ts.Fatalf("%s is empty, so nothing is shown by looking there", args[0])
	}
	for name, text := range files {
		plain := html.UnescapeString(text)
		if u, err := url.PathUnescape(plain); err == nil {
			plain = u
		}
		all := bytes.ToLower([]byte(name + "\n" + text + "\n" + plain))
		for _, word := range args[1:] {
			if bytes.Contains(all, []byte(strings.ToLower(word))) {
				ts.Fatalf("%s holds %q", name, word)
			}
		}
	}
}

// damage changes a byte in the middle of every file of a folder.
func damage(ts *testscript.TestScript, _ bool, args []string) {
	dir := ts.MkAbs(args[0])
	ts.Check(filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(name)
		if err == nil {
			b[len(b)/2] ^= 1
			err = os.WriteFile(name, b, 0o600)
		}
		return err
	}))
}
