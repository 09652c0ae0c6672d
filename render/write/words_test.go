package write

import (
	"testing"

	"labsite/recipes/page"
)

func TestISODuration(t *testing.T) {
	// ISO 8601-1:2019, 5.5.2: PnYnMnDTnHnMnS, without parts that are zero (from memory).
	for seconds, want := range map[float64]string{0: "PT0S", 30: "PT30S", 60: "PT1M", 555: "PT9M15S", 3600: "PT1H", 3905: "PT1H5M5S", 0.5: "PT0.5S", 90.25: "PT1M30.25S", 59.9999: "PT1M", 360000: "PT100H"} {
		if got := isoDuration(seconds); got != want {
			t.Errorf("%v s is %s, want %s", seconds, got, want)
		}
	}
}

// A period of one is written without its count.
func TestPeriod(t *testing.T) {
	if got := period(&page.Period{Count: 1, Unit: "month"}); got != "month" {
		t.Errorf("every %s", got)
	}
}
