package script

import (
	"io/fs"
	"os"
	"path"
	"strings"
	"sync"
	"testing"
	"time"

	"labsite/recipes/formulary"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// folder is a content folder, read without package content.
type folder struct {
	t      testing.TB
	pages  map[string]*source.File
	tables map[string]*page.Table
	sheets map[string]*page.Sheet
	broken map[string]source.List
	order  []string
}

func readFolder(t testing.TB, dir fs.FS) *folder {
	t.Helper()
	f := &folder{t: t, pages: map[string]*source.File{}, tables: map[string]*page.Table{}, sheets: map[string]*page.Sheet{}, broken: map[string]source.List{}}
	err := fs.WalkDir(dir, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		raw, err := fs.ReadFile(dir, name)
		if err != nil {
			return err
		}
		file, _ := source.New(name, raw)
		switch path.Ext(name) {
		case ".md":
			f.pages[name] = file
			f.order = append(f.order, name)
		case ".csv":
			f.tables[name], _ = page.ReadTable(file)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range f.order {
		f.resolve(name)
	}
	return f
}

func (f *folder) Table(name string) (*page.Table, bool) {
	t, ok := f.tables[name]
	return t, ok
}

func (f *folder) Files() []string { return nil }

// Today is the same day that the runtime takes for today in these tests.
func (f *folder) Today() float64 {
	y, m, d := time.Now().Date()
	return float64(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix())
}

// resolve reads a page after those that it draws on. Errors in anything that is not in a script are
// ignored.
func (f *folder) resolve(name string) *page.Sheet {
	if s, ok := f.sheets[name]; ok {
		return s
	}
	f.sheets[name] = nil
	s, list := page.Decode(f.pages[name], f)
	if s == nil {
		f.broken[name] = list
		return nil
	}
	world := page.World{Trades: formulary.Load(), Page: func(p string) (*page.Sheet, source.Problem, bool) {
		if f.pages[p] == nil {
			return nil, source.LinkNowhere(p, ""), false
		}
		to := f.resolve(p)
		return to, source.Problem{}, to != nil
	}}
	list = append(list, s.ResolveIn(world)...)
	if list.Errors() > 0 {
		f.broken[name] = list
		return nil
	}
	f.sheets[name] = s
	return s
}

// demo is the demo's pages, read once for all tests, which must not change them.
func demo(t testing.TB) *folder {
	t.Helper()
	readDemo.Do(func() { theDemo = readFolder(t, os.DirFS("../../content")) })
	if theDemo == nil {
		t.Fatal("the demo could not be read")
	}
	return theDemo
}

var (
	readDemo sync.Once
	theDemo  *folder
)

// pageOf reads one page from its front matter, with other files beside it.
func pageOf(t testing.TB, front string, files ...string) *page.Sheet {
	t.Helper()
	s, list := pageOrList(t, front, files...)
	if list.Errors() > 0 {
		for _, d := range list {
			t.Error(d.String())
		}
		t.FailNow()
	}
	return s
}

func pageOrList(t testing.TB, front string, files ...string) (*page.Sheet, source.List) {
	t.Helper()
	dir := memory{"page.md": "---\ntitle: Trial\naudience: staff\n" + strings.TrimSpace(front) + "\n---\n"}
	for i := 0; i+1 < len(files); i += 2 {
		dir[files[i]] = files[i+1]
	}
	f := readFolder(t, dir.fs())
	var list source.List
	for _, name := range f.order {
		list = append(list, f.broken[name]...)
	}
	return f.sheets["page.md"], list
}
