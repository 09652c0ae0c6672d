package highlight

import "sync"

// kept holds coloured formulas: those of a lab are much alike from page to page, and reading
// one takes longer than all else about it. It may be used by several goroutines at once.
type kept struct {
	mu   sync.Mutex
	html map[string]string
}

// mostKept bounds how many formulas are kept; beyond it, all are forgotten. longestKept is how
// many bytes one may have.
const (
	mostKept    = 2000
	longestKept = 500
)

// normals are formulas by their normal form, texts are those with numbers put in.
var normals, texts kept

// of gives what was made of a text, and makes it where it was not.
func (k *kept) of(text string, make func() string) string {
	k.mu.Lock()
	html, is := k.html[text]
	k.mu.Unlock()
	if is {
		return html
	}
	html = make()
	if len(text) > longestKept {
		return html
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.html == nil || len(k.html) >= mostKept {
		k.html = map[string]string{}
	}
	k.html[text] = html
	return html
}
