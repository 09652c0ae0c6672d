package regular

import (
	"errors"
	"io/fs"
	"path"

	"labsite/recipes/source"
)

// Problem says why a file could not be read, in words for whoever wrote it.
func Problem(name string, err error) source.Problem {
	var kind *NotRegular
	var large *TooLarge
	var system *fs.PathError
	switch {
	case errors.As(err, &kind):
		return source.NotAFile(kind.What)
	case errors.As(err, &large):
		return source.FileTooLarge(path.Base(name), large.Size, large.Most)
	case errors.As(err, &system):
		return source.CannotRead(system.Err.Error())
	}
	return source.CannotRead(err.Error())
}
