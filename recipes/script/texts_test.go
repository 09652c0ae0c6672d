package script

import (
	"strings"
	"testing"

	"labsite/recipes/prove"
)

// Figures that are texts: from branches, from a file, through other figures and pages.
func TestTextFigures(t *testing.T) {
	t.Parallel()
	other := "---\ntitle: Other\naudience: staff\ngiven: {film: {value: sheet, choices: [roll, sheet, disc]}}\nfigures:\n  advice: 'film == \"disc\" ? \"never\" : film'\n---\n"
	s := pageOf(t, `
data: {times: times.csv}
draws_on: {other: {page: other.md, at: {film: "verdict == 'ok' ? 'roll' : 'sheet'"}}}
given:
  error: {value: 0.2 stop, from: 0 stop, to: 1 stop, step: 0.1 stop}
  bath: {value: 18 °C, choices: [18 °C, 20 °C]}
figures:
  verdict: "error <= 1/3 stop ? 'ok' : error <= 2/3 stop ? 'use with care' : 'repair'"
  strength_note: lookup(times.note, times.film, other.advice, times.bath, bath)
  same: strength_note == verdict
  back: lookup(times.minutes, times.note, strength_note, times.film, other.film, times.bath, bath)
limits:
  - {when: verdict == 'repair', warning: "It is {verdict}."}
`, "times.csv", "film,bath [°C],minutes [min],note\nroll,18,11,ok\nroll,20,10,late\nsheet,18,9,early\nsheet,20,8,ok\nsecret,20,8,hidden\n", "other.md", other)
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(js), "hidden") || strings.Contains(string(js), "secret") {
		t.Errorf("a text that nobody can reach is in the script:\n%s", js)
	}
	if cases, refused := compare(t, referee(t), Page{Sheet: s}, 100); cases < 22 || refused > 0 {
		t.Errorf("%d cases, %d of them refused", cases, refused)
	}
	shown := func(error, bath float64) string {
		c := prove.NewCase(s)
		c.Set(s.GivenNamed("error"), error)
		c.Set(s.GivenNamed("bath"), bath)
		c.Work()
		return c.Shown(s.Figure("verdict")).Text + ", " + c.Shown(s.Figure("strength_note")).Text + ", " + c.Shown(s.Figure("same")).Text
	}
	for _, x := range []struct {
		error, bath float64
		want        string
	}{{0.2, 18, "ok, ok, yes"}, {0.5, 18, "use with care, early, no"}, {0.9, 20, "repair, ok, no"}, {0, 20, "ok, late, no"}} {
		if got := shown(x.error, x.bath); got != x.want {
			t.Errorf("at %v stop and %v °C: %s, want %s", x.error, x.bath, got, x.want)
		}
	}
}
