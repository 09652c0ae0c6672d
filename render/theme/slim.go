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

// Slim minifies a script or a style sheet: it leaves out comments and needless spaces, and shortens
// the names that a script keeps to itself, since readers on a phone pay for each byte. What cannot
// be parsed stays as it is; a test parses all that is built in.
func Slim(name string, raw []byte) []byte {
	key := slimKey{name, sha256.Sum256(raw)}
	if done, is := slimmed.Load(key); is {
		return bytes.Clone(done.([]byte))
	}
	out := slim(name, raw)
	slimmed.Store(key, bytes.Clone(out))
	return out
}

// slimmed caches minified files: the preview loads the theme again whenever a file of the lab's own
// changes, and the built-in ones are always the same.
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

// scriptsYear is the edition of ECMAScript that scripts must keep to, for older phones.
const scriptsYear = 2020
