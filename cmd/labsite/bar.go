package main

import (
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
)

// bar shows progress on a terminal, once the work has taken more than a second.
type bar struct {
	mu    sync.Mutex
	what  string
	s     *screen
	begun time.Time
	shown *progressbar.ProgressBar
	off   bool
}

func (s *screen) bar(what string) *bar {
	return &bar{what: what, s: s, begun: time.Now(), off: s.json || !terminal(s.err)}
}

func (b *bar) at(done, total int) {
	if b.off {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.shown == nil {
		if time.Since(b.begun) < time.Second {
			return
		}
		b.shown = progressbar.NewOptions(total, progressbar.OptionSetWriter(b.s.err), progressbar.OptionSetDescription(b.what),
			progressbar.OptionShowCount(), progressbar.OptionClearOnFinish(), progressbar.OptionThrottle(100*time.Millisecond))
	}
	b.shown.ChangeMax(total)
	b.shown.Set(done)
}

func (b *bar) done() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.shown != nil {
		b.shown.Finish()
	}
}
