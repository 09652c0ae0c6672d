package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/content"
)

// fromEarlier says what a site, which may be nil, took from earlier runs.
func fromEarlier(st *build.Site) build.Reuse {
	if st == nil {
		return build.Reuse{}
	}
	return st.Remembered()
}

// open reads a content folder as of a day, which dayOf reads. With keep, results of earlier runs
// are taken from the user's cache folder, and new ones kept there for the next.
func (s *screen) open(ctx context.Context, from, on string, keep bool, progress func(done, total int)) (*build.Site, source.List, error) {
	s.from = from
	day, err := dayOf(on)
	if err != nil {
		return nil, nil, err
	}
	opt := build.Options{Day: day, Progress: progress}
	if s.progress != nil {
		opt.Progress = s.progress
	}
	if keep {
		opt.Store = build.OpenStore("", from)
	}
	var st *build.Site
	var list source.List
	if err := whileWanted(ctx, func() { st, list = build.Open(ctx, from, opt) }); err != nil {
		return nil, nil, err
	}
	return st, list, nil
}

// openFor opens a folder for a command that looks at single pages: no theme is read and nothing is
// written. on is a day as dayOf reads it. If the folder cannot be read at all, the command ends
// with the error; otherwise the caller closes the site.
func (s *screen) openFor(ctx context.Context, from, on string) (*build.Site, error) {
	giveRoom()
	s.from = from
	day, err := dayOf(on)
	if err != nil {
		return nil, err
	}
	var st *build.Site
	var list source.List
	if err := whileWanted(ctx, func() {
		if st, list = build.Open(ctx, from, build.Options{Day: day, Unwritten: true, Store: build.OpenStore("", from)}); st != nil {
			st.Recall()
		}
	}); err != nil {
		return nil, err
	}
	if st == nil {
		return nil, s.refused(list, "")
	}
	return st, nil
}

// pageNamed finds a page by its path, or by its file name alone if only one page has it.
func (s *screen) pageNamed(st *build.Site, name string) (*content.Page, error) {
	p, near := st.Find(name)
	if here := st.Content.Page(s.fromHere(name)); here != nil {
		p = here
	}
	switch {
	case p != nil:
		return p, nil
	case len(near) > 1:
		return nil, fmt.Errorf("%s could be any of %s; give the path", name, strings.Join(near, ", "))
	case len(near) == 1:
		return nil, fmt.Errorf("there is no page %s; did you mean %s?", name, near[0])
	}
	return nil, fmt.Errorf("there is no page %s in %s", name, s.from)
}

// fromHere is the path within the content folder of a page that somebody names by its path from the
// current folder; "" if that is no file of the content folder.
func (s *screen) fromHere(name string) string {
	for _, file := range []string{name, name + ".md"} {
		full, err := filepath.Abs(file)
		if err != nil || !isFile(full) {
			continue
		}
		if top, err := filepath.Abs(s.from); err == nil {
			if rel, err := filepath.Rel(top, full); err == nil && filepath.IsLocal(rel) {
				return filepath.ToSlash(rel)
			}
		}
	}
	return ""
}
