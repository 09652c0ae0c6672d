package build

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// endsWhenAsked is a context that ends after being asked a number of times whether it has; it
// counts how often it is asked after that.
type endsWhenAsked struct {
	context.Context
	end   context.CancelFunc
	asked atomic.Int64
	ends  int64
}

func stopsAfter(t *testing.T, ends int64) *endsWhenAsked {
	ctx, end := context.WithCancel(t.Context())
	t.Cleanup(end)
	return &endsWhenAsked{Context: ctx, end: end, ends: ends}
}

func (e *endsWhenAsked) Err() error {
	if e.asked.Add(1) > e.ends {
		e.end()
	}
	return e.Context.Err()
}

// Reading and working out a lab stops wherever it is: after the end each remaining stage asks a few
// times, and no page is worked out.
func TestLoadingStops(t *testing.T) {
	dir := t.TempDir()
	const pages = 200
	for i := range pages {
		draws := ""
		if i > 0 && i%10 > 0 { // short chains
			draws = fmt.Sprintf("draws_on: {other: page%d.md}\n", i-1)
		}
		text := fmt.Sprintf("---\ntitle: Page %d\naudience: customers\n%sgiven:\n  a: {label: A, value: 1, choices: [1, 2, 3]}\nfigures:\n  f: {label: F, formula: a * %d}\n---\n\n{f}\n", i, draws, i+1)
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("page%d.md", i)), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	made := func(ctx context.Context) (source.List, error) {
		s, list := Open(ctx, dir, Options{Day: aDay})
		if s == nil {
			return list, ctx.Err()
		}
		defer s.Close()
		return s.Publish(ctx, page.Customers, &folder{files: map[string][]byte{}})
	}
	whole := stopsAfter(t, 1<<40)
	if list, err := made(whole); err != nil || list.Errors() > 0 {
		t.Fatal(err, told(list))
	}
	total := whole.asked.Load()
	if total < 5*pages {
		t.Fatalf("asked %d times for %d pages", total, pages)
	}
	stopped := 0
	for ends := int64(0); ends < total; ends += 1 + ends/2 {
		ctx := stopsAfter(t, ends)
		list, err := made(ctx)
		if ctx.asked.Load() <= ends {
			continue // how often goroutines that share the pages ask varies a little from run to run
		}
		if err == nil || len(list) > 0 {
			t.Errorf("ended after %d of %d, it gives %v and says %s", ends, total, err, told(list))
		}
		stopped++
		// once the pages are read, one loop over them asks at each page
		if more := ctx.asked.Load() - ends; more > 2*pages {
			t.Errorf("ended after %d of %d, it asks %d times more", ends, total, more)
		}
	}
	if stopped < 10 {
		t.Errorf("only %d of the runs were stopped before they were done", stopped)
	}
}
