package main

import (
	"fmt"
	"os"
	"strconv"
	"time"

	"labsite/recipes/quantity"
)

// epochVariable is the environment variable that a reproducible build sets to the seconds since
// 1970 in UTC (reproducible-builds.org, SOURCE_DATE_EPOCH, version 1.1).
const epochVariable = "SOURCE_DATE_EPOCH"

// dayOf is the day as of which a command works: that of --on, else that of SOURCE_DATE_EPOCH, else
// today. Values that follow the calendar, overdue reviews and the day printed on papers depend on
// it.
func dayOf(on string) (time.Time, error) {
	if on != "" {
		v, trouble := quantity.Parse(on)
		switch {
		case trouble != nil:
			return time.Time{}, fmt.Errorf("--on %q: %s. %s", on, trouble.Message, trouble.Hint)
		case v.Kind != quantity.Date:
			return time.Time{}, fmt.Errorf("--on %q is not a date; write year, month and day: --on 2026-11-28", on)
		}
		return time.Unix(int64(v.Base), 0).UTC(), nil
	}
	text, set := os.LookupEnv(epochVariable)
	if !set || text == "" {
		return time.Now(), nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 || seconds > 253402300799 { // the last second of the year 9999
		return time.Time{}, fmt.Errorf("%s=%s is not a number of seconds since 1970; write one, or unset it to use today", epochVariable, text)
	}
	return time.Unix(seconds, 0).UTC(), nil
}
