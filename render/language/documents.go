package language

import (
	"labsite/recipes/source"
)

// document is a file that is open in the editor.
type document struct {
	uri     string // as the editor writes it
	path    string
	version int
	text    string  // with the editor's line ends
	names   []named // what the page named when it could last be read; see complete.go
}

// mostOpen is how many files an editor may have open, mostText how many bytes their texts may
// have together.
const (
	mostOpen = 2000
	mostText = 256 << 20
)

func (s *server) didOpen(p openParams) (any, error) {
	at, ok := s.folder.within(p.TextDocument.URI)
	if !ok || len(s.open) >= mostOpen || s.textBytes()+len(p.TextDocument.Text) > mostText {
		return nil, nil
	}
	s.open[at] = &document{uri: p.TextDocument.URI, path: at, version: p.TextDocument.Version, text: p.TextDocument.Text}
	s.put(at)
	return nil, nil
}

func (s *server) textBytes() (n int) {
	for _, d := range s.open {
		n += len(d.text)
	}
	return n
}

// didChange applies changes, each to a part of the text or to all of it.
func (s *server) didChange(p changeParams) (any, error) {
	d := s.documentAt(p.TextDocument.URI)
	if d == nil {
		return nil, nil
	}
	for _, c := range p.ContentChanges {
		text := c.Text
		if c.Range != nil {
			text = spliced(d.text, *c.Range, c.Text)
		}
		if len(text) > mostMessage {
			return nil, nil
		}
		d.text = text
	}
	if p.TextDocument.Version != nil {
		d.version = *p.TextDocument.Version
	}
	s.put(d.path)
	return nil, nil
}

// put gives the site the text of an open file, or the file's own once it is closed.
func (s *server) put(at string) {
	var text []byte
	if d := s.open[at]; d != nil {
		text = append(make([]byte, 0, len(d.text)+1), d.text...)
	}
	s.disturb()
	s.site.Write(map[string][]byte{at: text})
	s.mark(at)
}

func (s *server) didSave(p documentParams) (any, error) {
	if at, ok := s.folder.within(p.TextDocument.URI); ok {
		s.site.Update([]string{at})
		s.mark(at)
	}
	return nil, nil
}

func (s *server) didClose(p documentParams) (any, error) {
	if d := s.documentAt(p.TextDocument.URI); d != nil {
		delete(s.open, d.path)
		s.mu.Lock()
		delete(s.known, d.path)
		s.mu.Unlock()
		s.put(d.path)
	}
	return nil, nil
}

func (s *server) didChangeWatchedFiles(p watchedParams) (any, error) {
	var paths []string
	for _, c := range p.Changes {
		if at, ok := s.folder.within(c.URI); ok {
			paths = append(paths, at)
		}
	}
	if len(paths) > 0 {
		s.site.Update(paths)
		s.work()
	}
	return nil, nil
}

// documentAt finds an open file by its address; nil if it is not open or not in the lab's folder.
func (s *server) documentAt(uri string) *document {
	at, ok := s.folder.within(uri)
	if !ok {
		return nil
	}
	return s.open[at]
}

// addressOf is the address of a file, as the editor writes it if it has the file open.
func (s *server) addressOf(at string) string {
	if d := s.open[at]; d != nil {
		return d.uri
	}
	return s.folder.address(at)
}

// spliced replaces a part of a text. Positions are in the editor's own text, whose lines end in LF,
// CR LF or CR.
func spliced(text string, at textRange, with string) string {
	start := editorOffset(text, at.Start)
	end := max(start, editorOffset(text, at.End))
	return text[:start] + with + text[end:]
}

// editorOffset is offsetOf for a text with the editor's line ends.
func editorOffset(text string, p position) int {
	at := 0
	for line := 0; line < p.Line; line++ {
		next := lineEnd(text[at:])
		if next < 0 {
			return len(text)
		}
		at += next
		if text[at] == '\r' && at+1 < len(text) && text[at+1] == '\n' {
			at++
		}
		at++
	}
	line := text[at:]
	if end := lineEnd(line); end >= 0 {
		line = line[:end]
	}
	f, _ := source.New("", []byte(line))
	if f.Text != line { // it holds what no text may, so its offsets would be off
		return at + min(len(line), p.Character)
	}
	return at + offsetOf(f, position{0, p.Character})
}

func lineEnd(text string) int {
	for i := range len(text) {
		if text[i] == '\n' || text[i] == '\r' {
			return i
		}
	}
	return -1
}
