package page_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

// A name is used only once on a page, whatever for.
func TestNamesAreUsedOnce(t *testing.T) {
	uses := []struct{ key, form string }{
		{"given", "given:\n  NAME: 5\n"},
		{"figures", "figures:\n  NAME: 5\n"},
		{"cautions", "cautions:\n  NAME: {word: NOTICE, text: Look.}\n"},
		{"data", "data:\n  NAME: times.csv\n"},
		{"tables", "tables:\n  NAME: {caption: C, list: []}\n"},
		{"charts", "charts:\n  NAME: {caption: C, points: {x: tab.x, y: tab.y}}\n"},
		{"draws_on", "draws_on:\n  NAME: mix.md\n"},
	}
	for i, a := range uses {
		for _, b := range uses[i+1:] {
			text := pagetest.WithKeys(strings.ReplaceAll(a.form+b.form, "NAME", "thing"))
			f, _ := source.New("page.md", []byte(text))
			_, list := page.Decode(f, exampleFiles)
			taken := 0
			for _, d := range list {
				if d.Code == "name-taken" {
					taken++
					if !strings.Contains(d.Message, "thing") || d.Hint == "" {
						t.Errorf("%s and %s: %s", a.key, b.key, d)
					}
				}
			}
			if taken != 1 {
				t.Errorf("%s and %s: the name is said to be taken %d times: %s", a.key, b.key, taken, list)
			}
		}
	}
}

func TestNames(t *testing.T) {
	for name, code := range map[string]string{
		"tank": "", "a": "", "a1": "", "tank_two": "", "x9_": "", strings.Repeat("a", 60): "",
		"sum": "name-reserved", "count": "name-reserved", "last": "name-reserved", "map": "", "len": "", "refused": "", "control": "", "data": "",
		"Tank": "bad-name", "1a": "bad-name", "_a": "bad-name", "a-b": "bad-name", "é": "bad-name", "a b": "bad-name", strings.Repeat("a", 61): "bad-name",
		"ml": "name-is-unit", "s": "name-is-unit", "min": "name-is-unit", "stops": "name-is-unit", "day": "name-is-unit", "weeks": "name-is-unit", "lb": "name-is-unit",
		"ug": "name-is-unit", "cup": "name-is-unit", "g": "name-is-unit", "bar": "name-is-unit", "year": "name-is-unit", "ppm": "name-is-unit",
		"given": "name-reserved", "figures": "name-reserved", "steps": "name-reserved", "cautions": "name-reserved", "arithmetic": "name-reserved",
		"checks": "name-reserved", "let": "name-reserved", "if": "name-reserved", "else": "name-reserved", "in": "name-reserved", "by": "name-reserved",
		"and": "name-reserved", "or": "name-reserved", "not": "name-reserved", "true": "name-reserved", "false": "name-reserved",
		"abs": "name-reserved", "max": "name-reserved", "mean": "name-reserved", "clamp": "name-reserved", "sqrt": "name-reserved", "round": "name-reserved",
		"round_up": "name-reserved", "kelvin": "name-reserved", "ratio": "name-reserved", "dilution": "name-reserved", "lookup": "name-reserved",
		"interpolate": "name-reserved", "interpolate_log": "name-reserved", "log": "name-reserved", "exp2": "name-reserved", "floor": "name-reserved",
		"time_at_temperature": "name-reserved",
	} {
		_, _, list := build(pagetest.WithKeys("given:\n  " + name + ": 5"))
		got := ""
		if len(list) > 0 {
			got = list[0].Code
		}
		if got != code {
			t.Errorf("%s: %q, want %q", name, got, code)
		}
	}
	// the language's functions are taken, and any name that a page may give can be used in a
	// formula
	for _, name := range formula.Functions() {
		if _, _, list := build(pagetest.WithKeys("figures:\n  " + name + ": 5")); len(list) != 1 {
			t.Errorf("%s: %s", name, list)
		}
	}
	for _, name := range []string{"map", "len", "filter", "now", "type", "refused", "control", "data", "e", "pi"} {
		if _, _, list := build(pagetest.WithKeys("given:\n  " + name + ": 5\nfigures:\n  x1: " + name + " * 2 + " + name)); len(list) > 0 {
			t.Errorf("%s: %s", name, list)
		}
	}
}

// A review period counts calendar days, weeks, months and years; from the last day of a month it does
// not run into the month after the next.
func TestPeriods(t *testing.T) {
	day := func(text string) time.Time {
		d, err := time.Parse(time.DateOnly, text)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, c := range []struct {
		from, want string
		period     page.Period
	}{
		{"2026-10-01", "2027-10-01", page.Period{12, "month"}},
		{"2026-01-31", "2026-02-28", page.Period{1, "month"}},
		{"2028-01-31", "2028-02-29", page.Period{1, "month"}},
		{"2026-08-31", "2026-09-30", page.Period{1, "month"}},
		{"2026-12-31", "2027-01-31", page.Period{1, "month"}},
		{"2028-02-29", "2029-02-28", page.Period{1, "year"}},
		{"2028-02-29", "2032-02-29", page.Period{4, "year"}},
		{"2026-02-27", "2026-03-06", page.Period{1, "week"}},
		{"2026-02-27", "2026-03-09", page.Period{10, "day"}},
		{"2026-03-29", "2026-03-30", page.Period{1, "day"}}, // a night of summer time
	} {
		if got := c.period.From(day(c.from)).Format(time.DateOnly); got != c.want {
			t.Errorf("%d %s from %s is %s, want %s", c.period.Count, c.period.Unit, c.from, got, c.want)
		}
	}
	for text, ok := range map[string]bool{"12 months": true, "1 month": true, "2 weeks": true, "90 days": true, "1 year": true, "3 years": true,
		"0 months": false, "-1 month": false, "1.5 years": false, "12": false, "months": false, "12 moons": false, "1201 days": false, "12months": false} {
		_, _, list := build(pagetest.WithKeys("control: {number: A, revision: 1, status: draft, review: " + text + "}"))
		if (len(list) == 0) != ok {
			t.Errorf("review: %s: %s", text, list)
		}
	}
}

func TestControl(t *testing.T) {
	for keys, codes := range map[string][]string{
		"{number: A, revision: 1, status: draft}":                                              nil,
		"{number: A, revision: 0, status: withdrawn}":                                          nil,
		"{number: A, revision: 1, status: approved, approved_by: lead, approved: 2026-09-30}":  nil,
		"{number: A, revision: 1, status: approved}":                                           {"missing-key", "missing-key"},
		"{number: A, revision: 1, status: approved, approved: 2026-09-30}":                     {"missing-key"},
		"{number: A, revision: 1}":                                                             {"missing-key"},
		"{number: A, status: draft}":                                                           {"missing-key"},
		"{revision: 1, status: draft}":                                                         {"missing-key"},
		"{number: A, revision: 01, status: draft}":                                             {"wrong-shape"},
		"{number: A, revision: 1.0, status: draft}":                                            {"wrong-shape"},
		"{number: A, revision: -1, status: draft}":                                             {"wrong-shape"},
		"{number: A, revision: 1, status: Draft}":                                              {"not-one-of"},
		"{number: A, revision: 1, status: draft, effective: 2026-02-30}":                       {"not-a-date"},
		"{number: A, revision: 1, status: draft, changes: {0: First.}}":                        {"revision-unsaid"},
		"{number: A, revision: 1, status: draft, changes: {1: First.}}":                        nil,
		"{number: A, revision: 1, status: draft, changes: {}}":                                 nil,
		"{number: A, revision: x, status: draft, changes: {1: First.}}":                        {"wrong-shape"},
		"{number: A, revision: 1, status: draft, approved: 2026-10-01, effective: 2026-09-30}": {"effective-before"},
		"{number: A, revision: 1, status: draft, approved: 2026-10-01, effective: 2026-10-01}": nil,
		"{number: A, revision: 1, status: draft, changes: {x: First.}}":                        {"wrong-shape"},
		"{number: A, revision: 1, status: draft, reviewed: 2026-01-01}":                        {"unknown-key"},
	} {
		_, _, list := build(pagetest.WithKeys("control: " + keys))
		var got []string
		for _, d := range list {
			got = append(got, d.Code)
		}
		if !slices.Equal(got, codes) {
			t.Errorf("%s: %v, want %v", keys, got, codes)
		}
	}
	s, _, _ := build(pagetest.WithKeys("control: {number: A, revision: 1, status: draft, effective: 2026-10-01}"))
	if _, ok := s.Control.Due(); ok {
		t.Error("due without a review")
	}
	if _, ok := (*page.Control)(nil).Due(); ok {
		t.Error("due without control")
	}
}
