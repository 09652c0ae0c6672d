package publish_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"labsite/render/publish"
)

// The second publish writes what changed, and leaves the rest.
func ExampleBegin() {
	parent, err := os.MkdirTemp("", "published")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(parent)
	dir := filepath.Join(parent, "public")
	for _, wash := range []string{"<p>10 min", "<p>12 min"} {
		staged, err := publish.Begin(context.Background(), dir, publish.Options{})
		if err == nil {
			defer staged.Abandon()
			err = errors.Join(staged.Put("index.html", []byte("<p>The lab")), staged.Put("wash/index.html", []byte(wash)))
		}
		if err != nil {
			panic(err)
		}
		result, err := staged.Finish()
		if err != nil {
			panic(err)
		}
		fmt.Println(result.Written, "written,", result.Kept, "kept")
	}
	// Output:
	// 2 written, 0 kept
	// 1 written, 1 kept
}
