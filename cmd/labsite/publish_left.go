package main

import (
	"fmt"

	"labsite/render/publish"
)

// leftBehind says what a publish did not remove, because it is somebody else's, and where it is.
func (s *screen) leftBehind(to string, r publish.Result) {
	for _, dir := range r.Left {
		fmt.Fprintf(s.err, "labsite: a publish left %s next to %s; it was not removed because it has files that publish did not write. "+
			"Move out what you need, and delete it.\n", dir, to)
	}
	for _, name := range r.Returned {
		fmt.Fprintf(s.err, "labsite: %s was put into %s while the site was published. It is still there; move it elsewhere, or the next publish will refuse.\n", name, to)
	}
}

// asList copies names so that the list is never null in JSON.
func asList(names []string) []string { return append([]string{}, names...) }
