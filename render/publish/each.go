package publish

import (
	"context"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// workers is how many files are handled at once. The work is system calls that queue for the same
// folder and disk: a second worker fills the pauses of the first, and more gain little (see
// BenchmarkPublishing).
const workers = 2

// each calls do for 0 up to but not including n, until all are done, one fails
// or ctx ends; it returns when no call is running, with the first error.
func each(ctx context.Context, n int, do func(int) error) error {
	g, working := errgroup.WithContext(ctx)
	var next atomic.Int64
	for range min(workers, n) {
		g.Go(func() error {
			for working.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return nil
				}
				if err := do(i); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	return context.Cause(ctx)
}
