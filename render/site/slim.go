package site

import (
	"bytes"
	"path"

	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/js"
)

// slim leaves comments and blanks that mean nothing out of the built-in scripts and style
// sheets, and shortens the names that a script keeps to itself: readers on a phone pay for
// each byte. A lab's own files are published as they are. What cannot be read is left as
// it is written; a test reads all that is built in.
func slim(name string, raw []byte) []byte {
	var out bytes.Buffer
	var err error
	switch path.Ext(name) {
	case ".js":
		err = (&js.Minifier{Version: scriptsYear}).Minify(minify.New(), &out, bytes.NewReader(raw), nil)
	case ".css":
		err = (&css.Minifier{}).Minify(minify.New(), &out, bytes.NewReader(raw), nil)
	default:
		return raw
	}
	if err != nil {
		return raw
	}
	out.WriteByte('\n')
	return out.Bytes()
}

// scriptsYear is the edition of ECMAScript that the scripts keep to, for older phones.
const scriptsYear = 2020
