package main

import (
	"errors"
	"slices"

	"labsite/recipes/source"
)

// mostTries is how often a command that reads the whole folder starts over because the folder
// changed meanwhile: a saved page passes, a program that writes all the time is reported.
const mostTries = 3

// errMoved says that the content folder changed while it was read.
var errMoved = errors.New("the content folder changed while it was read")

// moved reports whether a list says that the folder changed.
func moved(list source.List) bool {
	return slices.ContainsFunc(list, func(d source.Diagnostic) bool { return d.Code == source.FolderMoved(1).Code })
}

// untilStill calls work until the folder does not change while it is read; last tells work that it
// will not be called again.
func untilStill(work func(last bool) error) error {
	for n := 1; ; n++ {
		if err := work(n == mostTries); !errors.Is(err, errMoved) {
			return err
		}
	}
}
