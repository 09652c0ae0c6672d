//go:build browser

package main

import (
	"strings"
	"testing"
)

// What visitors come for this month comes first, then what they come for next, whatever the day in
// the reader's calendar.
func TestBrowserSeason(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "customers")
	readers(t, dir, []string{"phone"}, func(r *reader, _ string) {
		for _, c := range []struct{ day, first, now string }{
			{"2026-12-24", "Long exposures with filters", "Long exposures with filters"},
			{"2027-02-10", "Which film and developer, for whom", ""},
			{"2027-05-31", "Which film and developer, for whom", "Which film and developer, for whom"},
			{"2027-07-01", "Warm kitchen, cool tank", "Warm kitchen, cool tank"},
		} {
			r.open(r.fileURL("index.html"))
			r.is(`(() => {
				const Real = Date;
				window.Date = class extends Real { constructor() { super('` + c.day + `T12:00'); } };
				return true;
			})()`)
			r.is(`new Promise(done => {
				const again = document.createElement('script');
				again.src = 'season.js';
				again.onload = () => done(true);
				document.head.append(again);
			})`)
			titles := ask[[]string](t, r.tab, `[...document.querySelectorAll('.season a')].map(a => a.textContent)`)
			if len(titles) != 3 || titles[0] != c.first {
				t.Errorf("on %s the order is %q", c.day, titles)
			}
			now := ask[[]string](t, r.tab, `[...document.querySelectorAll('.season li')].filter(li => getComputedStyle(li.querySelector('.season-now')).visibility === 'visible').map(li => li.querySelector('a').textContent)`)
			if got := strings.Join(now, " "); got != c.now {
				t.Errorf("on %s it is now the time of %q", c.day, got)
			}
		}
	})
}
