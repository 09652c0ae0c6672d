package script

import (
	"testing"

	"labsite/recipes/prove"
)

// Over a column of dates, functions that pick or average give a date, which is a day and never a moment,
// and the deviation gives a time; also if the column depends on a setting.
func TestRowsOfDates(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data:
  log: {file: log.csv, adds: {due: read + wait}}
given:
  wait: {value: 1 day, from: 0.25 day, to: 9 day, step: 0.25 day}
figures:
  middle: mean(log.read)
  half: median(log.read)
  begun: smallest(log.read)
  ended: last(log.read)
  apart: {formula: deviation(log.read), show: 0.1 day}
  due_mean: mean(log.due)
  due_half: median(log.due)
  due_last: largest(log.due)
  due_apart: {formula: deviation(log.due), show: 0.1 day}
`, "log.csv", "read\n2026-11-01\n2026-11-04\n2026-11-09\n2026-11-30\n")
	if cases, refused := compare(t, referee(t), Page{Sheet: s}, 40); cases < 30 || refused > 0 {
		t.Errorf("%d cases, %d of them refused", cases, refused)
	}
	c := prove.OwnCase(s)
	for name, want := range map[string]string{
		"middle": "11 November 2026", "half": "6 November 2026", "begun": "1 November 2026", "ended": "30 November 2026", "apart": "13.1 days",
		"due_mean": "12 November 2026", "due_half": "7 November 2026", "due_last": "1 December 2026", "due_apart": "13.1 days",
	} {
		if got := c.Shown(s.Figure(name)).Text; got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
}
