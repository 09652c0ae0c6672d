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
	read map[string]readTable
}

type readTable struct {
	table *sheet.Table
	list  source.List
}

// lists says what is wrong with the data files, or with those alone that are in use.
func (t *tables) lists(used func(path string) bool) source.List {
	t.mu.Lock()
	defer t.mu.Unlock()
	var out source.List
	for p, r := range t.read {
		if used == nil || used(p) {
			out = append(out, r.list...)
		}
	}
	return out
}

// Table reads a data file of the content folder; see sheet.Library.
func (s *Site) Table(path string) (*sheet.Table, bool) {
	if !s.files[path] {
		return nil, false
	}
	s.tables.mu.Lock()
	defer s.tables.mu.Unlock()
	if t, ok := s.tables.read[path]; ok {
		return t.table, true
	}
	if s.tables.read == nil {
		s.tables.read = map[string]readTable{}
	}
	t, list := s.readTable(path)
	s.tables.read[path] = readTable{t, list}
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
