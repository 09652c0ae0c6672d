package build

import (
	"sync"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/script"
	"labsite/render/content"
	"labsite/render/routes"
)

// demoOf reads the demo shop's folder.
func demoOf(t testing.TB) *Site {
	t.Helper()
	s, list := Open(t.Context(), "../../content", Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// nothing is a target that throws all files away.
type nothing struct{}

func (nothing) Put(string, []byte) error          { return nil }
func (nothing) Keep(string, Digest) (bool, error) { return false, nil }

// BenchmarkParity compares the cost of running every page's checks through its script with that of
// the rest of a publish, without the writing.
func BenchmarkParity(b *testing.B) {
	var whole, agree time.Duration
	fresh := func() { // one that has run no script yet
		engine = sync.OnceValues(func() (script.Engine, error) { return script.Compile(routes.Core()) })
	}
	for b.Loop() {
		fresh()
		s := demoOf(b)
		begun := time.Now()
		if list, err := s.Publish(b.Context(), page.Customers, nothing{}); err != nil || list.Errors() > 0 {
			b.Fatal(err, told(list))
		}
		whole += time.Since(begun)
		fresh()
		r := &run{site: s, ctx: b.Context()}
		w := r.worker()
		for _, p := range s.Content.Pages {
			if !p.ShownTo(page.Customers) {
				continue
			}
			full := w.desk.Make(p)
			begun = time.Now()
			w.agree(full, &Result{})
			agree += time.Since(begun)
			w.desk.Trim()
		}
		if len(r.list) > 0 {
			b.Fatal(told(r.list))
		}
	}
	agree /= time.Duration(content.Workers) // since a publish divides it among workers
	b.ReportMetric(100*agree.Seconds()/whole.Seconds(), "%-of-publishing")
}
