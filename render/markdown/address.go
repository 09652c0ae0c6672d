package markdown

import (
	"regexp"
	"strings"
)

// scheme is the form of a scheme (RFC 3986, section 3.1), in small letters.
var scheme = regexp.MustCompile(`^[a-z][a-z0-9+.-]*$`)

// schemeOf is the scheme of a destination in small letters; "" if there is none. Browsers drop spaces
// and control characters from an address before they read its scheme, so they are dropped here too.
func schemeOf(destination string) string {
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
	if !scheme.MatchString(name) { // a colon in a name or after a question mark
		return ""
	}
	return name
}

// refusedScheme is the scheme of a destination to which a page must not link; "" if it may. Only
// schemes that lead to a page, a letter, a call or a message are allowed: nobody knows what others
// start, and on which machine.
func refusedScheme(destination string) string {
	switch name := schemeOf(destination); name {
	case "", "https", "http", "mailto", "tel", "sms":
		return ""
	default:
		return name
	}
}

// runs reports whether a destination has a scheme that runs or opens something on the reader's machine.
// Such a destination is never written, not even on a page with errors.
func runs(destination string) bool {
	name := schemeOf(destination)
	switch name {
	case "javascript", "vbscript", "data", "file", "blob", "filesystem", "view-source", "intent", "search", "search-ms":
		return true
	}
	return strings.HasPrefix(name, "ms-")
}

// offsetIn is where part starts in whole, of which it must be a slice.
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
