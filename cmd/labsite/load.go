package main

import (
	"context"
	"time"

	"labsite/recipes/source"
	"labsite/render/site"
)

// load reads and works out a content folder, with a bar on a terminal when it takes long.
func (s *screen) load(ctx context.Context, from string) (*site.Site, source.List, error) {
	s.from = from
	bar := s.bar("working out pages")
	defer bar.done()
	st, list := site.Load(ctx, from, site.Options{Today: time.Now(), Progress: bar.at})
	if ctx.Err() != nil {
		return nil, nil, ctx.Err()
	}
	return st, list, nil
}
