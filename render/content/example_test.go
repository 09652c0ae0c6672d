package content_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"labsite/render/content"
)

// Open reads a folder; its pages are listed with their addresses on the site.
func ExampleOpen() {
	dir, err := os.MkdirTemp("", "lab")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(dir)
	page := "---\ntitle: Washing film\naudience: customers\n---\n\nWash it well.\n"
	if err := os.WriteFile(filepath.Join(dir, "wash.md"), []byte(page), 0o666); err != nil {
		panic(err)
	}

	c, list := content.Open(context.Background(), dir, content.Options{Day: time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC)})
	if c == nil {
		panic(list)
	}
	defer c.Close()
	for _, p := range c.Pages {
		fmt.Println(p.Title(), "is at", p.Address())
	}
	// Output: Washing film is at wash.html
}
