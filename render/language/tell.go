package language

import (
	"encoding/json"
	"slices"
	"strings"
	"time"

	"labsite/recipes/source"
	"labsite/render/content"
)

// tellEvery is how often the editor is told of all files while many pages are made.
const tellEvery = 300 * time.Millisecond

// mark puts a page among those to report on first.
func (s *server) mark(at string) {
	s.mu.Lock()
	if !slices.Contains(s.dirty, at) {
		s.dirty = append(s.dirty, at)
	}
	s.mu.Unlock()
	s.work()
}

// work wakes the worker.
func (s *server) work() {
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// tell is the worker that reports: first on the pages being edited, then, while nobody types, on
// those that depend on them and on the rest of the folder.
func (s *server) tell() {
	defer s.worker.Done()
	for {
		select {
		case <-s.ctx.Done():
			return
		case <-s.wake:
		}
		s.tellPages()
		for last := time.Now(); s.ctx.Err() == nil; {
			left, _ := s.site.WorkOne()
			s.tellPages()
			if left == 0 {
				break
			}
			if time.Since(last) > tellEvery {
				s.tellAll()
				last = time.Now()
			}
		}
		s.tellAll()
		s.rest()
	}
}

// tellPages reports on the pages marked to come first.
func (s *server) tellPages() {
	s.mu.Lock()
	dirty := s.dirty
	s.dirty = nil
	s.mu.Unlock()
	for _, at := range dirty {
		versions := s.versions()
		if list, ok := s.site.PageDiagnostics(at); ok && s.ctx.Err() == nil {
			s.publish(at, append(only(list, at), s.site.Advice(at)...), versions)
		}
	}
}

// tellAll reports on every file about which there is something to say, or was.
func (s *server) tellAll() {
	versions := s.versions()
	by := map[string]source.List{}
	for _, d := range s.site.Diagnostics() {
		by[d.File] = append(by[d.File], d)
	}
	s.mu.Lock()
	for at := range s.told {
		if by[at] == nil {
			by[at] = nil
		}
	}
	s.mu.Unlock()
	for at, list := range by {
		if s.ctx.Err() == nil {
			s.publish(at, append(list, s.site.Advice(at)...), versions)
		}
	}
}

func only(list source.List, at string) (out source.List) {
	for _, d := range list {
		if d.File == at {
			out = append(out, d)
		}
	}
	return out
}

// versions are the versions of open files, taken before their diagnostics.
func (s *server) versions() map[string]int {
	<-s.turn
	defer func() { s.turn <- struct{}{} }()
	out := map[string]int{}
	for at, d := range s.open {
		out[at] = d.version
	}
	return out
}

// publish sends the diagnostics of a file, if they differ from what was sent last and the file has
// not changed since they were found.
func (s *server) publish(at string, list source.List, versions map[string]int) {
	p := publishParams{Diagnostics: []diagnostic{}}
	for _, d := range list.Sorted() {
		p.Diagnostics = append(p.Diagnostics, s.diagnostic(d))
	}
	<-s.turn
	for i, d := range p.Diagnostics {
		p.Diagnostics[i] = s.addressed(d)
	}
	p.URI = s.addressOf(at)
	version, was := versions[at]
	d, open := s.open[at]
	now := 0
	if open {
		now = d.version
	}
	s.turn <- struct{}{}
	if was != open || was && now != version {
		return // another report will follow
	}
	if was {
		p.Version = &version
	}
	raw, err := json.Marshal(p)
	if err != nil {
		return
	}
	sum := content.SumOf(string(raw))
	s.mu.Lock()
	last, before := s.told[at]
	same := before && last == sum || !before && len(p.Diagnostics) == 0 && p.Version == nil
	s.told[at] = sum
	if len(p.Diagnostics) == 0 && p.Version == nil {
		delete(s.told, at)
	}
	s.mu.Unlock()
	if !same {
		s.rpc.Notify(s.ctx, "textDocument/publishDiagnostics", json.RawMessage(raw))
	}
}

// diagnostic converts one to the protocol's form, with the hint below its message. Related places
// hold paths; see addressed.
func (s *server) diagnostic(d source.Diagnostic) diagnostic {
	out := diagnostic{Range: rangeOfDiagnostic(d), Severity: severityError, Code: d.Code, Source: "labsite", Message: d.Message}
	switch d.Severity {
	case source.Report:
		out.Severity = severityWarning
	case source.Advice:
		out.Severity = severityInformation
	}
	if d.Hint != "" {
		out.Message = strings.TrimRight(d.Message, ".") + ".\n" + d.Hint
	}
	if s.relating && len(d.Related()) > 0 {
		s.look(func(l *lookup) { out.Related = l.related(d) })
	}
	return out
}
