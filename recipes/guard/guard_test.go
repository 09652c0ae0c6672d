package guard_test

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"labsite/recipes/formulary"
	"labsite/recipes/guard"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// sheet reads and resolves a page with some keys.
func sheet(t *testing.T, keys string) *page.Sheet {
	t.Helper()
	f, list := source.New("page.md", []byte("---\ntitle: T\naudience: staff\n"+strings.Trim(keys, "\n")+"\n---\n"))
	s, more := page.Decode(f, shelf{})
	list = append(list, more...)
	if s != nil {
		list = append(list, s.ResolveIn(page.World{Trades: formulary.Load()})...)
	}
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	return s
}

type shelf struct{}

func (shelf) Files() []string { return []string{"prices.csv"} }

func (shelf) Table(string) (*page.Table, bool) {
	f, _ := source.New("prices.csv", []byte("process,price [USD]\nfilm,12\nslides,16\n"))
	table, _ := page.ReadTable(f)
	return table, true
}

func (shelf) Today() float64 { return quantity.DateOf(2026, time.November, 28) }

func try(t *testing.T, keys string) guard.Report {
	t.Helper()
	r, ok := guard.Sheet(context.Background(), sheet(t, keys))
	if !ok {
		t.Fatal("it was not tried")
	}
	return r
}

// unnoticed finds the change whose sentence holds a text.
func unnoticed(r guard.Report, what string) (guard.Finding, bool) {
	i := slices.IndexFunc(r.Unnoticed, func(f guard.Finding) bool { return strings.Contains(f.What, what) })
	if i < 0 {
		return guard.Finding{}, false
	}
	return r.Unnoticed[i], true
}

const pricing = `
data: {prices: prices.csv}
given:
  process: {value: film, choices: prices.process}
  rush: {value: "no"}
  rolls: {value: 1, from: 1, to: 20}
  surcharge: {value: 1.6, source: from memory, owner: shop owner}
figures:
  price: {label: Price, formula: "lookup(prices.price, prices.process, process) * rolls * (rush ? surcharge : 1)"}
limits:
  - {when: rolls > 12, notice: Ask for a discount.}
checks:
`

const film = "  - {expect: {price: 12 USD}, source: arithmetic}\n"

// A surcharge that no check works with, a row that none looks up and a limit that none meets
// are reported, each with a check that would notice.
func TestHolesAreFound(t *testing.T) {
	r := try(t, pricing+film)
	for what, check := range map[string]string{
		"surcharge 1.7 and not 1.6": "- at: {rush: yes}\n  expect: {price: 19.20 USD}",
		"line 3, price":             "- at: {process: slides}\n  expect: {price: 16.00 USD}",
		"`rolls >= 12`":             "- at: {rolls: 12}\n  expect: no notice",
		"`rolls > 13`":              "- at: {rolls: 13}\n  expect: notice",
	} {
		f, found := unnoticed(r, what)
		if !found || f.Check != check {
			t.Errorf("%s: found %t, with the check\n%s\nwant\n%s", what, found, f.Check, check)
		}
	}
	if _, found := unnoticed(r, "line 2, price"); found {
		t.Error("the row that a check looks up is said to be unguarded")
	}
}

// With every check that is offered, all changes are noticed, and the page as it is still holds.
func TestOfferedChecksNotice(t *testing.T) {
	keys := pricing + film
	for range 12 {
		r := try(t, keys)
		if len(r.Unnoticed) == 0 {
			if r.Noticed < 10 || r.Tried != r.Noticed+r.Equal {
				t.Errorf("%+v", r)
			}
			return
		}
		keys += "  " + strings.ReplaceAll(r.Unnoticed[0].Check, "\n", "\n  ") + "\n    source: arithmetic\n"
	}
	t.Errorf("after twelve checks there are holes left in\n%s", keys)
}

// A check that depends on the day says which, in the form in which a page writes dates.
func TestOfferedDays(t *testing.T) {
	const board = `
given:
  now: {label: Today, value: today, from: 2020-01-01, to: 2099-12-31}
figures:
  state: {label: The bath, formula: "now > 2026-12-24 ? 'discard' : 'good'"}
checks:
`
	keys := board + "  - {at: {now: 2026-11-28}, expect: {state: good}, source: arithmetic}\n"
	for range 12 {
		r := try(t, keys)
		if len(r.Unnoticed) == 0 {
			return
		}
		offered := r.Unnoticed[0].Check
		if !regexp.MustCompile(`at: \{now: \d{4}-\d\d-\d\d\}`).MatchString(offered) {
			t.Fatalf("offered:\n%s", offered)
		}
		keys += "  " + strings.ReplaceAll(offered, "\n", "\n  ") + "\n    source: arithmetic\n"
	}
	t.Errorf("after twelve checks there are holes left in\n%s", keys)
}

// Changes that show in no case are counted apart: rounding a whole number, the edge of a
// comparison that no setting reaches.
func TestEqualChangesAreNotCounted(t *testing.T) {
	r := try(t, `
given:
  rolls: {value: 2, from: 1, to: 4}
figures:
  whole: {label: Whole, formula: "round(rolls, 1)"}
  many: {label: Many, formula: "rolls > 2.5 ? 2 : 1"}
checks:
  - always: whole >= 1 and whole <= 4
  - {at: {rolls: 3}, expect: {whole: 3, many: 2}, source: arithmetic}
  - {expect: {whole: 2, many: 1}, source: arithmetic}
`)
	if _, found := unnoticed(r, "round_up"); found || r.Equal < 3 {
		t.Errorf("%d are equal, and round_up of a whole number is among the others: %t", r.Equal, found)
	}
	if _, found := unnoticed(r, ">= 2.5"); found {
		t.Error("the edge at 2.5 rolls is counted, which nobody can set")
	}
}

// An edge between the steps is found where somebody could type it.
func TestEdgesBetweenSteps(t *testing.T) {
	r := try(t, `
given:
  tank: {value: 500 ml, from: 300 ml, to: 1 l, step: 50 ml}
  least: {value: 4 ml, source: from memory, owner: x}
figures:
  part: {label: Part, formula: tank / 101}
limits:
  - {when: part < least, refuse: Too little.}
checks:
  - {expect: {part: 4.95 ml}, source: arithmetic}
  - {at: {tank: 350 ml}, expect: refused, source: arithmetic}
`)
	f, _ := unnoticed(r, "`part <= least`")
	if want := "- at: {tank: 404 ml}\n  expect: {part: 4 ml}"; f.Check != want {
		t.Errorf("got %s, want %s", f.Check, want)
	}
}

// A page is as it was when it has been tried.
func TestPageIsLeftAsItWas(t *testing.T) {
	s := sheet(t, pricing+film)
	nodes := map[string]any{}
	for _, f := range s.Figures {
		nodes[f.Name] = f.Node
	}
	if _, ok := guard.Sheet(context.Background(), s); !ok {
		t.Fatal("it was not tried")
	}
	for _, f := range s.Figures {
		if nodes[f.Name] != any(f.Node) {
			t.Errorf("%s has another tree", f.Name)
		}
	}
	if s.GivenNamed("surcharge").Own != 1.6 {
		t.Error("the surcharge is left changed")
	}
	ended, stop := context.WithCancel(context.Background())
	stop()
	if _, ok := guard.Sheet(ended, s); ok {
		t.Error("it went on after its context ended")
	}
}

// BenchmarkGuard reads and resolves a page and tries its changes.
func BenchmarkGuard(b *testing.B) {
	f, _ := source.New("page.md", []byte("---\ntitle: T\naudience: staff\n"+pricing+film+"---\n"))
	for b.Loop() {
		s, _ := page.Decode(f, shelf{})
		s.ResolveIn(page.World{Trades: formulary.Load()})
		r, _ := guard.Sheet(context.Background(), s)
		b.ReportMetric(float64(r.Tried), "changes")
	}
}
