package highlight

import "sync"

// kept caches coloured formulas: a lab's pages repeat many, and parsing one takes longer than
// anything else about it. Several goroutines may use it at once.
type kept struct {
	mu   sync.Mutex
	html map[string]string
}

// mostKept bounds how many formulas are kept; when it is reached, all are dropped. longestKept is
// how many bytes one may have.
const (
	mostKept    = 2000
	longestKept = 500
)

// normals keeps formulas by their normal form, texts those with values put in.
var normals, texts kept

// of returns what was made of a text, and makes it the first time.
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
