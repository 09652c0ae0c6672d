package quantity

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// TestPublished compares the package with testdata/checks.json: published factors, worked
// examples and handbook tables, each with its source.
func TestPublished(t *testing.T) {
	raw, err := os.ReadFile("testdata/checks.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []struct {
		ID, What, Source string
		Cases            []struct {
			Value, Difference, To, Refused, Code, Part, Rest string
			Shown, Show, Text, Digits                        string
			Unlike                                           []string
			Of, Expected, Relative, Absolute                 float64
		}
	}
	if err := json.Unmarshal(raw, &rows); err != nil {
		t.Fatal(err)
	}
	if len(rows) < 25 {
		t.Fatalf("only %d rows", len(rows))
	}
	for _, r := range rows {
		if r.Source == "" || len(r.Cases) == 0 {
			t.Errorf("%s: no source or no case", r.ID)
		}
		near := func(what string, got, want, relative, absolute float64) {
			if !(math.Abs(got-want) <= math.Max(relative*math.Abs(want), absolute)) {
				t.Errorf("%s (%s): %s is %.15g, want %.15g", r.ID, r.Source, what, got, want)
			}
		}
		parse := func(text string) Value {
			v, trouble := Parse(text)
			if trouble != nil {
				t.Errorf("%s: %q: %s", r.ID, text, trouble.Message)
			}
			return v
		}
		for _, c := range r.Cases {
			switch {
			case c.Value != "" || c.Difference != "":
				var v Value
				if c.Value != "" {
					v = parse(c.Value)
				} else {
					v, _ = ParseDifference(c.Difference)
				}
				u := must(c.To)
				if u.Kind != v.Kind {
					t.Errorf("%s: %s is not of the kind of %s", r.ID, c.Value, c.To)
				}
				near(c.Value+c.Difference+" in "+c.To, u.Of(v.Base), c.Expected, c.Relative, c.Absolute)
			case c.Refused != "":
				if _, trouble := Parse(c.Refused); trouble == nil || trouble.Code != c.Code {
					t.Errorf("%s: %q gave %+v, want %s", r.ID, c.Refused, trouble, c.Code)
				}
			case c.Part != "":
				near(c.Part, parse(c.Part).Base*c.Of, c.Expected, 0, c.Absolute)
			case c.Rest != "":
				near(c.Rest, c.Of-parse(c.Rest).Base*c.Of, c.Expected, 0, c.Absolute)
			case c.Shown != "":
				s, trouble := ParseShow(c.Show, Number)
				if trouble != nil {
					t.Fatalf("%s: show %q: %s", r.ID, c.Show, trouble.Message)
				}
				if got := s.Format(parse(c.Shown).Base).Text; got != c.Text {
					t.Errorf("%s (%s): %s at %s reads %s, want %s", r.ID, r.Source, c.Shown, c.Show, got, c.Text)
				}
			case c.Digits != "":
				if got := DefaultShow(Number, Unit{}).Format(parse(c.Digits).Base).Text; got != c.Text {
					t.Errorf("%s (%s): %s reads %s, want %s", r.ID, r.Source, c.Digits, got, c.Text)
				}
			case c.Unlike != nil:
				if a, b := parse(c.Unlike[0]), parse(c.Unlike[1]); a.Kind == b.Kind {
					t.Errorf("%s (%s): %s and %s are of one kind", r.ID, r.Source, c.Unlike[0], c.Unlike[1])
				}
			default:
				t.Errorf("%s: a case that tests nothing", r.ID)
			}
		}
	}
}
