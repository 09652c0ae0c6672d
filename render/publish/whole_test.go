package publish

import (
	"context"
	"maps"
	"slices"
)

// Files is a site: paths with forward slashes, relative to the folder, and the bytes of each
// file.
type Files map[string][]byte

// Write publishes a site that is held in memory.
func Write(ctx context.Context, dir string, files Files, opt Options) (Result, error) {
	s, err := Begin(ctx, dir, opt)
	if err != nil {
		return Result{}, err
	}
	defer s.Abandon()
	names := slices.Sorted(maps.Keys(files))
	if err := each(ctx, len(names), func(i int) error { return s.Put(names[i], files[names[i]]) }); err != nil {
		return Result{}, s.orEnded(err)
	}
	return s.Finish()
}
