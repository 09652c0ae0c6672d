package source

import (
	"sort"
	"strings"
	"sync"
	"unicode/utf8"
)

// File is one text with a name. Its text has LF line ends and no byte-order
// mark, whatever the disk held, so that an offset means the same at every stage.
type File struct {
	// Path is relative to the content folder, with forward slashes.
	Path string
	// Text is the normalised text. Offsets of spans are bytes into it.
	Text string

	starts []int // offset of each line's first byte

	// counts are the numbers of characters before each stretch of the text, for columns in
	// long lines: a line of a megabyte may hold ten thousand mistakes.
	counting sync.Once
	counts   []int
}

// stretch is the most bytes of a line that are counted each time a column is looked up.
const stretch = 1 << 10

// New normalises raw bytes into a File. Text that is not UTF-8 or holds control
// characters other than tab and line ends is reported, the first of each kind;
// in the file returned those bytes are replaced by U+FFFD, so that later
// positions still agree with what an editor shows.
func New(path string, raw []byte) (*File, List) {
	var list List
	text := string(raw)
	text = strings.TrimPrefix(text, "\ufeff")
	if strings.IndexByte(text, '\r') >= 0 {
		text = strings.ReplaceAll(text, "\r\n", "\n")
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	badByte := -1
	if !utf8.ValidString(text) {
		for i := 0; i < len(text); {
			r, n := utf8.DecodeRuneInString(text[i:])
			if r == utf8.RuneError && n <= 1 {
				badByte = i
				break
			}
			i += n
		}
		text = strings.ToValidUTF8(text, "\ufffd")
	}
	f := &File{Path: path, Text: text, starts: lineStarts(text)}
	if badByte >= 0 {
		list = append(list, NotUTF8().At(f.Span(badByte, badByte+1)))
	}
	if i := forbiddenAt(text); i >= 0 {
		r, n := utf8.DecodeRuneInString(text[i:])
		list = append(list, ControlCharacter(r).At(f.Span(i, i+n)))
		text = strings.Map(func(r rune) rune {
			if forbidden(r) {
				return '\ufffd'
			}
			return r
		}, text)
		// A new File: the one above may have cached its character counts to place the report.
		f = &File{Path: path, Text: text, starts: lineStarts(text)}
	}
	return f, list
}

func forbidden(r rune) bool {
	return r < ' ' && r != '\t' && r != '\n' || r == 0x7f
}

// forbiddenAt is the offset of the first forbidden character, or -1. All of them are one byte.
func forbiddenAt(text string) int {
	for i := range len(text) {
		if c := text[i]; (c < ' ' || c == 0x7f) && forbidden(rune(c)) {
			return i
		}
	}
	return -1
}

func lineStarts(text string) []int {
	starts := make([]int, 1, 1+strings.Count(text, "\n"))
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// Place turns an offset into a line and a column, both from 1; the column
// counts characters. Offsets outside the text are moved to its nearest end.
func (f *File) Place(offset int) (line, column int) {
	offset = min(max(offset, 0), len(f.Text))
	starts := f.starts
	i := sort.Search(len(starts), func(i int) bool { return starts[i] > offset }) - 1
	if offset-starts[i] > stretch {
		f.counting.Do(f.count)
		return i + 1, f.characters(offset) - f.characters(starts[i]) + 1
	}
	return i + 1, utf8.RuneCountInString(f.Text[starts[i]:offset]) + 1
}

// count fills counts.
func (f *File) count() {
	f.counts = make([]int, 0, len(f.Text)/stretch+1)
	n := 0
	for from := 0; from <= len(f.Text); from += stretch {
		f.counts = append(f.counts, n)
		n += beginnings(f.Text[from:min(from+stretch, len(f.Text))])
	}
}

// characters is how many characters begin before an offset.
func (f *File) characters(offset int) int {
	i := offset / stretch
	return f.counts[i] + beginnings(f.Text[i*stretch:offset])
}

// beginnings counts the bytes that begin a character, in a part of a text that may start or end
// inside one.
func beginnings(part string) (n int) {
	for i := range len(part) {
		if part[i]&0xc0 != 0x80 {
			n++
		}
	}
	return n
}

// Line gives the text of a line, counted from 1, without its line end.
func (f *File) Line(n int) string {
	starts := f.starts
	if n < 1 || n > len(starts) {
		return ""
	}
	end := len(f.Text)
	if n < len(starts) {
		end = starts[n] - 1
	}
	return f.Text[starts[n-1]:end]
}

// Lines is the number of lines; an empty file has one.
func (f *File) Lines() int { return len(f.starts) }

// Offset is the offset of the first byte of a line, counted from 1.
func (f *File) Offset(line int) int {
	starts := f.starts
	return starts[min(max(line, 1), len(starts))-1]
}

// Span marks a part of the file by byte offsets.
func (f *File) Span(start, end int) Span { return Span{File: f, Start: start, End: end} }

// Span is a part of a file, from Start up to but not including End, in bytes.
type Span struct {
	File       *File
	Start, End int
}

// Holds reports whether a diagnostic points into the span.
func (s Span) Holds(d Diagnostic) bool {
	if s.File == nil || d.File != s.File.Path {
		return false
	}
	line, column := s.File.Place(s.Start)
	last, end := s.File.Place(s.End)
	return (d.Line > line || d.Line == line && d.Column >= column) && (d.Line < last || d.Line == last && d.Column < end)
}

// Text is what the span covers.
func (s Span) Text() string {
	if s.File == nil {
		return ""
	}
	start := min(max(s.Start, 0), len(s.File.Text))
	end := min(max(s.End, start), len(s.File.Text))
	return s.File.Text[start:end]
}

// Sub is a part of the span, by offsets from its start.
func (s Span) Sub(start, end int) Span {
	return Span{File: s.File, Start: s.Start + start, End: s.Start + end}
}
