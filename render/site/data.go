package site

import (
	"io"
	"strings"
	"sync"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// tables are the data files that pages name, each read once.
type tables struct {
	mu   sync.Mutex
	read map[string]*sheet.Table
	list source.List
}

// Table reads a data file of the content folder; see sheet.Library.
func (s *Site) Table(path string) (*sheet.Table, bool) {
	if !s.files[path] {
		return nil, false
	}
	s.tables.mu.Lock()
	defer s.tables.mu.Unlock()
	if t, ok := s.tables.read[path]; ok {
		return t, true
	}
	if s.tables.read == nil {
		s.tables.read = map[string]*sheet.Table{}
	}
	t, list := s.readTable(path)
	s.tables.read[path] = t
	s.tables.list = append(s.tables.list, list...)
	return t, true
}

func (s *Site) readTable(path string) (*sheet.Table, source.List) {
	f, err := s.content.Open(path)
	if err != nil {
		return nil, source.List{source.CannotRead(systemError(err)).AtFile(path)}
	}
	defer f.Close()
	raw, err := io.ReadAll(io.LimitReader(f, sheet.MostDataBytes+1))
	if err != nil {
		return nil, source.List{source.CannotRead(systemError(err)).AtFile(path)}
	}
	if len(raw) > sheet.MostDataBytes {
		return nil, source.List{source.DataTooLarge().AtFile(path)}
	}
	file, list := source.New(path, raw)
	if list.Errors() > 0 {
		return nil, list
	}
	return sheet.ReadTable(file)
}

// Files lists the data files of the content folder; see sheet.Library.
func (s *Site) Files() []string {
	var out []string
	for p := range s.files {
		if strings.HasSuffix(p, ".csv") {
			out = append(out, p)
		}
	}
	return out
}
