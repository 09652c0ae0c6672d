package language

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"labsite/recipes/guard"
	"labsite/recipes/page"
	"labsite/recipes/source"
)

// guarded says how well the checks of an open page guard it: the page as a whole, and each figure
// by its name. The last outcome stays while somebody types, until there is a new one, so that
// lenses do not come and go with each keystroke.
type guarded struct {
	page    string
	figures map[string]string
}

// guards is the worker that changes open pages on purpose while nobody types. A change of any text
// cuts it short.
func (s *server) guards() {
	defer s.worker.Done()
	for {
		select {
		case <-s.ctx.Done():
			return
		case <-s.idle:
		}
		ctx, stop := context.WithCancel(s.ctx)
		s.mu.Lock()
		s.unguard = stop
		waiting := len(s.dirty) > 0
		s.mu.Unlock()
		news := false
		for _, at := range s.openPages() {
			if waiting || ctx.Err() != nil {
				break
			}
			s.site.TryGuards(ctx, at)
			news = s.learn(at) || news
		}
		stop()
		if news && s.refresh {
			s.rpc.Callback(s.ctx, "workspace/codeLens/refresh", nil)
		}
	}
}

// rest wakes the worker of guards; disturb cuts it short.
func (s *server) rest() {
	select {
	case s.idle <- struct{}{}:
	default:
	}
}

func (s *server) disturb() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.unguard != nil {
		s.unguard()
	}
}

// openPages lists the pages that are open, by path.
func (s *server) openPages() (out []string) {
	<-s.turn
	defer func() { s.turn <- struct{}{} }()
	for at := range s.open {
		if strings.HasSuffix(at, ".md") {
			out = append(out, at)
		}
	}
	slices.Sort(out)
	return out
}

// learn notes what is known of a page's guards, and reports whether that is new.
func (s *server) learn(at string) bool {
	all, ok := s.site.Outcomes(at)
	if !ok {
		return false
	}
	now := guarded{figures: map[string]string{}}
	if now.page = tally(all); now.page != "" {
		now.figures = byFigure(all)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	before := s.known[at]
	s.known[at] = now
	return before.page != now.page || fmt.Sprint(before.figures) != fmt.Sprint(now.figures)
}

// tally counts the outcomes that matter; "" if there are none.
func tally(all []guard.Outcome) string {
	noticed, counted := 0, 0
	for _, o := range all {
		if o.Noticed {
			noticed++
		}
		if !o.Equal {
			counted++
		}
	}
	if counted == 0 {
		return ""
	}
	return fmt.Sprintf("guarded %d of %d", noticed, counted)
}

// byFigure counts, for each figure, the outcomes of changes to its own lines.
func byFigure(all []guard.Outcome) map[string]string {
	out := map[string]string{}
	var file *source.File
	for _, o := range all {
		if o.Span.File != nil && strings.HasSuffix(o.Span.File.Path, ".md") {
			file = o.Span.File
			break
		}
	}
	if file == nil {
		return out
	}
	r := read(file)
	if r.front == nil {
		return out
	}
	figures := r.front.Get("figures")
	if figures == nil {
		return out
	}
	for i, key := range figures.Keys {
		end := ending(figures.Items[i], key.Span.End)
		own := slices.DeleteFunc(slices.Clone(all), func(o guard.Outcome) bool {
			return o.Span.File == nil || o.Span.File.Path != file.Path || o.Span.Start < key.Span.Start || o.Span.Start >= end
		})
		if text := tally(own); text != "" {
			out[key.Text] = text
		}
	}
	return out
}

// guardedBy says how well a figure is guarded: how many changes its checks notice, or as long as
// that is unknown, how many checks there are.
func (s *server) guardedBy(at string, checks int, f *page.Figure) string {
	s.mu.Lock()
	known := s.known[at].figures[f.Name]
	s.mu.Unlock()
	switch {
	case known != "":
		return known
	case checks == 0:
		return "guarded by no check"
	case checks == 1:
		return "guarded by 1 check"
	}
	return fmt.Sprintf("guarded by %d checks", checks)
}
