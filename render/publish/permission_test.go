//go:build unix

package publish

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// withoutPermission is set in a copy of the test program that runs as the user nobody.
const withoutPermission = "PUBLISH_TEST_WITHOUT_PERMISSION"

// A parent that may not be written in is reported as such. The superuser may write anywhere, so the
// test runs a copy of itself as another user.
func TestWithoutPermissionInTheParent(t *testing.T) {
	if dir := os.Getenv(withoutPermission); dir != "" {
		_, err := Write(context.Background(), dir, site(2), Options{})
		if err == nil || !strings.Contains(err.Error(), filepath.Dir(dir)) || !strings.Contains(err.Error(), "Get permission") {
			t.Errorf("the error does not say what to do: %v", err)
		}
		if !errors.Is(err, fs.ErrPermission) {
			t.Errorf("the cause is out of reach: %v", err)
		}
		_, err = Write(context.Background(), filepath.Join(filepath.Dir(dir), "new", "site"), site(2), Options{})
		if !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "Get permission") {
			t.Errorf("of a parent that cannot be made: %v", err)
		}
		return
	}
	top, err := os.MkdirTemp("", "publish")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(top)
	near := filepath.Join(top, "near")
	dir := filepath.Join(near, "site")
	publish(t, dir, site(1))
	copied := filepath.Join(top, "test")
	copySelf(t, copied)
	if err := errors.Join(os.Chmod(top, 0o755), os.Chmod(near, 0o555)); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(near, 0o755)

	cmd := exec.Command(copied, "-test.run", "^"+t.Name()+"$", "-test.v")
	cmd.Dir = top
	cmd.Env = append(os.Environ(), withoutPermission+"="+dir)
	if os.Geteuid() == 0 {
		const nobody = 65534
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	out, err := cmd.CombinedOutput()
	if err != nil || !strings.Contains(string(out), "--- PASS") {
		t.Errorf("%v\n%s", err, out)
	}
	holds(t, dir, site(1))
	noLitter(t, dir)
}

func copySelf(t *testing.T, to string) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	in, err := os.Open(self)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_WRONLY, 0o755)
	if err != nil {
		t.Fatal(err)
	}
	_, err = io.Copy(out, in)
	if err = errors.Join(err, out.Close()); err != nil {
		t.Fatal(err)
	}
}

func TestTheFolderKeepsItsMode(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	publish(t, dir, site(1))
	for turn, mode := range []fs.FileMode{0o700, 0o750, 0o775} {
		if err := os.Chmod(dir, mode); err != nil {
			t.Fatal(err)
		}
		publish(t, dir, site(turn))
		info, err := os.Stat(dir)
		if err != nil || info.Mode().Perm() != mode {
			t.Errorf("the mode is %v, want %v (%v)", info.Mode().Perm(), mode, err)
		}
	}
}
