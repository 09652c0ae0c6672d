package preview

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"
)

// A burst of changes is over when nothing more has happened for quiet, and is handed on after
// longest in any case.
const (
	quiet     = 5 * time.Millisecond
	quietMany = 40 * time.Millisecond // if many files change, as when a branch is checked out
	many      = 8
	longest   = 400 * time.Millisecond
	// unwritten is how long to wait if a page is empty: editors that write in place empty the file
	// first.
	unwritten = 60 * time.Millisecond
	lookEvery = time.Second
)

// watch follows a folder and all in it.
type watch struct {
	dir      string
	notifier *fsnotify.Watcher // nil if the system tells nothing
	looking  bool              // look at everything every second
	missed   bool              // a folder could not be read
	say      func(string)
}

func newWatch(dir string, looking bool, say func(string)) *watch {
	w := &watch{dir: dir, say: say}
	if looking {
		w.looking = true
		return w
	}
	told, err := fsnotify.NewBufferedWatcher(256)
	if err != nil {
		w.lookInstead(err)
		return w
	}
	w.notifier = told
	w.add(dir)
	return w
}

// lookInstead switches to looking, because the system lets nothing be watched, or no more.
func (w *watch) lookInstead(err error) {
	if w.looking {
		return
	}
	w.looking = true
	why := err.Error()
	switch { // the system's own words for these are about disks and files
	case errors.Is(err, syscall.ENOSPC):
		why = "its limit is reached; on Linux it is fs.inotify.max_user_watches"
	case errors.Is(err, syscall.EMFILE):
		why = "too many programs watch, or too many files are open"
	}
	w.say("The system cannot watch any more folders: " + why + ". The files are checked every second instead.")
}

// add watches a folder and those in it, except those whose names begin with a dot.
func (w *watch) add(dir string) {
	filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			w.missed = w.missed || !errors.Is(err, fs.ErrNotExist)
			return nil
		}
		if !d.IsDir() {
			return nil
		}
		if p != w.dir && strings.HasPrefix(d.Name(), ".") {
			return fs.SkipDir
		}
		if err := w.notifier.Add(p); err != nil && !errors.Is(err, fs.ErrNotExist) {
			w.lookInstead(err)
			return fs.SkipAll
		}
		return nil
	})
}

// follow stops watching folders that are gone and watches new ones. Otherwise the system would go
// on reporting a folder that was moved by its old name.
func (w *watch) follow(b *burst) {
	for _, p := range w.notifier.WatchList() {
		if info, err := os.Lstat(p); err != nil || !info.IsDir() {
			w.notifier.Remove(p)
		}
	}
	for p := range b.paths {
		full := filepath.Join(w.dir, filepath.FromSlash(p))
		if info, err := os.Lstat(full); err == nil && info.IsDir() {
			w.add(full)
		}
	}
}

// renew watches the whole folder again.
func (w *watch) renew() {
	if w.notifier == nil {
		return
	}
	for _, p := range w.notifier.WatchList() {
		w.notifier.Remove(p)
	}
	if _, err := os.Stat(w.dir); err == nil {
		w.add(w.dir)
	}
}

func (w *watch) close() {
	if w.notifier != nil {
		w.notifier.Close()
	}
}

// run hands bursts of changes to update until ctx ends: the paths that changed, relative to the
// folder and with slashes, or none to look at everything.
//
// again is asked every second for what nothing reported; see build.Followed.Again.
func (w *watch) run(ctx context.Context, update func(ctx context.Context, paths []string), again func() (paths []string, whole bool)) {
	var events chan fsnotify.Event
	var troubles chan error
	if w.notifier != nil {
		events, troubles = w.notifier.Events, w.notifier.Errors
	}
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		b := &burst{paths: map[string]bool{}}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			paths, whole := again()
			if !w.looking && (w.missed || !slices.Contains(w.notifier.WatchList(), w.dir)) {
				w.missed = false
				w.renew() // the folder was away, or another took its place
				whole = true
			}
			if len(paths) > 0 {
				update(ctx, paths)
			}
			if whole || w.looking {
				update(ctx, nil)
			}
			continue
		case e := <-events:
			w.note(b, e)
		case err := <-troubles:
			w.trouble(b, err)
		}
		w.collect(ctx, b, events, troubles)
		if ctx.Err() != nil {
			return
		}
		if b.all {
			w.renew()
			update(ctx, nil)
			continue
		}
		if b.folders {
			w.follow(b)
		}
		if len(b.paths) > 0 {
			update(ctx, b.list())
		}
	}
}

// collect waits until a burst is over.
func (w *watch) collect(ctx context.Context, b *burst, events chan fsnotify.Event, troubles chan error) {
	end := time.Now().Add(longest)
	waited := false
	for {
		still := quiet
		if len(b.paths) >= many || b.all || b.folders {
			still = quietMany
		}
		timer := time.NewTimer(min(still, time.Until(end)))
		select {
		case <-ctx.Done():
			timer.Stop()
			return
		case e := <-events:
			timer.Stop()
			w.note(b, e)
			if time.Now().Before(end) {
				continue
			}
		case err := <-troubles:
			timer.Stop()
			w.trouble(b, err)
			continue
		case <-timer.C:
		}
		if !waited && w.emptied(b) {
			waited = true
			timer := time.NewTimer(unwritten)
			select {
			case <-ctx.Done():
			case e := <-events:
				w.note(b, e)
				waited = false
				timer.Stop()
				if time.Now().Before(end) {
					continue
				}
			case <-timer.C:
			}
		}
		return
	}
}

// emptied reports whether a file of the burst is empty at this moment.
func (w *watch) emptied(b *burst) bool {
	if len(b.paths) > many {
		return false
	}
	for p := range b.paths {
		info, err := os.Stat(filepath.Join(w.dir, filepath.FromSlash(p)))
		if err == nil && info.Mode().IsRegular() && info.Size() == 0 {
			return true
		}
	}
	return false
}

type burst struct {
	paths   map[string]bool
	all     bool
	folders bool // a folder is among them, or was
}

func (b *burst) list() []string {
	var out []string
	for p := range b.paths {
		out = append(out, p)
	}
	return out
}

func (w *watch) note(b *burst, e fsnotify.Event) {
	if e.Op == 0 {
		return
	}
	rel, err := filepath.Rel(w.dir, e.Name)
	if err != nil {
		return
	}
	if rel == "." {
		b.all = true
		return
	}
	rel = filepath.ToSlash(rel)
	for part := range strings.SplitSeq(rel, "/") {
		if strings.HasPrefix(part, ".") {
			return
		}
	}
	switch {
	case e.Has(fsnotify.Create):
		info, err := os.Lstat(e.Name)
		b.folders = b.folders || err == nil && info.IsDir()
	case e.Has(fsnotify.Remove) || e.Has(fsnotify.Rename):
		b.folders = b.folders || filepath.Ext(e.Name) == "" || slices.Contains(w.notifier.WatchList(), e.Name)
	}
	b.paths[rel] = true
}

// trouble has everything looked at after an error: most often more happened than the system could
// queue.
func (w *watch) trouble(b *burst, err error) {
	if err == nil {
		return
	}
	b.all = true
	if !errors.Is(err, fsnotify.ErrEventOverflow) {
		w.lookInstead(err)
	}
}
