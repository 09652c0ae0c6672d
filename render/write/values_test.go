package write

import "testing"

// Lines may break between the words of a text and the parts of a duration, never between a number and its unit
// or within a date.
func TestWhereAValueMayWrap(t *testing.T) {
	for text, want := range map[string]string{
		"4.95 ml":                   "4.95&nbsp;ml",
		"10 min 30 s":               "10&nbsp;min 30&nbsp;s",
		"1 1/3 stop":                "1&nbsp;1/3&nbsp;stop",
		"Sunday, 13 December 2026":  "Sunday, 13&nbsp;December&nbsp;2026",
		"pads around it, 2 of them": "pads around it, 2&nbsp;of them",
		"run a second strip":        "run a second strip",
	} {
		if got := quantityText(text); got != want {
			t.Errorf("%q is set as %s, want %s", text, got, want)
		}
	}
}
