package approve

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"labsite/recipes/approval"
)

const (
	dieAt  = "APPROVE_TEST_DIE_AT"
	dieDir = "APPROVE_TEST_DIR"
)

// TestMain has a copy of the test program write a record and kill itself on the way.
func TestMain(m *testing.M) {
	if step := os.Getenv(dieAt); step != "" {
		root, err := os.OpenRoot(os.Getenv(dieDir))
		if err != nil {
			panic(err)
		}
		raw, _ := approval.Encode(record(2))
		w := &writer{root: root, at: approval.Path("X-001", 2), step: func(at string) {
			if at == step {
				self, _ := os.FindProcess(os.Getpid())
				self.Kill()
				select {}
			}
		}}
		fmt.Println("alive:", w.write(raw))
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// record is an invented record, longer than one write to a disk.
func record(revision int) *approval.Record {
	r := &approval.Record{Number: "X-001", Revision: revision, Page: "x.md", Title: "X", By: "shop owner"}
	for i := range 2000 {
		r.Text = append(r.Text, fmt.Sprint("line ", i))
	}
	return r
}

// holds reports whether a revision is recorded whole.
func holds(t *testing.T, dir string, revision int) bool {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(approval.Path("X-001", revision))))
	if errors.Is(err, os.ErrNotExist) {
		return false
	}
	r, err := approval.Decode(raw)
	if err != nil || r.Revision != revision {
		t.Fatalf("revision %d is there in part: %v", revision, err)
	}
	return true
}

// Killed at any step, an approval leaves the whole record or none and earlier ones as they were,
// and the next one works.
func TestAKilledApproval(t *testing.T) {
	for step, whole := range map[string]bool{"begun": false, "half": false, "written": false, "named": true} {
		t.Run(step, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			if _, err := Write(dir, record(1)); err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(os.Args[0])
			cmd.Env = append(os.Environ(), dieAt+"="+step, dieDir+"="+dir)
			if out, err := cmd.CombinedOutput(); err == nil {
				t.Fatalf("it was not killed: %s", out)
			}
			if got := holds(t, dir, 2); got != whole {
				t.Errorf("the record is there: %v, want %v", got, whole)
			}
			if !holds(t, dir, 1) {
				t.Error("the record before is gone")
			}
			folder := filepath.Join(dir, "approved", "X-001")
			left, _ := filepath.Glob(filepath.Join(folder, ".*"))
			for _, name := range left {
				old := time.Now().Add(-2 * leftAfter)
				os.Chtimes(name, old, old)
			}
			if _, err := Write(dir, record(3)); err != nil || !holds(t, dir, 3) {
				t.Errorf("the next approval: %v", err)
			}
			if left, _ := filepath.Glob(filepath.Join(folder, ".*")); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

// An approved record is never overwritten, and of two who approve at once one succeeds.
func TestOneRecordARevision(t *testing.T) {
	dir := t.TempDir()
	var wait sync.WaitGroup
	errs := make([]error, 8)
	for i := range errs {
		wait.Go(func() { _, errs[i] = Write(dir, record(1)) })
	}
	wait.Wait()
	won := 0
	for _, err := range errs {
		var refused *Refusal
		if err == nil {
			won++
		} else if !errors.As(err, &refused) || !strings.Contains(err.Error(), "approved/X-001/1.json already exists") {
			t.Errorf("it says %v", err)
		}
	}
	if won != 1 || !holds(t, dir, 1) {
		t.Errorf("%d of %d succeeded", won, len(errs))
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "approved", "X-001", ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Links in the folder do not lead a write out of it.
func TestNothingIsWrittenElsewhere(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	if err := os.Symlink(elsewhere, filepath.Join(dir, "approved")); err != nil {
		t.Skip(err)
	}
	if info, err := os.Lstat(filepath.Join(dir, "approved")); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Skip("what was made as a link does not read as one", info, err)
	}
	if _, err := Write(dir, record(1)); err == nil {
		t.Error("a record was written through a link")
	}
	if entries, _ := os.ReadDir(elsewhere); len(entries) > 0 {
		t.Errorf("elsewhere there is %v", entries)
	}
	os.Remove(filepath.Join(dir, "approved"))
	os.WriteFile(filepath.Join(dir, "approved"), nil, 0o644)
	if _, err := Write(dir, record(1)); err == nil || !strings.Contains(err.Error(), "approved is not a folder") {
		t.Errorf("with a file in the place of the folder it says %v", err)
	}
}
