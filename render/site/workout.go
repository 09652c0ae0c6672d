package site

import (
	"context"
	"io/fs"
	"path"
	"sync/atomic"

	"labsite/recipes/source"
)

// workOut resolves, proves and binds every page.
func (s *Site) workOut(ctx context.Context, opt Options) {
	var done atomic.Int64
	s.resolve(ctx)
	each(ctx, len(s.Topics), func(i int) {
		s.workTopic(s.Topics[i])
		if opt.Progress != nil {
			opt.Progress(int(done.Add(1)), len(s.Topics))
		}
	})
}

// workTopic proves and binds a page that has been resolved.
func (s *Site) workTopic(t *Topic) {
	if t.Sheet == nil {
		t.list = append(t.list, t.clash...)
		return
	}
	if t.Resolved {
		proof, list := t.Sheet.Prove()
		t.Proof = proof
		t.list = append(t.list, list...)
	}
	s.bind(t)
	s.substances(t)
	s.reviews(t)
}

func (s *Site) loadTheme() {
	var own fs.FS
	if s.Settings.Theme != "" {
		clean := path.Clean(s.Settings.Theme)
		sub, err := fs.Sub(s.content, clean)
		if err == nil {
			_, err = fs.Stat(s.content, clean)
		}
		if err != nil {
			s.report(source.LinkNowhere(s.Settings.Theme, "").AtFile("labsite.yaml"))
		} else {
			own = sub
		}
	}
	templates, list := LoadTemplates(own, s.Settings.Theme)
	if templates != nil || s.templates == nil {
		s.templates = templates // else the last that was right goes on
	}
	s.List = append(s.List, list...)
}

// Errors counts the errors of the whole site.
func (s *Site) Errors() int { return s.List.Errors() }

// Figures counts the figures of pages that were worked out, Checks the verdicts, Cases the
// cases tried.
func (s *Site) Count() (pages, figures, checks, cases int) {
	for _, t := range s.Topics {
		if t.Sheet == nil {
			continue
		}
		pages++
		figures += len(t.Sheet.Figures)
		if t.Proof != nil {
			checks += len(t.Proof.Verdicts)
			cases += t.Proof.Cases
		}
	}
	return
}

// Find gives a page by its path, or by its file name alone where that is clear; the
// second result lists the candidates where it is not.
func (s *Site) Find(name string) (*Topic, []string) {
	clean := path.Clean(name)
	for _, p := range []string{clean, clean + ".md"} {
		if t, ok := s.byPath[p]; ok {
			return t, nil
		}
	}
	var hits []*Topic
	var paths []string
	for _, t := range s.Topics {
		base := path.Base(t.Path)
		if base == clean || base == clean+".md" {
			hits = append(hits, t)
			paths = append(paths, t.Path)
		}
	}
	if len(hits) == 1 {
		return hits[0], nil
	}
	if len(hits) == 0 {
		var all []string
		for _, t := range s.Topics {
			all = append(all, t.Path, path.Base(t.Path[:len(t.Path)-3]))
		}
		if near := source.Nearest(clean, all); near != "" {
			return nil, []string{near}
		}
	}
	return nil, paths
}
