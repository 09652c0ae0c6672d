package build_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"labsite/recipes/page"
	"labsite/render/build"
)

// files is a target that keeps the site in memory.
type files struct {
	mu sync.Mutex
	of map[string][]byte
}

func (f *files) Put(address string, b []byte) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.of[address] = bytes.Clone(b)
	return nil
}

// Keep has no earlier site to take files from.
func (f *files) Keep(string, build.Digest) (bool, error) { return false, nil }

// A folder of one page is published into a map.
func ExampleSite_Publish() {
	dir, err := os.MkdirTemp("", "lab")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	text := "---\ntitle: Dilution\naudience: customers\n" +
		"given: {water: 900 ml, stock: 100 ml}\n" +
		"figures: {bath: {label: Bath, formula: water + stock}}\n---\n\nThe bath is {bath}.\n"
	if err := os.WriteFile(filepath.Join(dir, "index.md"), []byte(text), 0o666); err != nil {
		panic(err)
	}

	ctx := context.Background()
	site, list := build.Open(ctx, dir, build.Options{Day: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)})
	if site == nil {
		panic(list)
	}
	defer site.Close()
	to := &files{of: map[string][]byte{}}
	list, err = site.Publish(ctx, page.Customers, to)
	if err != nil || list.Errors() > 0 {
		panic(fmt.Sprint(err, list))
	}
	fmt.Println(bytes.Contains(to.of["index.html"], []byte("1000&nbsp;ml")))
	// Output: true
}
