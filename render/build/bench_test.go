package build

import (
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/render/content"
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

// nothing takes the files of a site and keeps none.
type nothing struct{}

func (nothing) Put(string, []byte) error          { return nil }
func (nothing) Keep(string, Digest) (bool, error) { return false, nil }

// BenchmarkParity sets what a publish pays for running every page's checks through its script
// beside all the rest of it but the writing.
func BenchmarkParity(b *testing.B) {
	var whole, agree time.Duration
	for b.Loop() {
		s := demoOf(b)
		begun := time.Now()
		if list, err := s.Publish(b.Context(), page.Customers, nothing{}); err != nil || list.Errors() > 0 {
			b.Fatal(err, told(list))
		}
		whole += time.Since(begun)
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
	agree /= time.Duration(content.Workers) // since a publish shares it out
	b.ReportMetric(100*agree.Seconds()/whole.Seconds(), "%-of-publishing")
}
