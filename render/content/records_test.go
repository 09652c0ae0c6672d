package content

import (
	"testing"
	"time"
)

// A review is overdue from the day after the one on which it is due, by local dates.
func TestOneRuleForWhatIsPast(t *testing.T) {
	east := time.FixedZone("east", 13*3600)
	for _, x := range []struct {
		now  time.Time
		want bool
	}{
		{time.Date(2026, 11, 27, 23, 59, 0, 0, time.UTC), false},
		{time.Date(2026, 11, 28, 0, 0, 1, 0, time.UTC), false},
		{time.Date(2026, 11, 28, 23, 59, 59, 0, time.UTC), false},
		{time.Date(2026, 11, 29, 0, 0, 0, 0, time.UTC), true},
		{time.Date(2026, 11, 28, 23, 0, 0, 0, east), false},
		{time.Date(2026, 11, 29, 0, 30, 0, 0, east), true}, // still the 28th in UTC
	} {
		c := &Content{Day: x.now}
		if got := c.Past(time.Date(2026, 11, 28, 0, 0, 0, 0, time.UTC)); got != x.want {
			t.Errorf("at %s what was due on the 28th is late: %v", x.now, got)
		}
	}
}

func TestPathsOutsideARecord(t *testing.T) {
	for p, want := range map[string]string{
		"approved/G-001/2/mixing/a.md": "mixing/a.md", "approved/G-001/2/a.md": "a.md", "mixing/a.md": "mixing/a.md", "approved/G-001/2.json": "approved/G-001/2.json", "index.md": "index.md",
	} {
		if got := Outside(p); got != want {
			t.Errorf("%s is %s outside, want %s", p, got, want)
		}
	}
	if got := Outside(inRecord("G 1", 2, "a/b.md")); got != "a/b.md" {
		t.Errorf("it comes back as %s", got)
	}
}
