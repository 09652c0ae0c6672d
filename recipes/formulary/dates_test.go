package formulary_test

import (
	"testing"
	"time"

	"labsite/recipes/page"
)

// TestDiscardBy works out the row of that name in calendar periods, by which document control
// counts. Source: common practice, no source.
func TestDiscardBy(t *testing.T) {
	mixed := time.Date(2025, time.March, 3, 0, 0, 0, 0, time.UTC)
	life := page.Period{Count: 90, Unit: "day"}
	if got := life.From(mixed).Format(time.DateOnly); got != "2025-06-01" {
		t.Errorf("mixed on 2025-03-03 with 90 days to live: discard by %s", got)
	}
}
