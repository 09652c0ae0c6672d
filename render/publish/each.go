package publish

import (
	"context"
	"sync"
	"sync/atomic"
)

// workers is how many files are in hand at once. The work is system calls that
// queue for the same folder and disk: a second worker fills the pauses of the
// first, and more gain little (see BenchmarkWrite).
const workers = 2

// each calls do for 0 up to but not including n, until all are done, one fails
// or ctx ends; it returns when no call is running, with the first error.
func each(ctx context.Context, n int, do func(int) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(workers, n) {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				if err := do(i); err != nil {
					cancel(err)
					return
				}
			}
		})
	}
	wg.Wait()
	return context.Cause(ctx)
}
