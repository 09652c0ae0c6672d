package preview

import (
	"embed"
	"sync"
)

// liveParts are the parts of the script of an open page, a file an idea, in the order in which
// they are joined.
var liveParts = []string{
	"heard", "parts", "errors", "margin", "panel", "save", "number", "bar",
	"change", "place", "scripts", "take-in", "files", "listen",
}

//go:embed live/*.js
var liveFiles embed.FS

// liveJS is what an open page of the preview does beside being read: it takes in what changed
// without losing its place, and it shows what is wrong, what is to be looked at, and what a
// save changed in numbers. The parts share the names outside their functions, in a function
// that keeps them from other scripts.
//
// Everything of its own is in one element with a shadow root, so that the lab's theme does
// not reach it and it does not reach the lab's page.
var liveJS = sync.OnceValue(func() []byte {
	out := []byte("(function () {\n'use strict';\n")
	for _, part := range liveParts {
		b, err := liveFiles.ReadFile("live/" + part + ".js")
		if err != nil {
			panic(err) // a test joins them, so nobody meets this
		}
		out = append(append(out, b...), '\n')
	}
	return append(out, "})();\n"...)
})
