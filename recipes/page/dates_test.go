package page_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

// A day that does not exist, or is written in another form, is reported at its cell, so that no
// reading is silently left out of its chart.
func TestDatesOfReadings(t *testing.T) {
	const chart = "data: {log: log.csv}\ncharts:\n  strip: {caption: Strip, points: {x: log.day, y: log.density}, limits: individuals}"
	for _, c := range []struct {
		column, head string
		want         []string
	}{
		{"2026-11-01 2026-02-28 2024-02-29 2000-02-29 2026-12-31", "day", nil},
		{"2026-11-01 2026-02-28", "day [text]", nil},
		{"2026-11-01 2026-11-31", "day", []string{"3:1 no-such-day there is no 31 November"}},
		{"2026-11-01 2026-02-30", "day", []string{"3:1 no-such-day there is no 30 February"}},
		{"2026-11-01 2026-02-29", "day", []string{"3:1 no-such-day there is no 29 February 2026"}},
		{"2026-11-01 1900-02-29", "day", []string{"3:1 no-such-day there is no 29 February 1900"}},
		{"2026-11-01 2026-00-10", "day", []string{"3:1 no-such-day there is no month 0"}},
		{"2026-11-01 2026-13-05", "day [text]", []string{"3:1 no-such-day there is no month 13"}},
		{"2026-11-01 2026-01-00", "day", []string{"3:1 no-such-day there is no day 0"}},
		{"2026-04-31 2026-11-02 2026-06-31", "day", []string{"2:1 no-such-day there is no 31 April", "4:1 no-such-day there is no 31 June"}},
		{"2026-11-01 04.11.2026 5.11.2026 06.11.26", "day", []string{`3:1 date-form "04.11.2026" is not how dates are written here, nor are 2 more cells of day Write 2026-11-04.`}},
		{"04.11.2026 05.11.2026", "day", []string{`2:1 date-form "04.11.2026" is not how dates are written here, nor is 1 more cell of day Write 2026-11-04.`}},
		{"2026-11-01 11/25/2026", "day", []string{`3:1 date-form "11/25/2026" is not how dates are written here Write 2026-11-25.`}},
		{"2026-11-01 11/4/2026", "day", []string{`3:1 date-form "11/4/2026" is not how dates are written here Write 2026-04-11 or 2026-11-04.`}},
		{"2026-11-01 2026-11-4", "day", []string{`3:1 date-form "2026-11-4" is not how dates are written here Write 2026-11-04.`}},
		{"2026-11-01 2026-11-04T10:30", "day", []string{`3:1 date-form "2026-11-04T10:30" is not how dates are written here Write 2026-11-04.`}},
		{"2026-11-01 4_Nov_2026", "day", []string{`3:1 date-form "4 Nov 2026" is not how dates are written here Write 2026-11-04.`}},
		{"2026-11-01 November_4,_2026", "day", []string{`3:2 date-form "November 4, 2026" is not how dates are written here Write 2026-11-04.`}},
		{"2026-11-01 31.11.2026", "day", []string{"3:1 no-such-day there is no 31 November"}},
		{"2026-11-01 Monday", "day", []string{`3:1 date-form "Monday" is not how dates are written here Write year, month and day: 2026-09-30.`}},
		{"2026-11-01 20261104 2026-11-05", "day", []string{`3:1 data-mixed "20261104" is not a date, but other cells of day are`}},
		{"Monday Tuesday", "day", []string{"6:39 wrong-kind points needs a column of quantities or dates, but this is a column of texts"}},
	} {
		text := c.head + ",density\n"
		for _, day := range strings.Fields(c.column) {
			if day = strings.ReplaceAll(day, "_", " "); strings.Contains(day, ",") {
				day = `"` + day + `"`
			}
			text += day + ",0.81\n"
		}
		f := pagetest.Shelf{"log.csv": text}
		_, _, list := buildWith(pagetest.WithKeys(chart), f, page.World{})
		var got []string
		for _, d := range list {
			if d.Code == "data-broken" {
				continue
			}
			said := fmt.Sprintf("%d:%d %s %s", d.Line, d.Column, d.Code, d.Message)
			if d.Code == "date-form" {
				said += " " + d.Hint
			}
			if d.Code != "wrong-kind" && d.File != "log.csv" {
				said += " in " + d.File
			}
			got = append(got, said)
		}
		file, _ := source.New("log.csv", []byte(text))
		_, more := page.ReadTable(file)
		for _, d := range more {
			said := fmt.Sprintf("%d:%d %s %s", d.Line, d.Column, d.Code, d.Message)
			if d.Code == "date-form" {
				said += " " + d.Hint
			}
			got = append(got, said)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s:\ngot  %q\nwant %q", text, got, c.want)
		}
	}
}
