package theme

import (
	"bytes"
	"crypto/sha256"
	"path"
	"sync"

	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/js"
)

// Slim leaves comments and spaces that mean nothing out of the built-in scripts and style
// sheets, and shortens the names that a script keeps to itself: readers on a phone pay for
// each byte. A lab's own files are published as they are. What cannot be read is left as
// it is written; a test reads all that is built in.
func Slim(name string, raw []byte) []byte {
	key := slimKey{name, sha256.Sum256(raw)}
	if done, is := slimmed.Load(key); is {
		return bytes.Clone(done.([]byte))
	}
	out := slim(name, raw)
	slimmed.Store(key, bytes.Clone(out))
	return out
}

// slimmed are the files that were made slim before: the preview reads the theme again whenever
// a file of the lab's own changes, and the built-in ones are always the same.
var slimmed sync.Map

type slimKey struct {
	name string
	sum  [sha256.Size]byte
}

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
