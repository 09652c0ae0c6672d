package publish

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// Windows does not move a folder that a program has open, nor on most disks one with an open file
// in it. Then the old site stays, whole, and the message says what to do. If the folder is moved
// all the same, the new site is in place and what could not be removed is named. Once everything is
// closed, the next publish succeeds and clears up.
func TestOpenFilesAreNamed(t *testing.T) {
	for _, name := range []string{".", "index.html", "guides/index.html"} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "site")
			publish(t, dir, site(1))
			reader, err := os.Open(filepath.Join(dir, filepath.FromSlash(name)))
			if err != nil {
				t.Fatal(err)
			}
			defer reader.Close()
			result, err := Write(context.Background(), dir, site(2), Options{})
			switch {
			case err != nil:
				refused(t, err, "while a program has it, or a file in it, open", "publish again")
				holds(t, dir, site(1))
			case len(result.Left) == 0:
				t.Error("what is open was moved away and is not named as left")
				fallthrough
			default:
				holds(t, dir, site(2))
			}
			reader.Close()
			publish(t, dir, site(3))
			holds(t, dir, site(3))
			noLitter(t, dir)
		})
	}
}
