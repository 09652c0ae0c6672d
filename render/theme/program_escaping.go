package theme

import (
	"fmt"
	"html/template"
	"reflect"
	"strconv"
	"strings"
	"text/template/parse"
	"unicode/utf8"
)

// escapers write a text as the functions of these names do, which html/template puts behind
// each value for the place where it stands. What is a piece of HTML already is let stand where
// it may.
var escapers = map[string]func(text string, is content) (string, bool){
	"_html_template_htmlescaper": func(text string, is content) (string, bool) {
		if is == markup {
			return text, true
		}
		return replaced(text, htmlSigns), true
	},
	"_html_template_rcdataescaper": func(text string, is content) (string, bool) {
		return replaced(text, htmlSigns), is != markup
	},
	"_html_template_attrescaper": func(text string, is content) (string, bool) {
		return replaced(text, htmlSigns), is != markup
	},
	"_html_template_urlfilter": func(text string, is content) (string, bool) {
		if is == address || isSafeAddress(text) {
			return text, true
		}
		return "#ZgotmplZ", true
	},
	"_html_template_urlnormalizer": func(text string, _ content) (string, bool) {
		return inAddress(text, normalSigns), true
	},
	"_html_template_urlescaper": func(text string, is content) (string, bool) {
		if is == address {
			return inAddress(text, normalSigns), true
		}
		return inAddress(text, "-._~"), true
	},
}

// content is what a text is known to be.
type content uint8

const (
	plainText content = iota
	markup
	address
)

// escaping gives what writes a value through some functions.
func escaping(e expression, cmds []*parse.CommandNode) func(out []byte, v reflect.Value) []byte {
	if e.typ != nil || len(e.among) == 0 {
		return escapingOne(e.known(), cmds)
	}
	writers := map[reflect.Type]func(out []byte, v reflect.Value) []byte{}
	for _, typ := range e.among {
		writers[typ] = escapingOne(typ, cmds)
	}
	return func(out []byte, v reflect.Value) []byte { return writers[v.Type()](out, v) }
}

func escapingOne(typ reflect.Type, cmds []*parse.CommandNode) func(out []byte, v reflect.Value) []byte {
	text, is := textOf(typ)
	if len(cmds) == 0 {
		panic(stopped) // every place has a function
	}
	var through []func(string, content) (string, bool)
	for i, cmd := range cmds {
		through = append(through, escapers[functionOf(cmd)])
		if _, ok := through[i]("", is); !ok && i == 0 {
			panic(stopped)
		}
	}
	if len(through) == 1 && is == markup {
		return func(out []byte, v reflect.Value) []byte { return append(out, v.String()...) }
	}
	return func(out []byte, v reflect.Value) []byte {
		s, _ := through[0](text(v), is)
		for _, escape := range through[1:] {
			s, _ = escape(s, plainText)
		}
		return append(out, s...)
	}
}

var (
	stringerType = reflect.TypeFor[fmt.Stringer]()
	addressType  = reflect.TypeFor[template.URL]()
	stringType   = reflect.TypeFor[string]()
)

// textOf gives how a value of a type is written, and what it then is.
func textOf(typ reflect.Type) (func(reflect.Value) string, content) {
	switch typ {
	case stringType:
		return reflect.Value.String, plainText
	case htmlType:
		return reflect.Value.String, markup
	case addressType:
		return reflect.Value.String, address
	case intType:
		return func(v reflect.Value) string { return strconv.FormatInt(v.Int(), 10) }, plainText
	}
	ours := typ.PkgPath() != "html/template" // whose other types are texts for places of their own
	if typ.Kind() == reflect.String && ours && !typ.Implements(stringerType) && !typ.Implements(errorType) {
		return reflect.Value.String, plainText
	}
	panic(stopped)
}

// htmlSigns are the signs that are written otherwise in texts and in quoted attributes.
var htmlSigns = [128]string{0: "\uFFFD", '"': "&#34;", '&': "&amp;", '\'': "&#39;", '+': "&#43;", '<': "&lt;", '>': "&gt;"}

func replaced(s string, signs [128]string) string {
	at := 0
	for at < len(s) && (s[at] >= utf8.RuneSelf || signs[s[at]] == "") {
		at++
	}
	if at == len(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s) + 16)
	from := 0
	for ; at < len(s); at++ {
		if c := s[at]; c < utf8.RuneSelf && signs[c] != "" {
			b.WriteString(s[from:at])
			b.WriteString(signs[c])
			from = at + 1
		}
	}
	b.WriteString(s[from:])
	return b.String()
}

// isSafeAddress tells whether an address is relative, or one of the ways that lead to a page or
// a letter.
func isSafeAddress(s string) bool {
	way, _, has := strings.Cut(s, ":")
	return !has || strings.Contains(way, "/") ||
		strings.EqualFold(way, "http") || strings.EqualFold(way, "https") || strings.EqualFold(way, "mailto")
}

// normalSigns are those that stay in a whole address.
const normalSigns = "!#$&*+,/:;=?@[]-._~"

// inAddress writes what may not stand in a part of an address by its bytes' numbers; what is so
// written already stays in a whole one.
func inAddress(s, kept string) string {
	var b strings.Builder
	from := 0
	for i := range len(s) {
		c := s[i]
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', strings.IndexByte(kept, c) >= 0:
			continue
		case c == '%' && kept == normalSigns && i+2 < len(s) && isHex(s[i+1]) && isHex(s[i+2]):
			continue
		}
		b.WriteString(s[from:i])
		fmt.Fprintf(&b, "%%%02x", c)
		from = i + 1
	}
	if from == 0 {
		return s
	}
	b.WriteString(s[from:])
	return b.String()
}

func isHex(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'a' && c <= 'f' || c >= 'A' && c <= 'F'
}
