package prove

import (
	"context"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

// counted is a context that ends once it has been asked so many times whether it has ended, and counts
// how often it is asked.
type counted struct {
	context.Context
	ends, asked int
}

func (c *counted) Err() error {
	if c.asked++; c.asked > c.ends {
		return context.Canceled
	}
	return nil
}

// Proving a page asks its context between any two pieces of work, and stops as soon as that has ended:
// over the cases, in looking for poles between them, and in simplifying a case that fails.
func TestProvingStops(t *testing.T) {
	for name, keys := range map[string]string{
		"cases":  "given:\n  a: {value: 1.5, from: 1.25, to: 2.5}\n  b: {value: 1.5, from: 1.25, to: 2.5}\nfigures:\n  f: a + b\nchecks:\n  - at: {a: 2.5}\n    expect: {f: 4}\n    source: from memory\n  - always: f > 0\n",
		"poles":  "given:\n  a: {value: 1.5, from: -1.25, to: 2.5}\n  b: {value: 1.5, from: 1.25, to: 2.5}\nfigures:\n  f: 1 / (a * b - 0.123456)\n",
		"breach": "given:\n  a: {value: 1.5, from: 1.25, to: 2.5}\n  b: {value: 1.5, from: 1.25, to: 2.5}\nfigures:\n  f: a + b\nchecks:\n  - always: f < 4\n",
	} {
		t.Run(name, func(t *testing.T) {
			f, _ := source.New("page.md", []byte(pagetest.WithKeys(keys)))
			s, list := page.Decode(f, nil)
			if list = append(list, s.ResolveIn(page.World{})...); list.Errors() > 0 {
				t.Fatal(list)
			}
			whole := &counted{t.Context(), 1 << 30, 0}
			if p, _ := Sheet(whole, s); p == nil || whole.asked < MostCases {
				t.Fatalf("asked %d times for %d cases", whole.asked, MostCases)
			}
			for ends := 0; ends < whole.asked; ends += 1 + ends/3 {
				c := &counted{t.Context(), ends, 0}
				if p, list := Sheet(c, s); p != nil || len(list) > 0 {
					t.Fatalf("stopped after %d of %d, it gives %v %v", ends, whole.asked, p, list)
				}
				if c.asked > ends+len(s.Checks)+8 {
					t.Fatalf("stopped after %d of %d, it asks %d times more", ends, whole.asked, c.asked-ends)
				}
			}
		})
	}
}
