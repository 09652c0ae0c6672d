package preview

import (
	"slices"
	"sync"
)

// goodPages keeps the last correct state of recently viewed pages, to show below what is wrong with
// them now.
type goodPages struct {
	mu    sync.Mutex
	pages map[string][]byte
	order []string // the most recently kept last
}

const mostGood = 48

func (g *goodPages) keep(key string, b []byte) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.pages == nil {
		g.pages = map[string][]byte{}
	}
	g.pages[key] = b
	if i := slices.Index(g.order, key); i >= 0 {
		g.order = slices.Delete(g.order, i, i+1)
	}
	g.order = append(g.order, key)
	if len(g.order) > mostGood {
		delete(g.pages, g.order[0])
		g.order = slices.Delete(g.order, 0, 1)
	}
}

func (g *goodPages) find(key string) []byte {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.pages[key]
}
