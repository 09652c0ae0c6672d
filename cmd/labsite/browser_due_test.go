//go:build browser

package main

import (
	"bytes"
	"path/filepath"
	"testing"
)

// TestBrowserOverdue reads one published staff site on the day on which a review is due, and on the
// next: the same bytes say what is overdue by the reader's own calendar.
func TestBrowserOverdue(t *testing.T) {
	t.Parallel()
	from := writeLab(t, map[string]string{
		"index.md": "---\ntitle: Home\naudience: staff\n---\nHome.\n",
		"early.md": "---\ntitle: Early\naudience: staff\ncontrol: {number: A-1, revision: 1, status: approved, owner: process lead, approved_by: shop owner, approved: 2026-02-20, effective: 2026-02-28, review: 24 months}\n---\nText.\n",
		"late.md": "---\ntitle: Late\naudience: staff\ncontrol: {number: B-1, revision: 1, status: approved, owner: process lead, approved_by: shop owner, approved: 2026-02-20, effective: 2026-02-28, review: 12 months}\n" +
			"given:\n  tank: {label: Tank, value: 500 ml, source: measured here 2026-02-28, owner: process lead, review: 12 months}\nfigures:\n  part: {label: Part, formula: tank / 5}\n---\n\n{part}\n",
	})
	to := filepath.Join(t.TempDir(), "site")
	var out, errs bytes.Buffer
	if run(t.Context(), []string{"publish", "--from", from, "--to", to, "--audience", "staff", "--on", "2026-11-28"}, &out, &errs) != 0 {
		t.Fatal(errs.String())
	}
	marks := func(r *reader) string {
		return ask[string](t, r.tab, `[...document.querySelectorAll('[data-overdue], [data-due]')].filter((m) => m.checkVisibility()).map((m) => m.textContent).join(' | ')`)
	}
	readers(t, to, []string{"desk"}, func(r *reader, _ string) {
		r.first(calendarClock)
		r.open(r.serverURL("index.html"))
		for _, c := range []struct{ moment, page, register, first string }{
			{"2027-02-28T12:00:00", "", "", "A-1"},
			{"2027-03-01T12:00:00", "Review overdue since 28 February 2027 | Review overdue", "2 overdue for review | Overdue | Overdue", "B-1"},
		} {
			r.is(`localStorage.setItem('at', Date.parse('` + c.moment + `')), true`)
			r.open(r.serverURL("late.html"))
			if got := marks(r); got != c.page {
				t.Errorf("on %s the page says %q, want %q", c.moment, got, c.page)
			}
			r.open(r.serverURL("register.html"))
			if got := marks(r); got != c.register {
				t.Errorf("on %s the register says %q, want %q", c.moment, got, c.register)
			}
			r.says("#Documents tbody tr .plate", c.first)
		}
	})
}
