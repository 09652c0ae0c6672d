package publish

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
)

// Environment of a copy of the test program that publishes and kills itself.
const (
	killAt    = "PUBLISH_TEST_KILL_AT"
	killDir   = "PUBLISH_TEST_DIR"
	killApart = "PUBLISH_TEST_APART"
)

func TestMain(m *testing.M) {
	if at := os.Getenv(killAt); at != "" {
		publishAndDie(at)
	}
	os.Exit(m.Run())
}

// publishAndDie publishes turn 2 and kills itself at the n-th call of a step ("file#3"), with no
// chance to tidy up.
func publishAndDie(at string) {
	name, count, _ := strings.Cut(at, "#")
	var n, seen int32
	fmt.Sscan(count, &n)
	_, err := Write(context.Background(), os.Getenv(killDir), site(2, "new.html"), Options{
		byRenames: os.Getenv(killApart) != "",
		step: func(step string) error {
			if step == name && atomic.AddInt32(&seen, 1) == n {
				self, err := os.FindProcess(os.Getpid())
				if err == nil {
					self.Kill()
				}
				select {}
			}
			return nil
		},
	})
	fmt.Println("alive:", err)
	os.Exit(0)
}

// A publish killed at any step leaves the old site or the new one, whole; the
// next publish works and clears up.
func TestAKilledPublish(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for name, opt := range steps(t) {
		times := []int{1}
		if name == "file" {
			times = []int{1, 3, 5}
		}
		for _, n := range times {
			for _, there := range []bool{true, false} {
				if !there && (opt.byRenames || name == "between two renames" || name == "ignore file moved" || name == "old folder removed") {
					continue // a step that only a second publish has
				}
				at := fmt.Sprintf("%s#%d", name, n)
				t.Run(fmt.Sprintf("%s, old site %v", at, there), func(t *testing.T) {
					t.Parallel()
					dir := filepath.Join(t.TempDir(), "site")
					if there {
						publish(t, dir, site(1, "gone.html"))
						put(t, filepath.Join(dir, ignoreName), "*\n")
					}
					cmd := exec.Command(self)
					cmd.Env = append(os.Environ(), killAt+"="+at, killDir+"="+dir)
					if opt.byRenames {
						cmd.Env = append(cmd.Env, killApart+"=1")
					}
					out, err := cmd.CombinedOutput()
					if err == nil {
						t.Fatalf("the program was not killed: %s", out)
					}
					switch _, err := os.Lstat(dir); {
					case name == "between two renames":
						if err == nil {
							t.Error("there is a folder between the two renames")
						}
					case name == "exchanged" || name == "ignore file moved" || name == "old folder removed":
						holds(t, dir, site(2, "new.html"))
					case there:
						holds(t, dir, site(1, "gone.html"))
					case err == nil:
						t.Error("there is a folder")
					}

					r := publish(t, dir, site(3))
					if len(r.Left) > 0 {
						t.Errorf("named as left: %v", r.Left)
					}
					holds(t, dir, site(3))
					noLitter(t, dir)
					if raw, _ := os.ReadFile(filepath.Join(dir, ignoreName)); there && string(raw) != "*\n" {
						t.Errorf("the .gitignore holds %q", raw)
					}
				})
			}
		}
	}
}

// A kill before the list is whole leaves half a list, or none.
func TestHalfAListIsClearedUp(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	whole := list{{name: "index.html"}}.bytes()
	for i, n := range []int{0, 10, len(listHead) + 1, len(whole) - 3} {
		put(t, filepath.Join(filepath.Dir(dir), fmt.Sprintf(".site.next-0000000%d", i), listName), string(whole[:n]))
		put(t, filepath.Join(filepath.Dir(dir), fmt.Sprintf(".site.next-0000001%d", i), journalName), string(whole[:n]))
	}
	r := publish(t, dir, site(1))
	if len(r.Left) > 0 {
		t.Errorf("named as left: %v", r.Left)
	}
	noLitter(t, dir)
}

// In a folder that was being built, a file with a line in the journal is ours even if a kill left
// only half of it; one without a line is not.
func TestAFolderThatWasBeingBuilt(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	near := filepath.Dir(dir)
	begun := listHead + "\n" + entry{name: "guides/index.html", size: 9}.line() + "12 half a li"
	put(t, filepath.Join(near, ".site.next-00000001", journalName), begun)
	put(t, filepath.Join(near, ".site.next-00000001", "guides", "index.html"), "half")
	put(t, filepath.Join(near, ".site.next-00000002", journalName), begun)
	put(t, filepath.Join(near, ".site.next-00000002", "mine.txt"), "mine")
	r := publish(t, dir, site(1))
	if len(r.Left) != 1 || filepath.Base(r.Left[0]) != ".site.next-00000002" {
		t.Errorf("named as left: %v", r.Left)
	}
	if got := beside(t, dir); len(got) != 1 {
		t.Errorf("beside the folder: %v", got)
	}
}

// A publish killed between two renames leaves no folder; Restore brings the old site back, and does
// nothing while somebody publishes or if there is a folder.
func TestRestore(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "site")
	if Restore(dir) {
		t.Error("a site came from nowhere")
	}
	publish(t, dir, site(1))
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), killAt+"=between two renames#1", killDir+"="+dir, killApart+"=1")
	if out, err := cmd.CombinedOutput(); err == nil {
		t.Fatalf("the program was not killed: %s", out)
	}
	if _, err := os.Lstat(dir); err == nil {
		t.Fatal("there is a folder between the two renames")
	}
	p, err := locate(dir, "")
	if err != nil {
		t.Fatal(err)
	}
	release, err := takeLock(p)
	if err != nil {
		t.Fatal(err)
	}
	if Restore(dir) {
		t.Error("a site was brought back while somebody publishes")
	}
	release()
	if !Restore(dir) || Restore(dir) {
		t.Error("the site was not brought back exactly once")
	}
	holds(t, dir, site(1))
	publish(t, dir, site(2))
	holds(t, dir, site(2))
	noLitter(t, dir)
}
