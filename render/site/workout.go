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
		s.workAfter(s.Topics[i])
		if opt.Progress != nil {
			opt.Progress(int(done.Add(1)), len(s.Topics))
		}
	})
}

// workAfter works a page out after those that it draws on. Pages that draw on one another
// are not resolved, so nobody waits for himself.
func (s *Site) workAfter(t *Topic) {
	t.working.Do(func() {
		if t.Resolved {
			for _, u := range t.Sheet.Uses {
				if to := s.byPath[u.Path]; to != nil {
					s.workAfter(to)
				}
			}
		}
		s.workTopic(t)
	})
}

// workTopic proves and binds a page that has been resolved, where all that it draws on holds.
func (s *Site) workTopic(t *Topic) {
	t.state.bare = false
	defer func() { t.state.wrong = !t.Resolved || t.list.Errors() > 0 }()
	if t.Sheet == nil {
		t.list = append(t.list, t.clash...)
		return
	}
	if t.Resolved && !s.inputs(t) {
		t.Resolved = false
	}
	if t.Resolved {
		proof, list := t.Sheet.Prove()
		t.Proof = proof
		t.list = append(t.list, list...)
	}
	s.bind(t)
	t.Resolved = t.Resolved && !t.state.leaning.Load() // its texts may call one as well
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

// Count counts the pages, their figures, and the verdicts on their checks.
func (s *Site) Count() (pages, figures, checks int) {
	for _, t := range s.Topics {
		if t.Sheet == nil {
			continue
		}
		pages++
		figures += len(t.Sheet.Figures)
		if t.Proof != nil {
			checks += len(t.Proof.Verdicts)
		}
	}
	return
}

// Behind lists the files that a page's numbers come from: its own, the pages that it draws
// on, near and far, and the data files of all of them.
func (s *Site) Behind(t *Topic) map[string]bool {
	files := map[string]bool{}
	var add func(t *Topic)
	add = func(t *Topic) {
		if t == nil || files[t.Path] {
			return
		}
		files[t.Path] = true
		if t.Sheet == nil {
			return
		}
		for _, d := range t.Sheet.Data {
			files[d.Path] = true
		}
		for _, u := range t.Sheet.Uses {
			add(s.byPath[u.Path])
		}
	}
	add(t)
	return files
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
