package main

import (
	"context"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/render/build"
	"labsite/render/work"
)

// saidValue is a computed value that a page, its card, its labels or its run sheet shows.
type saidValue struct {
	name  string
	shown quantity.Shown
	kind  quantity.Kind
	base  float64
	show  quantity.Show
	step  float64 // what it is rounded to, in base units
}

// TestOneRounding goes through the demo at the pages' own values and at those of every check: a
// quantity shown twice is rounded the same way. Cards, labels and run sheets show the same values
// as their page. Exempt are values shown in another unit or in thirds on purpose, and figures
// without a label, which only texts show, where the text says how they are rounded.
func TestOneRounding(t *testing.T) {
	t.Parallel()
	day, err := dayOf("2026-11-28")
	if err != nil {
		t.Fatal(err)
	}
	site, list := build.Open(context.Background(), filepath.Join("..", "..", "content"), build.Options{Day: day, Unwritten: true})
	if site == nil {
		t.Fatal(list)
	}
	looked := 0
	desk := site.Desk()
	for _, p := range site.Content.Pages {
		x := desk.Make(p)
		if x.Sheet == nil || x.Script == nil {
			continue
		}
		for _, c := range casesOf(x.Sheet) {
			said := saidAt(x, c)
			looked += len(said)
			for i, a := range said {
				for _, b := range said[i+1:] {
					if isOneInTwo(a, b) {
						t.Errorf("%s: %s is shown as %s, and %s as %s", p.Path, a.name, a.shown.Text, b.name, b.shown.Text)
					}
				}
			}
		}
	}
	if looked < 1000 {
		t.Errorf("only %d values were looked at", looked)
	}
}

// casesOf are the cases of the page's own values and of its checks, without those that it refuses.
func casesOf(s *page.Sheet) []*prove.Case {
	all := []*prove.Case{prove.OwnCase(s)}
	for _, check := range s.Checks {
		c := prove.NewCase(s)
		for _, set := range check.At {
			c.Set(set.Given, set.Base)
		}
		c.Work()
		all = append(all, c)
	}
	var out []*prove.Case
	for _, c := range all {
		if !c.Refused() && len(c.Failed) == 0 {
			out = append(out, c)
		}
	}
	return out
}

// saidAt lists the values that the page shows in a case: its results, what its texts and tables
// place, and the times of its steps.
func saidAt(x *work.Page, c *prove.Case) []saidValue {
	var out []saidValue
	add := func(name string, shown quantity.Shown, kind quantity.Kind, show quantity.Show, base float64) {
		if step := lastDigit(shown); step > 0 && show.Style != quantity.Part {
			out = append(out, saidValue{name, shown, kind, base, show, max(step, show.Step*show.Unit.Factor)})
		}
	}
	for _, f := range x.Sheet.Figures {
		if f.Label != "" && !c.Missing(f.Slot) {
			add(f.Name, c.Shown(f), f.Kind, f.Show, c.Frame.V[f.Slot])
		}
	}
	for _, p := range x.Script.Page().Placed {
		if shown, ok := c.WriteFormula(p.Node, p.Show); ok && !p.Given && !shown.Missing && !isAsGiven(x.Sheet, p.Node) {
			c.Frame.Reset()
			add("in a text "+p.Node.KindName(), shown, p.Node.Kind, p.Show, p.Node.Eval(&c.Frame))
		}
	}
	return out
}

// isAsGiven reports whether a text places a value as it was given, here or on a page drawn on.
func isAsGiven(s *page.Sheet, n *formula.Node) bool {
	return n.Op == formula.Num || n.Op == formula.Var && !slices.ContainsFunc(s.Sorted, func(f *page.Figure) bool { return f.Slot == n.Slot })
}

// lastDigit is what the last digit of a value is worth, in base units; 0 for what has no digits
// of its own, such as a date.
func lastDigit(s quantity.Shown) float64 {
	fields := strings.Fields(s.Text)
	if s.Date || len(fields) < 2 || len(fields)%2 != 0 {
		return 0
	}
	number, unit := fields[len(fields)-2], fields[len(fields)-1]
	if _, err := strconv.ParseFloat(number, 64); err != nil {
		return 0
	}
	u, n, ok := quantity.ReadUnit(unit)
	if !ok || n != len(unit) {
		return 0
	}
	_, decimals, _ := strings.Cut(number, ".")
	return u.Factor * math.Pow10(-len(decimals))
}

// isOneInTwo reports whether two values in one unit are probably one value rounded in two ways: no
// further apart than the last digit of the coarser one, and less than 2 per cent.
func isOneInTwo(a, b saidValue) bool {
	if a.kind != b.kind || a.shown.Text == b.shown.Text || a.shown.Unit != b.shown.Unit || a.show.Style == b.show.Style && a.show.Step == b.show.Step {
		return false
	}
	apart, size := math.Abs(a.base-b.base), math.Max(math.Abs(a.base), math.Abs(b.base))
	return apart <= math.Max(a.step, b.step)/2*(1+1e-9) && apart < size/50
}
