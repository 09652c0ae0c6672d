package prove

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
)

// Points beyond a chart's limits are reported at their lines, points on a limit are not.
func TestPointsBeyond(t *testing.T) {
	_, _, list := buildWith(pagetest.WithKeys(`
data: {log: log.csv}
given:
  aim: {value: 0.6, source: from memory, owner: process lead}
  near: {value: 0.05, source: from memory, owner: process lead}
  far: {value: 0.1, source: from memory, owner: process lead}
charts:
  strip: {caption: C, points: {x: log.day, y: log.density}, limits: {aim: aim, action: near, control: far}}
`), pagetest.Shelf{"log.csv": "day,density\n2026-01-01,0.65\n2026-01-02,0.95\n2026-01-03,0.54\n"}, page.World{})
	if list.Errors() > 0 || len(list) != 2 {
		t.Fatal(list)
	}
	for i, want := range []struct {
		line int
		says string
	}{{3, "0.95 lies beyond the control limit of strip: +0.35 off aim (one of 2 points)"}, {4, "0.54 lies beyond the action limit of strip: -0.06 off aim"}} {
		if list[i].File != "log.csv" || list[i].Line != want.line || !strings.Contains(list[i].Message, want.says) {
			t.Errorf("%v", list[i])
		}
	}
}

// Limits worked out from the first readings judge the later ones, in order of time and not of the file;
// until there are enough, nothing is judged.
func TestPointsBeyondABaseline(t *testing.T) {
	log := "day,density\n"
	for i := range 20 {
		log += fmt.Sprintf("2026-01-%02d,%.2f\n", i+1, 0.8+0.01*float64(i*7%3))
	}
	for _, c := range []struct {
		limits, log string
		want        []string
	}{
		{"individuals", log + "2026-02-01,0.95\n", []string{"22 0.95 is out of the limits of strip: beyond 3 sigma"}},
		{"individuals", strings.Replace(log, "density\n", "density\n2026-02-01,0.95\n", 1), []string{"2 0.95 is out of the limits of strip: beyond 3 sigma"}},
		{"ewma", log + "2026-02-01,0.95\n", []string{"22 0.95 is out of the limits of strip: weighted average beyond its limit"}},
		{"individuals, baseline: 22", log + "2026-02-01,0.95\n", nil},
		{"individuals", log, nil},
	} {
		_, _, list := buildWith(pagetest.WithKeys("data: {log: log.csv}\ncharts:\n  strip: {caption: C, points: {x: log.day, y: log.density}, limits: "+c.limits+"}\n"),
			pagetest.Shelf{"log.csv": c.log}, page.World{})
		var got []string
		for _, d := range list {
			got = append(got, fmt.Sprint(d.Line, " ", d.Message))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.limits, got, c.want)
		}
	}
}
