package preview

import (
	"embed"
	"sync"
)

// liveParts are the parts of the script of an open page, in the order in which they are joined.
var liveParts = []string{
	"heard", "parts", "errors", "margin", "panel", "save", "number", "bar",
	"change", "place", "scripts", "take-in", "files", "listen",
}

//go:embed live/*.js
var liveFiles embed.FS

// liveJS is the script of an open page: it takes over what changed without losing the reader's
// place, and shows what is wrong, what to look at, and which numbers a save changed. The parts
// share their outer names; one function around them all hides those from other scripts.
//
// All that it adds is in one element with a shadow root, so that the lab's theme does not style it
// and it does not style the lab's page.
var liveJS = sync.OnceValue(func() []byte {
	out := []byte("(function () {\n'use strict';\n")
	for _, part := range liveParts {
		b, err := liveFiles.ReadFile("live/" + part + ".js")
		if err != nil {
			panic(err) // cannot happen: a test joins them
		}
		out = append(append(out, b...), '\n')
	}
	return append(out, "})();\n"...)
})
