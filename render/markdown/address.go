package markdown

import "strings"

// refusedScheme gives the scheme of a destination that a page must not lead to,
// "" where there is none. Browsers drop blanks and control characters from an
// address before they read its scheme, so they are dropped here too.
func refusedScheme(destination string) string {
	name, _, ok := strings.Cut(destination, ":")
	if !ok {
		return ""
	}
	name = strings.ToLower(strings.Map(func(r rune) rune {
		if r <= ' ' || r == 0x7f {
			return -1
		}
		return r
	}, name))
	switch name {
	case "javascript", "vbscript", "data", "file":
		return name
	}
	return ""
}

// offsetIn gives where part, a slice of whole, starts in it.
func offsetIn(whole, part []byte) (int, bool) {
	if len(part) == 0 {
		return 0, false
	}
	i := cap(whole) - cap(part)
	if i < 0 || i+len(part) > len(whole) || &whole[i] != &part[0] {
		return 0, false
	}
	return i, true
}
