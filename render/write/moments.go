package write

import (
	"fmt"
	"html/template"
	"math"
	"strconv"

	"labsite/render/theme"
)

// momentAt is the moment so many seconds after the start.
func momentAt(seconds float64) theme.Moment {
	if math.IsNaN(seconds) { // after a step whose time waits for a reading
		return theme.Moment{Clock: `<span class="q q-blank"></span>`}
	}
	return theme.Moment{Clock: template.HTML(`<span class="q">` + clock(seconds) + `</span>`), Seconds: secondsText(seconds)}
}

// clock writes seconds as 1:30, and from an hour on as 1:05:00, with tenths if there are any.
func clock(seconds float64) string {
	tenths := int64(math.Round(seconds * 10))
	h, m, s, t := tenths/36000, tenths/600%60, tenths/10%60, tenths%10
	text := fmt.Sprintf("%d:%02d", m, s)
	if h > 0 {
		text = fmt.Sprintf("%d:%02d:%02d", h, m, s)
	}
	if t > 0 {
		text += "." + strconv.FormatInt(t, 10)
	}
	return text
}

// secondsText writes seconds for a script, to the millisecond.
func secondsText(seconds float64) string {
	return strconv.FormatFloat(math.Round(seconds*1000)/1000, 'f', -1, 64)
}
