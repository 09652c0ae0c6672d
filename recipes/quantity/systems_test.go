package quantity

import (
	"slices"
	"testing"
)

// Each unit is exchanged only once, for units of its own kind, the smaller first; a single unit of
// those is exchanged back.
func TestExchanges(t *testing.T) {
	seen := map[string]bool{}
	from := map[string][]string{}
	for _, e := range Exchanges() {
		for _, u := range e.From {
			if seen[u.Text] {
				t.Errorf("%s is exchanged twice", u.Text)
			}
			seen[u.Text] = true
			from[e.System] = append(from[e.System], u.Text)
			for i, to := range e.To {
				if to.Kind != u.Kind {
					t.Errorf("%s for %s", to.Text, u.Text)
				}
				if i > 0 && (to.Least <= e.To[i-1].Least || to.Factor <= e.To[i-1].Factor) {
					t.Errorf("%s comes after %s", to.Text, e.To[i-1].Text)
				}
			}
		}
	}
	for _, e := range Exchanges() {
		back := map[string]string{"us": "metric", "metric": "us"}[e.System]
		for _, to := range e.To {
			single := to.Kind.Time != -1 && to.Text != "oz_av/gal"
			if single && !slices.Contains(from[back], to.Text) {
				t.Errorf("%s is not exchanged back", to.Text)
			}
		}
	}
}
