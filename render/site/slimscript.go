package site

import (
	"bytes"
	"strings"
)

// pieceKind tells what a piece of a script is.
type pieceKind int

const (
	blanks  pieceKind = iota
	lineEnd           // one
	note              // a comment
	word              // a name, a keyword or a number
	literal           // a text, a template or a regular expression with its flags
	sign              // one byte of punctuation
)

// piece is a part of a script, as it is written there.
type piece struct {
	kind pieceKind
	text string
}

// pieces cuts a script up. It knows as much of the language as tells a text from a
// comment and a division from a regular expression, and checks nothing.
func pieces(js string) []piece {
	var out []piece
	before := "" // what the last piece that means anything ends in
	add := func(kind pieceKind, end int) {
		end = min(end, len(js))
		out = append(out, piece{kind, js[:end]})
		if kind > note {
			before = js[:end]
		}
		js = js[end:]
	}
	run := func(in func(byte) bool) int {
		n := 0
		for n < len(js) && in(js[n]) {
			n++
		}
		return n
	}
	for js != "" {
		switch c := js[0]; {
		case c == '\'' || c == '"' || c == '`':
			end := 1
			for end < len(js) && js[end] != c {
				if js[end] == '\\' {
					end++
				}
				end++
			}
			add(literal, end+1)
		case strings.HasPrefix(js, "//"):
			add(note, run(func(c byte) bool { return c != '\n' }))
		case strings.HasPrefix(js, "/*"):
			end := strings.Index(js[2:], "*/")
			if end < 0 {
				end = len(js)
			}
			add(note, end+4)
		case c == '/' && patternBegins(before):
			end, class := 1, false
			for end < len(js) && js[end] != '\n' && (js[end] != '/' || class) {
				switch js[end] {
				case '\\':
					end++
				case '[':
					class = true
				case ']':
					class = false
				}
				end++
			}
			for end++; end < len(js) && inWord(js[end]); end++ {
			}
			add(literal, end)
		case c == '\n':
			add(lineEnd, 1)
		case isBlank(c):
			add(blanks, run(isBlank))
		case inWord(c):
			add(word, run(inWord))
		default:
			add(sign, 1)
		}
	}
	return out
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\r' }

func inWord(c byte) bool {
	return c == '_' || c == '$' || c >= 0x80 || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}

// patternBegins tells whether a slash after this piece opens a regular expression and does
// not divide.
func patternBegins(before string) bool {
	switch before {
	case "", "return", "typeof", "case", "of", "in":
		return true
	}
	return strings.IndexByte("(,=:[!&|?{};+-*%<>~^", before[len(before)-1]) >= 0 && len(before) == 1
}

// slimScript writes a script without comments, without the blanks beside signs, without
// the line ends that end no statement, and with short names (rename). Texts, templates
// and regular expressions stay as they are.
func slimScript(js []byte) []byte {
	var out bytes.Buffer
	last := piece{kind: lineEnd, text: "\n"}
	blank, line := false, false // between the last piece and the next
	for _, p := range rename(pieces(string(js))) {
		switch p.kind {
		case note:
			blank = true
			continue
		case blanks:
			blank = true
			continue
		case lineEnd:
			line = true
			continue
		}
		switch {
		case out.Len() == 0:
		case line && !goesOn(last, p):
			out.WriteByte('\n')
		case (blank || line) && wanted(last, p):
			out.WriteByte(' ')
		}
		out.WriteString(p.text)
		last, blank, line = p, false, false
	}
	out.WriteByte('\n')
	return out.Bytes()
}

// goesOn tells whether a statement goes on over a line end between two pieces, or a
// semicolon or a brace ends it there anyway: the line end means nothing then. Where a
// language rule would have to be asked, it stays.
func goesOn(a, b piece) bool {
	return a.kind == sign && strings.Contains("{,;([:?=&|<>*%!", a.text) ||
		b.kind == sign && strings.Contains("}])?:,;.&|=<>*%", b.text)
}

// wanted tells whether a blank between two pieces keeps two words or two signs apart.
func wanted(a, b piece) bool {
	x, y := a.text[len(a.text)-1], b.text[0]
	return inWord(y) && (inWord(x) || a.kind == literal && x == '/') ||
		x == y && strings.IndexByte("+-/", x) >= 0 || a.text == "/" && y == '*'
}
