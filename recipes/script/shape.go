package script

import (
	"encoding/json"
	"strconv"
	"strings"
	"sync"

	"github.com/dop251/goja"
)

// shapes are scripts without their constants, each compiled once for all engines: many pages of a
// lab differ only in numbers and labels, and parsing and compiling a script takes the engine longer
// than running it. A shape is compiled when it occurs for the second time, so that a page like no
// other costs nothing extra.
type shapes struct {
	mu   sync.Mutex
	seen map[string]*goja.Program // nil if it has occurred once
}

// mostShapes bounds what is kept; when it is reached, all is dropped.
const mostShapes = 500

// find returns the program of a script's shape and the script's constants, in the order in which
// the program takes them; nil if the script is to be run as it is.
func (s *shapes) find(js []byte) (*goja.Program, []any) {
	shape, constants, ok := splitConstants(string(js))
	if !ok {
		return nil, nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	program, met := s.seen[shape]
	if !met {
		if s.seen == nil || len(s.seen) >= mostShapes {
			s.seen = map[string]*goja.Program{}
		}
		s.seen[shape] = nil
		return nil, nil
	}
	if program == nil {
		var err error
		if program, err = goja.Compile("page.js", "($)=>{"+shape+"}", false); err != nil {
			return nil, nil
		}
		s.seen[shape] = program
	}
	return program, constants
}

// splitConstants takes the texts and the longer numbers out of a script, and leaves $[0], $[1] … in their
// places. Short whole numbers stay: most of them are places in the frame. ok is false if the script
// has anything that Emit does not write: other quotes, a comment, a $.
func splitConstants(js string) (shape string, constants []any, ok bool) {
	var b strings.Builder
	b.Grow(len(js))
	take := func(v any) {
		b.WriteString("$[")
		b.WriteString(strconv.Itoa(len(constants)))
		b.WriteByte(']')
		constants = append(constants, v)
	}
	for i := 0; i < len(js); {
		n := 1
		switch c := js[i]; {
		case c == '"':
			n = quotedLength(js[i:])
			text, ok := unquoted(js[i : i+n])
			if !ok {
				return "", nil, false
			}
			if i+n < len(js) && js[i+n] == ':' { // may be a key
				b.WriteString(js[i : i+n])
			} else {
				take(text)
			}
			i += n
			continue
		case c >= '0' && c <= '9':
			for n = 1; i+n < len(js) && isNumberByte(js, i+n); n++ {
			}
			if n > 3 || strings.IndexByte(js[i:i+n], '.') >= 0 {
				v, err := strconv.ParseFloat(js[i:i+n], 64)
				if err != nil || js[i] == '0' && js[i+1] != '.' {
					return "", nil, false
				}
				take(v)
				i += n
				continue
			}
		case isWordByte(c):
			for i+n < len(js) && (isWordByte(js[i+n]) || js[i+n] >= '0' && js[i+n] <= '9') {
				n++
			}
		case c == '$' || c == '\'' || c == '`' || c >= 0x80, c == '/' && i+1 < len(js) && (js[i+1] == '/' || js[i+1] == '*'):
			return "", nil, false
		}
		b.WriteString(js[i : i+n])
		i += n
	}
	return b.String(), constants, true
}

func isWordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_'
}

// isNumberByte reports whether a byte continues the number before it: 1.5e-7.
func isNumberByte(js string, i int) bool {
	c := js[i]
	return c >= '0' && c <= '9' || c == '.' || c == 'e' || c == '-' && js[i-1] == 'e'
}

// quotedLength is the length of the quoted text with which a script begins.
func quotedLength(js string) int {
	for i := 1; i < len(js); i++ {
		switch js[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		}
	}
	return len(js)
}

func unquoted(js string) (text string, ok bool) {
	if len(js) < 2 || js[len(js)-1] != '"' {
		return "", false
	}
	if text = js[1 : len(js)-1]; isPlain(text) {
		return text, true
	}
	if strings.Contains(text, `\ud`) {
		return "", false // half a surrogate pair, which no text in Go can hold
	}
	return text, json.Unmarshal([]byte(js), &text) == nil
}
