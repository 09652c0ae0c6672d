package preview

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source/sourcetest"
)

// lab is a copy of the demo's content with a preview of it.
type lab struct {
	t     *testing.T
	dir   string
	proof *Preview
	stop  func() // ends the preview and waits for it
	said  chan string
}

func newLab(t *testing.T, opt Options) *lab {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "content")
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	return serveLab(t, dir, opt)
}

func serveLab(t *testing.T, dir string, opt Options) *lab {
	t.Helper()
	l := &lab{t: t, dir: dir, said: make(chan string, 100)}
	opt.Dir = dir
	if opt.Now == nil {
		opt.Now = func() time.Time { return time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC) }
	}
	opt.Say = func(text string) { l.said <- text }
	if opt.Audience == "" {
		opt.Audience = page.Staff
	}
	ctx, cancel := context.WithCancel(context.Background())
	p, list, err := Start(ctx, opt)
	if err != nil || p == nil {
		t.Fatal(err, list)
	}
	l.proof = p
	done := make(chan error, 1)
	go func() { done <- p.Serve(ctx) }()
	stopped := false
	l.stop = func() {
		if stopped {
			return
		}
		stopped = true
		cancel()
		select {
		case err := <-done:
			if err != nil {
				t.Error(err)
			}
		case <-sourcetest.TooLate(t):
			t.Error("the preview does not end")
		}
	}
	t.Cleanup(l.stop)
	return l
}

func (l *lab) file(p string) string { return filepath.Join(l.dir, filepath.FromSlash(p)) }

func (l *lab) read(p string) string {
	l.t.Helper()
	raw, err := os.ReadFile(l.file(p))
	if err != nil {
		l.t.Fatal(err)
	}
	return string(raw)
}

func (l *lab) write(p, text string) {
	l.t.Helper()
	if err := os.MkdirAll(filepath.Dir(l.file(p)), 0o777); err != nil {
		l.t.Fatal(err)
	}
	if err := os.WriteFile(l.file(p), []byte(text), 0o666); err != nil {
		l.t.Fatal(err)
	}
}

func (l *lab) replace(p, old, new string) {
	l.t.Helper()
	text := l.read(p)
	if !strings.Contains(text, old) {
		l.t.Fatalf("%s does not hold %q", p, old)
	}
	l.write(p, strings.Replace(text, old, new, 1))
}
