package script

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/prove"
)

// Go and the script agree on tables of a file's rows: which rows, their order, their cells and totals.
func TestRowTables(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data:
  shutter: {file: shutter.csv, adds: {error: stops(measured / marked), off: "error * part", verdict: "abs(error) <= limit ? 'ok' : 'repair'"}}
given:
  limit: {value: 1/3 stop, from: 0 stop, to: 1 stop, step: 1/6 stop}
  part: {value: -1, choices: [-1, 1]}
tables:
  repair: {caption: C, of: shutter, columns: [shutter, measured, off], where: verdict == 'repair', order: -off, totals: [measured, off]}
  all: {caption: C, of: shutter, columns: [verdict, shutter], order: verdict}
  marked: {caption: C, of: shutter, columns: [shutter, verdict], where: marked > 1/200 s, order: -shutter}
  fixed: {caption: C, of: shutter, columns: [shutter, error], where: error > 0.1 stop}
`, "shutter.csv", shutterFile)
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	if text := string(js); strings.Contains(text, "secret") || strings.Contains(text, "fixed") {
		t.Errorf("the script holds what does not follow:\n%s", text)
	}
	b := open(t, s)
	for _, limit := range []float64{0, 1. / 6, 1. / 3, 0.5, 1} {
		for _, part := range []float64{-1, 1} {
			c := prove.NewCase(s)
			c.Set(s.GivenNamed("limit"), limit)
			c.Set(s.GivenNamed("part"), part)
			c.Work()
			b.run("page.put('limit', " + number(limit) + ").ok && page.put('part', " + number(part) + ").ok")
			for _, g := range s.Grids {
				var want [][]string
				if rows := c.TableRows(g.Of); g.Of.Live {
					want = [][]string{}
					for _, row := range rows {
						var line []string
						for _, column := range g.Of.Columns {
							line = append(line, column.Shown(&c.Frame, row).Text)
						}
						want = append(want, line)
					}
					if g.Name == "repair" && len(rows) > 0 {
						want = append(want, []string{"Total", c.Total(g.Of.Totals[0], rows).Text, c.Total(g.Of.Totals[1], rows).Text})
					}
				}
				var got [][]string
				if err := json.Unmarshal([]byte(b.run("page.rowTable('"+g.Name+"')")), &got); err != nil {
					t.Fatal(err)
				}
				if !slices.EqualFunc(got, want, slices.Equal) {
					t.Errorf("%s at %v, %v: in Go %q, in the script %q", g.Name, limit, part, want, got)
				}
			}
		}
	}
}

// Go and the script agree on points of a chart that depend on settings.
func TestPointsThatFollow(t *testing.T) {
	t.Parallel()
	s := pageOf(t, `
data: {log: {file: log.csv, adds: {off: reading - aim, due: made + wait, grown: "if reading > aim { reading } else { aim }"}}}
given:
  aim: {value: 20 ml, from: 10 ml, to: 90 ml, step: 5 ml}
  wait: {value: 2 days, from: 1 day, to: 9 days, step: 1 day}
  none: {value: 0 ml, source: from memory}
charts:
  offs: {caption: C, points: {x: log.made, y: log.off}}
  dues: {caption: C, points: {x: log.due, y: log.grown}}
  held: {caption: C, points: {x: log.made, y: log.off}, limits: {aim: none, action: none, control: none}}
  fixed: {caption: C, points: {x: log.made, y: log.reading}}
`, "log.csv", "made,reading [ml],secret\n2026-01-01,19,7\n2026-01-02,21,8\n2026-01-05,30,9\n")
	js, err := Page{Sheet: s}.Emit()
	if err != nil {
		t.Fatal(err)
	}
	if text := string(js); strings.Contains(text, "secret") || strings.Contains(text, "fixed") || strings.Contains(text, `"held"`) {
		t.Errorf("the script holds what does not follow:\n%s", text)
	}
	b := open(t, s)
	for _, aim := range []float64{10, 20, 45} {
		c := prove.NewCase(s)
		c.Set(s.GivenNamed("aim"), aim)
		c.Set(s.GivenNamed("wait"), 5*86400)
		c.Work()
		b.run("page.put('aim', " + number(aim) + ").ok && page.put('wait', 432000).ok")
		for _, chart := range s.Charts[:2] {
			var want [][2]string
			x, y := chart.PointShows()
			for row := range chart.Points.Count() {
				want = append(want, [2]string{x.Format(chart.Points.X.Cell(&c.Frame, row)).Text, y.Format(chart.Points.Y.Cell(&c.Frame, row)).Text})
			}
			var got [][2]struct{ Text string }
			if err := json.Unmarshal([]byte(b.run("page.points('"+chart.Name+"')")), &got); err != nil {
				t.Fatal(err)
			}
			for row := range want {
				if len(got) != len(want) || got[row][0].Text != want[row][0] || got[row][1].Text != want[row][1] {
					t.Errorf("%s at %v ml: %v, want %v", chart.Name, aim, got, want)
					break
				}
			}
		}
		if b.run("page.points('fixed')") != "null" {
			t.Error("points that do not follow are given")
		}
	}
}
