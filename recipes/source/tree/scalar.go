package tree

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/token"
)

// style is how a scalar is written.
type style uint8

const (
	plainStyle style = iota
	singleQuoted
	doubleQuoted
	blockStyle
)

func styleOf(t *token.Token) style {
	switch t.Type {
	case token.SingleQuoteType:
		return singleQuoted
	case token.DoubleQuoteType:
		return doubleQuoted
	}
	return plainStyle
}

// trail is a decoded text and, for each of its bytes, the offset in the source that it
// came from.
type trail struct {
	text []byte
	back []int
}

func (t *trail) put(s string, from int) {
	for i := range len(s) {
		t.text = append(t.text, s[i])
		t.back = append(t.back, from+i)
	}
}

// putAt adds a text that all came from one place.
func (t *trail) putAt(s string, from int) {
	for i := range len(s) {
		t.text = append(t.text, s[i])
		t.back = append(t.back, from)
	}
}

// fold reads the line end at src[pos:] and the spaces and empty lines around it: one line
// end is a space, more are one fewer line ends. The first keep bytes of the text keep their
// spaces. It returns where the next line's text begins.
func (t *trail) fold(src string, pos, keep int) int {
	for len(t.text) > keep && (t.text[len(t.text)-1] == ' ' || t.text[len(t.text)-1] == '\t') {
		t.text, t.back = t.text[:len(t.text)-1], t.back[:len(t.back)-1]
	}
	at, lines := pos, 0
	for pos < len(src) && (src[pos] == '\n' || src[pos] == ' ' || src[pos] == '\t') {
		if src[pos] == '\n' {
			lines++
		}
		pos++
	}
	if lines == 1 {
		t.putAt(" ", at)
	} else {
		t.putAt(strings.Repeat("\n", lines-1), at)
	}
	return pos
}

// retrace reads a scalar again from where it starts and follows its text through quotes,
// escapes and folded lines. ok is true only if that gives exactly the text that the YAML
// library gave; end is where the scalar ends.
func retrace(src string, at int, s style, want string) (back []int, end int, ok bool) {
	if at < 0 || at > len(src) {
		return nil, 0, false
	}
	t := &trail{text: make([]byte, 0, len(want)), back: make([]int, 0, len(want)+1)}
	switch s {
	case plainStyle:
		end = t.plain(src, at, want)
	case singleQuoted:
		end = t.single(src, at)
	case doubleQuoted:
		end = t.double(src, at)
	default:
		end = t.block(src, at, want)
	}
	if end < 0 || string(t.text) != want {
		return nil, 0, false
	}
	return append(t.back, end), end, true
}

// plain follows a text without quotes, as far as it goes.
func (t *trail) plain(src string, pos int, want string) int {
	for pos < len(src) && len(t.text) < len(want) {
		if src[pos] == '\n' {
			pos = t.fold(src, pos, 0)
			continue
		}
		_, n := utf8.DecodeRuneInString(src[pos:])
		t.put(src[pos:pos+n], pos)
		pos += n
	}
	return pos
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' }

func (t *trail) single(src string, pos int) int {
	if pos >= len(src) || src[pos] != '\'' {
		return -1
	}
	for pos++; pos < len(src); {
		switch {
		case strings.HasPrefix(src[pos:], "''"):
			t.put("'", pos)
			pos += 2
		case src[pos] == '\'':
			return pos
		case src[pos] == '\n':
			pos = t.fold(src, pos, 0)
		default:
			t.put(src[pos:pos+1], pos)
			pos++
		}
	}
	return -1
}

var escapes = map[byte]string{'0': "\x00", 'a': "\a", 'b': "\b", 't': "\t", '\t': "\t", 'n': "\n", 'v': "\v", 'f': "\f", 'r': "\r",
	'e': "\x1b", ' ': " ", '"': `"`, '/': "/", '\\': `\`, 'N': "\u0085", '_': "\u00a0", 'L': "\u2028", 'P': "\u2029"}

func (t *trail) double(src string, pos int) int {
	if pos >= len(src) || src[pos] != '"' {
		return -1
	}
	keep := 0 // escaped spaces are not folded away
	for pos++; pos < len(src); {
		switch c := src[pos]; {
		case c == '"':
			return pos
		case c == '\n':
			pos = t.fold(src, pos, keep)
		case c != '\\':
			t.put(src[pos:pos+1], pos)
			pos++
		case pos+1 >= len(src):
			return -1
		case src[pos+1] == '\n':
			for pos += 2; pos < len(src) && isBlank(src[pos]); pos++ {
			}
			keep = len(t.text)
		default:
			size := map[byte]int{'x': 2, 'u': 4, 'U': 8}[src[pos+1]]
			if size > 0 {
				code, err := strconv.ParseUint(src[min(pos+2, len(src)):min(pos+2+size, len(src))], 16, 32)
				if err != nil {
					return -1
				}
				t.putAt(string(rune(code)), pos)
			} else if s, ok := escapes[src[pos+1]]; ok {
				t.putAt(s, pos)
			} else {
				return -1
			}
			pos += 2 + size
			keep = len(t.text)
		}
	}
	return -1
}

// block follows a text below | or >, from the line after its head. Spaces and line ends may
// differ from those in the source; everything else is there verbatim.
func (t *trail) block(src string, pos int, want string) int {
	last := pos
	for i := 0; i < len(want); {
		r, size := utf8.DecodeRuneInString(want[i:])
		if r == ' ' || r == '\n' || r == '\t' {
			if pos < len(src) && (isBlank(src[pos]) || src[pos] == '\n') {
				pos++
			}
			t.putAt(want[i:i+size], max(0, pos-1))
			i += size
			continue
		}
		for pos < len(src) && (isBlank(src[pos]) || src[pos] == '\n') {
			pos++
		}
		if !strings.HasPrefix(src[pos:], want[i:i+size]) {
			return -1
		}
		t.put(want[i:i+size], pos)
		pos += size
		last = pos
		i += size
	}
	return last
}
