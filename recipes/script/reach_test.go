package script

import (
	"strings"
	"testing"
)

const secretTimes = "film,bath [°C],strength,minutes [min],note,price [EUR]\n" +
	"sheet,18,1+50,11.11,keep,9.87\nsheet,20,1+50,10.01,keep,9.87\nroll,18,1+50,7.07,keep,9.87\nroll,20,1+100,6.66,keep,9.87\nsecret,18,1+50,3.33,keep,9.87\nsecret,20,1+100,2.22,keep,9.87\n"

const secretCurve = "x,y\n0.01,0.11\n1.01,0.21\n2.01,0.31\n3.01,0.41\n4.01,0.51\n5.01,0.61\n"

// TestReach checks that a script has no column and no row of a data file that no formula of the page can
// reach.
func TestReach(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		front     string
		have, not string // cells, separated by spaces
	}{
		{"given: {film: {value: sheet, choices: [sheet, roll]}, bath: {value: 18 °C, choices: [18 °C, 20 °C]}}\nfigures: {time: 'lookup(times.minutes, times.film, film, times.bath, bath)'}",
			"666.6 600.6 424.2 399.6 sheet roll", "199.8 133.2 secret keep 9.87"},
		// a constant key, a fixed given, a key through a figure and a let
		{"figures: {time: 'lookup(times.minutes, times.film, \"roll\", times.bath, 18 °C)'}", "424.2 roll", "666.6 600.6 399.6 199.8 133.2 secret sheet keep 9.87"},
		{"given: {bath: 20 °C, film: {value: sheet, choices: [sheet]}}\nfigures: {time: 'lookup(times.minutes, times.film, film, times.bath, bath)'}", "600.6 sheet", "666.6 424.2 399.6 199.8 133.2 secret roll keep 9.87"},
		{"given: {warm: {value: true}}\nfigures:\n  bath: 'warm ? 20 °C : 20 °C'\n  time: 'let b = bath; lookup(times.minutes, times.bath, b, times.strength, dilution(1, 100), times.film, \"roll\")'", "399.6 roll", "666.6 600.6 424.2 199.8 133.2 secret keep 9.87"},
		{"given: {film: {value: sheet, choices: [sheet, roll, other]}}\nfigures: {bath: 20 °C}\nlimits:\n  - {when: 'lookup(times.minutes, times.film, film, times.bath, bath) > 1 h', notice: Long.}", "600.6 399.6 sheet", "666.6 424.2 199.8 133.2 secret keep 9.87"},
		// points: those within the range and their neighbours
		{"given: {x: {value: 2.5, from: 2.2, to: 2.9}}\nfigures: {y: 'interpolate(curve.y, curve.x, x)'}", "2.01 3.01 0.31 0.41", "0.01 0.11 1.01 0.21 4.01 0.51 5.01 0.61"},
		{"given: {x: {value: 2.5, from: 2.01, to: 3.01}}\nfigures: {y: 'interpolate(curve.y, curve.x, x)'}", "2.01 3.01", "0.01 1.01 4.01 5.01"},
		{"given: {x: {value: 2.5, from: 2.2, to: 2.9}}\nfigures: {y: 'interpolate_log(curve.y, curve.x, x * 1.2 + 0.1)'}", "2.01 3.01 4.01", "0.01 1.01 5.01"},
		{"given: {x: {value: 2.5, from: 2.2, to: 2.9}}\nfigures: {y: 'interpolate(curve.y, curve.x, clamp(x, 1, 2))'}", "1.01 2.01", "0.01 3.01 4.01 5.01"},
		{"given: {x: {value: 2.5, from: 1, to: 2.9}}\nfigures: {y: 'interpolate(curve.y, curve.x, round(x, 1))'}", "0.01 1.01 2.01 3.01", "4.01 5.01"},
		{"given: {x: {value: 1.5, from: 1, to: 2}}\nfigures: {y: 'interpolate(curve.y, curve.x, exp(x))'}", "2.01 3.01 4.01 5.01", "0.01 1.01"},
		{"given: {x: {value: 1.5, from: 1, to: 2}}\nfigures: {y: 'interpolate(curve.y, curve.x, (x - 1) ** 0.5)'}", "0.01 1.01", "2.01 3.01 4.01 5.01"},
		{"given: {x: {value: 2.5, from: -1, to: 9}}\nfigures: {y: 'interpolate(curve.y, curve.x, x)'}", "0.01 1.01 2.01 3.01 4.01 5.01", ""},
		// points of the rows that further keys choose: the nearest of each film
		{"given: {film: {value: sheet, choices: [sheet, roll]}, bath: {value: 19 °C, from: 18.5 °C, to: 19.5 °C}}\nfigures: {time: 'interpolate(times.minutes, times.bath, bath, times.film, film)'}",
			"666.6 600.6 424.2 399.6 sheet roll", "199.8 133.2 secret keep 9.87"},
		{"given: {film: {value: sheet, choices: [sheet, roll]}, bath: {value: 18 °C, from: 16 °C, to: 18 °C}}\nfigures: {time: 'interpolate(times.minutes, times.bath, bath, times.film, film)'}",
			"666.6 424.2 sheet roll", "600.6 399.6 199.8 133.2 secret keep 9.87"},
		// functions over rows: sums, and none of the cells that they are made of
		{"given: {film: {value: sheet, choices: [sheet, roll]}}\nfigures: {time: 'sum(times.minutes, times.film, film)'}", "1267.2 823.8 sheet roll", "666.6 600.6 424.2 399.6 333 secret keep 9.87"},
		{"given: {warm: {value: true}}\nfigures: {time: 'warm ? mean(times.minutes) : 2 min'}", "[404]", "666.6 600.6 424.2 399.6 199.8 133.2 secret roll keep 9.87"},
		// through a page drawn on, at what is set there
		{"draws_on: {other: {page: other.md, at: {film: '\"roll\"'}}}\nfigures: {y: other.time}", "424.2 roll", "666.6 600.6 399.6 199.8 133.2 9.87"},
	} {
		front := c.front + "\ndata: {times: times.csv, curve: curve.csv}"
		s := pageOf(t, front, "times.csv", secretTimes, "curve.csv", secretCurve, "other.md",
			"---\ntitle: Other\naudience: staff\ngiven: {film: {value: sheet, choices: [sheet, roll]}, bath: {value: 18 °C, choices: [18 °C, 20 °C]}}\nfigures: {time: 'lookup(times.minutes, times.film, film, times.bath, bath)'}\ndata: {times: times.csv}\n---\n")
		js, err := Page{Sheet: s}.Emit()
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range strings.Fields(c.have) {
			if !strings.Contains(string(js), cell) {
				t.Errorf("%s\nlacks %s:\n%s", c.front, cell, js)
			}
		}
		for _, cell := range strings.Fields(c.not) {
			if strings.Contains(string(js), cell) {
				t.Errorf("%s\nholds %s:\n%s", c.front, cell, js)
			}
		}
		compare(t, referee(t), Page{Sheet: s}, 300)
	}
}
