package site

import (
	"testing"
	"time"

	"labsite/recipes/sheet"
)

func demoSite(t testing.TB) *Site {
	t.Helper()
	s, list := Load(t.Context(), "../../content", Options{Today: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)})
	if list.Errors() > 0 {
		t.Fatal(told(list))
	}
	return s
}

// BenchmarkParity sets what publish pays for running every page's checks through its
// script beside all the rest of it but the writing.
func BenchmarkParity(b *testing.B) {
	var rest, agree time.Duration
	for b.Loop() {
		begun := time.Now()
		s := demoSite(b)
		if _, list := s.Render(b.Context(), sheet.Customers); list.Errors() > 0 {
			b.Fatal(told(list))
		}
		middle := time.Now()
		if list := s.Agree(b.Context(), sheet.Customers); len(list) > 0 {
			b.Fatal(told(list))
		}
		rest += middle.Sub(begun)
		agree += time.Since(middle)
	}
	b.ReportMetric(100*agree.Seconds()/(rest+agree).Seconds(), "%-of-publishing")
}
