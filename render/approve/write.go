package approve

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"strings"
	"time"

	"labsite/recipes/approval"
	"labsite/render/durable"
)

// Write writes a record into a content folder, whole or not at all, and returns its path there. It
// never overwrites a record: what was approved stays.
func Write(dir string, r *approval.Record) (string, error) {
	raw, err := approval.Encode(r)
	if err != nil {
		return "", err
	}
	if len(raw) > approval.MostBytes {
		return "", refuse("the record would be %d MB; a record holds at most %d MB, including the page's data", len(raw)>>20, approval.MostBytes>>20)
	}
	root, err := os.OpenRoot(dir) // so that no link in it can lead a write elsewhere
	if err != nil {
		return "", err
	}
	defer root.Close()
	w := &writer{root: root, at: approval.Path(r.Number, r.Revision)}
	return w.at, w.write(raw)
}

// writer writes one record.
type writer struct {
	root *os.Root
	at   string
	made []string // folders that were missing, the outermost first
	step func(string)
}

func (w *writer) did(step string) {
	if w.step != nil {
		w.step(step)
	}
}

// write writes the record under a name that nobody reads, then gives it its own in one step, which
// fails if the name is taken: two who approve at once cannot both succeed.
func (w *writer) write(raw []byte) (err error) {
	defer func() {
		if err != nil {
			for i := len(w.made) - 1; i >= 0; i-- {
				w.root.Remove(w.made[i]) // fails, as it should, if somebody else has put a file into it
			}
		}
	}()
	if err := w.folders(path.Dir(w.at)); err != nil {
		return err
	}
	w.clear()
	begun := path.Join(path.Dir(w.at), "."+path.Base(w.at)+"-"+durable.Random())
	if err := durable.Begin(w.root, begun, raw, 0o644, w.step); err != nil {
		w.root.Remove(begun)
		return err
	}
	w.did("written")
	err = w.root.Link(begun, w.at)
	if err != nil && !errors.Is(err, fs.ErrExist) { // a disk without links
		if _, there := w.root.Lstat(w.at); errors.Is(there, fs.ErrNotExist) {
			err = w.root.Rename(begun, w.at)
		}
	}
	w.did("named")
	w.root.Remove(begun)
	if errors.Is(err, fs.ErrExist) {
		return refuse("%s already exists; nothing was written", w.at)
	}
	if err == nil {
		durable.Settle(w.root, path.Dir(w.at))
	}
	return err
}

// folders makes a folder and those above it, and notes which were missing.
func (w *writer) folders(dir string) error {
	at := ""
	for part := range strings.SplitSeq(dir, "/") {
		at = path.Join(at, part)
		switch err := w.root.Mkdir(at, 0o755); {
		case err == nil:
			w.made = append(w.made, at)
		case !errors.Is(err, fs.ErrExist):
			return err
		default:
			if info, err := w.root.Stat(at); err != nil || !info.IsDir() {
				return fmt.Errorf("%s is not a folder, so no record can be written there", at)
			}
		}
	}
	return nil
}

// leftAfter is how old a file of an interrupted approval must be before the next one removes it.
const leftAfter = time.Hour

// clear removes what interrupted approvals left behind. Nobody reads those files.
func (w *writer) clear() {
	durable.Clear(w.root, path.Dir(w.at), func(f fs.FileInfo) bool {
		return strings.HasPrefix(f.Name(), ".") && strings.Contains(f.Name(), ".json-") && time.Since(f.ModTime()) > leftAfter
	})
}
