package main

import (
	"errors"
	"slices"

	"labsite/recipes/source"
)

// mostTries is how often a command that reads the whole folder begins where the folder changes
// meanwhile: somebody saves a page once, while what writes all the time is told.
const mostTries = 3

// errMoved says that the content folder changed while it was read.
var errMoved = errors.New("the content folder changed while it was read")

// moved tells whether a list says so.
func moved(list source.List) bool {
	return slices.ContainsFunc(list, func(d source.Diagnostic) bool { return d.Code == source.FolderMoved(1).Code })
}

// untilStill calls work until the folder holds still while it is read; work is told when it is
// called for the last time.
func untilStill(work func(last bool) error) error {
	for n := 1; ; n++ {
		if err := work(n == mostTries); !errors.Is(err, errMoved) {
			return err
		}
	}
}
