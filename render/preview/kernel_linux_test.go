package preview

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"labsite/recipes/source/sourcetest"
	"labsite/render/regular/kerneltest"
)

// limit sets a limit of this namespace.
func limit(t *testing.T, name string, n int) {
	t.Helper()
	if err := os.WriteFile("/proc/sys/user/"+name, []byte(strconv.Itoa(n)), 0); err != nil {
		t.Skipf("the system does not let %s be set: %v", name, err)
	}
}

func (l *lab) hears(words string) {
	l.t.Helper()
	end := sourcetest.TooLate(l.t)
	for {
		select {
		case text := <-l.said:
			if strings.Contains(text, words) {
				return
			}
			l.t.Errorf("it says %q", text)
		case <-end:
			l.t.Fatalf("it does not say that %s", words)
		}
	}
}

const plainPage = "---\ntitle: %s\naudience: staff\n---\n\nText of %[1]s.\n"

// If the kernel can watch no more folders, the preview says so and looks at the files every
// second: from the start, and when the limit is reached later.
func TestWatchesRunOut(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	limit(t, "max_inotify_watches", 4)
	l := newLab(t, Options{})
	l.hears("its limit is reached; on Linux it is fs.inotify.max_user_watches. The files are checked every second")
	o := l.open("/staff/printing/test-strip.html")
	l.replace("printing/test-strip.md", "title: ", "title: Seen all the same: ")
	o.await("an error", func(m message) bool { return len(m.Errors) > 0 })
	l.replace("printing/test-strip.md", "title: Seen all the same: ", "title: Seen all the same, ")
	o.shows("Seen all the same")
}

func TestWatchesRunOutLater(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	limit(t, "max_inotify_watches", 3)
	l := serveWith(t, filepath.Join(t.TempDir(), "content"), map[string]string{"index.md": fmt.Sprintf(plainPage, "Front"), "shelf/one.md": fmt.Sprintf(plainPage, "One")})
	o := l.open("/staff/")
	for i := range 4 {
		l.write(fmt.Sprintf("box-%d/page.md", i), fmt.Sprintf(plainPage, fmt.Sprint("Box ", i)))
	}
	l.hears("cannot watch any more folders")
	o.shows("box-3/index.html")
	page := l.open("/staff/box-3/page.html")
	l.write("box-3/page.md", fmt.Sprintf(plainPage, "Changed"))
	page.shows("Text of Changed")
}

// The same if the kernel provides no way to watch.
func TestNothingToWatchWith(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	limit(t, "max_inotify_instances", 0)
	l := serveWith(t, filepath.Join(t.TempDir(), "content"), map[string]string{"index.md": fmt.Sprintf(plainPage, "Front")})
	l.hears("too many programs watch, or too many files are open. The files are checked every second")
	o := l.open("/staff/")
	l.write("index.md", fmt.Sprintf(plainPage, "Changed"))
	o.shows("Text of Changed")
}

// If too many files are open, a page that cannot be read says so, the rest stays, and it is read as
// soon as that is possible, though nothing reports that.
func TestTooManyOpenFiles(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	l := serveWith(t, filepath.Join(t.TempDir(), "content"), map[string]string{
		"index.md": fmt.Sprintf(plainPage, "Front"), "page.md": fmt.Sprintf(plainPage, "Page"), "box/in.md": fmt.Sprintf(plainPage, "In")})
	o := l.open("/staff/page.html")
	front := l.open("/staff/")
	f, err := os.OpenFile(l.file("page.md"), os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var was syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_NOFILE, &was); err != nil {
		t.Fatal(err)
	}
	none := func() (open []*os.File) {
		t.Helper()
		names, err := os.ReadDir("/proc/self/fd")
		if err != nil {
			t.Fatal(err)
		}
		most := 0
		for _, n := range names {
			k, _ := strconv.Atoi(n.Name())
			most = max(most, k)
		}
		if err := syscall.Setrlimit(syscall.RLIMIT_NOFILE, &syscall.Rlimit{Cur: uint64(most + 1), Max: was.Max}); err != nil {
			t.Skipf("the system does not let the number of open files be set: %v", err)
		}
		for {
			f, err := os.Open(os.DevNull)
			if err != nil {
				return open
			}
			open = append(open, f)
		}
	}
	room := func(open []*os.File) {
		syscall.Setrlimit(syscall.RLIMIT_NOFILE, &was)
		for _, f := range open {
			f.Close()
		}
	}
	text := fmt.Sprintf(plainPage, "Written meanwhile")
	open := none()
	if _, err := f.WriteAt([]byte(text), 0); err != nil {
		t.Fatal(err)
	}
	m := o.await("that it cannot be read", func(m message) bool { return len(m.Errors) > 0 })
	if e := m.Errors[0]; e.Code != "cannot-read" || !strings.Contains(e.Message, "too many open files") || e.File != "page.md" {
		t.Errorf("it says %+v", e)
	}
	front.await("that another page has errors", func(m message) bool { return len(m.Others) == 1 && m.Others[0].File == "page.md" })
	room(open)
	o.shows("Text of Written meanwhile")
	// the same while a folder appears that cannot be read
	open = none()
	if err := os.Mkdir(l.file("new"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(l.file("box/in.md"), l.file("new/in.md")); err != nil {
		t.Fatal(err)
	}
	time.Sleep(100 * time.Millisecond)
	room(open)
	front.shows("new/index.html")
	in := l.open("/staff/new/in.html")
	l.write("new/in.md", fmt.Sprintf(plainPage, "Further in"))
	in.shows("Text of Further in")
}

// A disk that fails to read a file's bytes. The memory of a process has nothing at address 0, and
// reading it there gives a real input/output error.
func TestDiskGivesAnError(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	l := newLab(t, Options{})
	o := l.open("/staff/" + strings.TrimSuffix(onePage, ".md") + ".html")
	times := l.file("developing/one-shot-times.csv")
	for _, x := range []struct{ file, at string }{{l.file(onePage), onePage}, {times, "developing/one-shot-times.csv"}, {l.file("labsite.yaml"), "labsite.yaml"}} {
		if err := syscall.Mount(fmt.Sprintf("/proc/%d/mem", os.Getpid()), x.file, "", syscall.MS_BIND, ""); err != nil {
			t.Skipf("the system does not let a file be mounted: %v", err)
		}
		l.proof.update(t.Context(), []string{x.at}) // a mount is not reported
		m := o.await("an error of "+x.at, func(m message) bool {
			return slices.ContainsFunc(m.Errors, func(n note) bool { return n.File == x.at && n.Code == "cannot-read" })
		})
		i := slices.IndexFunc(m.Errors, func(n note) bool { return n.File == x.at })
		if !strings.Contains(m.Errors[i].Message, "input/output error") {
			t.Errorf("it says %+v", m.Errors[i])
		}
		if err := syscall.Unmount(x.file, 0); err != nil {
			t.Fatal(err)
		}
		o.await("no error of "+x.at, func(m message) bool { return len(m.Errors) == 0 })
	}
}

// A full disk cuts a page off in the middle, and a read-only disk can be previewed all the same,
// since the preview itself writes nothing.
func TestFullDisk(t *testing.T) {
	if !kerneltest.Alone(t) {
		return
	}
	dir := filepath.Join(t.TempDir(), "content")
	if err := os.Mkdir(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=16k"); err != nil {
		t.Skipf("the system does not let a small disk be mounted: %v", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	page := "---\ntitle: Page\naudience: staff\ngiven:\n  tank: 500 ml\nfigures:\n  part: {label: Part, formula: tank / 5}\n---\n\n{part}\n"
	l := serveWith(t, dir, map[string]string{"page.md": page})
	o := l.open("/staff/page.html")
	fill := strings.Repeat("# filled\n", 4000)
	if err := os.WriteFile(l.file("page.md"), []byte("---\ntitle: Page\naudience: staff\n"+fill+page[4:]), 0o666); err == nil {
		t.Skip("the small disk is not full")
	}
	m := o.await("half a page", func(m message) bool { return len(m.Errors) > 0 })
	if m.Errors[0].File != "page.md" || m.HTML != "" {
		t.Errorf("it says %+v", m.Errors[0])
	}
	l.write("page.md", page+"\nThere is room again.\n")
	o.shows("There is room again.")
	l.stop()
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("the system does not let a disk be mounted to be read only: %v", err)
	}
	l = serveLab(t, dir, Options{})
	if status, text := l.get("/staff/page.html"); status != 200 || !strings.Contains(text, "There is room again.") {
		t.Errorf("from a disk that cannot be written: %d", status)
	}
}

// What is in a file's place may not be a file: a folder, a pipe, a link to nothing, to itself, out
// of the folder, or to another page.
func TestNoFileInItsPlace(t *testing.T) {
	l := newLab(t, Options{})
	o := l.open("/staff/" + strings.TrimSuffix(onePage, ".md") + ".html")
	good := l.read(onePage)
	base := filepath.Base(onePage)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	says := func(code, file string) func(m message) bool {
		return func(m message) bool {
			return slices.ContainsFunc(m.Errors, func(n note) bool { return n.File == file && n.Code == code })
		}
	}
	for _, x := range []struct {
		what string
		make func(full string) error
		is   func(m message) bool
	}{
		{"a folder", func(full string) error { return os.Mkdir(full, 0o777) }, func(m message) bool { return m.Page == "" }},
		{"a pipe", func(full string) error { return syscall.Mkfifo(full, 0o666) }, says("not-a-file", onePage)},
		{"a link to nothing", func(full string) error { return os.Symlink("nothing.md", full) }, says("link-to-no-file", onePage)},
		{"a link to itself", func(full string) error { return os.Symlink(base, full) }, says("link-to-no-file", onePage)},
		{"a link out of the folder", func(full string) error { return os.Symlink("/etc/hostname", full) }, says("link-outside", onePage)},
		{"a link to a folder", func(full string) error { return os.Symlink("../mixing", full) }, says("link-to-folder", onePage)},
		{"a link to a pipe", func(full string) error {
			if err := syscall.Mkfifo(filepath.Join(filepath.Dir(full), ".pipe"), 0o666); err != nil {
				return err
			}
			return os.Symlink(".pipe", full)
		}, says("not-a-file", onePage)},
	} {
		must(os.Remove(l.file(onePage)))
		must(x.make(l.file(onePage)))
		o.await(x.what, x.is)
		must(os.RemoveAll(l.file(onePage)))
		if x.what == "a link out of the folder" { // the page is gone, and its last correct state is not served
			o.await("no page", func(m message) bool { return m.Page == "" && len(m.Errors) == 0 })
			if status, _ := l.get("/staff/" + strings.TrimSuffix(onePage, ".md") + ".html"); status != 404 {
				t.Errorf("a page that was a link out of the folder and was deleted gets status %d", status)
			}
		}
		l.write(onePage, good)
		o.await("the page after "+x.what, func(m message) bool { return len(m.Errors) == 0 && m.Page == onePage })
	}
	// a link to another page follows that page, though the kernel reports only that page
	must(os.Remove(l.file(onePage)))
	l.write("developing/.kept.md", good)
	must(os.Symlink(".kept.md", l.file(onePage)))
	o.await("the page by a link", func(m message) bool { return len(m.Errors) == 0 && m.Page == onePage })
	l.replace("developing/.kept.md", "## What goes wrong", "Written behind the link.\n\n## What goes wrong")
	o.shows("Written behind the link.")
	// settings that are a folder
	must(os.Remove(l.file("labsite.yaml")))
	must(os.Mkdir(l.file("labsite.yaml"), 0o777))
	o.await("settings that are a folder", says("not-a-file", "labsite.yaml"))
}
