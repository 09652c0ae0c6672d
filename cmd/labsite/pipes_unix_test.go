//go:build unix

package main

import (
	"bytes"
	"os"
	"path"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A pipe in place of any file of a lab is an error that names it, for every command that reads the
// lab; none waits for a writer. A command that did would hang this test.
func TestAPipeInThePlaceOfAFile(t *testing.T) {
	for p := range labOfAllKinds {
		for _, by := range []string{"itself", "a link"} {
			t.Run(p+" by "+by, func(t *testing.T) {
				dir := writeLab(t, labOfAllKinds)
				full := filepath.Join(dir, filepath.FromSlash(p))
				os.Remove(full)
				at := full
				if by == "a link" {
					at = filepath.Join(dir, ".pipe")
					up := strings.Repeat("../", strings.Count(p, "/"))
					if err := os.Symlink(up+".pipe", full); err != nil {
						t.Fatal(err)
					}
				}
				if err := syscall.Mkfifo(at, 0o666); err != nil {
					t.Fatal(err)
				}
				for _, args := range [][]string{
					{"check", "--from", dir},
					{"publish", "--from", dir, "--to", filepath.Join(t.TempDir(), "site")},
					{"figure", "times", "--from", dir},
					{"formula", "--from", dir},
				} {
					var out, said bytes.Buffer
					status := run(t.Context(), args, &out, &said)
					reads := args[0] == "check" || args[0] == "publish" || args[0] == "figure" && (p == "times.md" || p == "times.csv")
					says := "this is a named pipe, not a file"
					if strings.HasPrefix(p, "dress/") { // a theme's folder is listed, and may have only some kinds of files
						says = path.Base(p)
					}
					if reads && (status != wrong || !strings.Contains(said.String(), says)) {
						t.Errorf("%s ends with %d and says\n%s%s", args[0], status, said.String(), out.String())
					}
				}
			})
		}
	}
}

// The same for a pipe in place of a folder given to a command, and in a published folder.
func TestAPipeInThePlaceOfAFolder(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o666); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"check", "--from", pipe},
		{"publish", "--from", pipe, "--to", filepath.Join(dir, "site")},
		{"publish", "--from", "../../content", "--to", pipe},
		{"figure", "page", "--from", pipe},
		{"proof", "--from", pipe, "--port", "0"},
		{"begin", pipe},
		{"begin", filepath.Join(pipe, "lab")},
		{"page", "guide", "A stop bath", "--from", pipe},
	} {
		var out, said bytes.Buffer
		if status := run(t.Context(), args, &out, &said); status == good {
			t.Errorf("%s takes a pipe for a folder: %s", strings.Join(args, " "), out.String())
		}
	}
}

func TestAPipeInAPublishedFolder(t *testing.T) {
	from := writeLab(t, map[string]string{"index.md": "---\ntitle: Front\naudience: customers\n---\n\nText.\n"})
	for _, name := range []string{".labsite-published", ".labsite-audience", ".gitignore", "index.html", "../.site.publishing"} {
		t.Run(name, func(t *testing.T) {
			to := filepath.Join(t.TempDir(), "site")
			args := []string{"publish", "--from", from, "--to", to}
			var out, said bytes.Buffer
			if status := run(t.Context(), args, &out, &said); status != good {
				t.Fatal(said.String())
			}
			at := filepath.Join(to, name)
			os.Remove(at)
			if err := syscall.Mkfifo(at, 0o666); err != nil {
				t.Fatal(err)
			}
			if status := run(t.Context(), args, &out, &said); status != wrongUse || !strings.Contains(said.String(), filepath.Base(name)) {
				t.Errorf("publish ends with %d and says %s", status, said.String())
			}
		})
	}
}
