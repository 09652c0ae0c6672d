package proof

import (
	"context"
	"time"
)

// pause is how long the pages that nothing touched wait after a save: the browser needs the
// processors to show it.
const pause = 250 * time.Millisecond

// rest waits until the last save is a while ago, or there is other work, or ctx ends.
func (p *Proof) rest(ctx context.Context) {
	p.change.mu.Lock()
	left := pause - time.Since(p.change.begun)
	p.change.mu.Unlock()
	if left <= 0 {
		return
	}
	timer := time.NewTimer(left)
	defer timer.Stop()
	select {
	case <-ctx.Done():
	case <-p.awake:
	case <-timer.C:
	}
}
