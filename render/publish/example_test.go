package publish_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"labsite/render/publish"
)

// The second publish writes what changed, and leaves the rest.
func ExampleWrite() {
	parent, err := os.MkdirTemp("", "published")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(parent)
	dir := filepath.Join(parent, "public")
	site := publish.Files{"index.html": []byte("<p>The lab"), "wash/index.html": []byte("<p>10 min")}
	for range 2 {
		result, err := publish.Write(context.Background(), dir, site, publish.Options{})
		if err != nil {
			panic(err)
		}
		fmt.Println(result.Written, "written,", result.Kept, "kept")
		site["wash/index.html"] = []byte("<p>12 min")
	}
	// Output:
	// 2 written, 0 kept
	// 1 written, 1 kept
}
