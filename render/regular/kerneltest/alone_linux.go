package kerneltest

import (
	"bytes"
	"os"
	"os/exec"
	"syscall"
	"testing"
)

// Alone runs the test that calls it in a process of its own, with its own user namespace and
// mounts, so that limits and mounts affect nothing else. It is true in that process; in the other
// one the caller must return.
func Alone(t *testing.T) bool {
	t.Helper()
	const mark = "KERNELTEST_ALONE"
	if os.Getenv(mark) == t.Name() {
		return true
	}
	t.Parallel() // it only waits for the other process
	cmd := exec.Command(os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v")
	cmd.Env = append(os.Environ(), mark+"="+t.Name())
	one := func(id int) []syscall.SysProcIDMap {
		return []syscall.SysProcIDMap{{ContainerID: 0, HostID: id, Size: 1}}
	}
	cmd.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS, UidMappings: one(os.Getuid()), GidMappings: one(os.Getgid())}
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Start(); err != nil {
		t.Skipf("the system gives no namespace of its own: %v", err)
	}
	err := cmd.Wait()
	if bytes.Contains(out.Bytes(), []byte("--- SKIP")) {
		t.Skip(out.String())
	}
	if err != nil {
		t.Errorf("%v\n%s", err, &out)
	}
	return false
}

// SmallDisk is a folder on an in-memory disk of the given size, such as "64k", in the process that
// Alone started.
func SmallDisk(t *testing.T, size string) string {
	t.Helper()
	disk := t.TempDir()
	if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("the system does not let a small disk be mounted: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(disk, syscall.MNT_DETACH) })
	return disk
}
