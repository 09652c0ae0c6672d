package build

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/write"
)

// A chain of pages: cost draws on mix, and mix on stock and on a data file. Each case breaks one
// file; all that depend on it must show no number, and the messages must only say where to fix it.
var chain = map[string]string{
	"index.md": "---\ntitle: Home\naudience: customers\n---\n",
	"stock.md": "---\ntitle: Stock\naudience: customers\ngiven:\n  flask: {label: Flask, value: 1 l, from: 1 l, to: 2 l, step: 1 l}\nfigures:\n  powder: {label: Powder, formula: flask * 20 g/l, show: 1 g}\n" +
		"checks:\n  - {expect: {powder: 20 g}, source: from memory}\n---\n\n{powder}\n",
	"rates.csv": "strength,price [EUR/ml]\n1+50,0.10\n1+100,0.15\n",
	"mix.md": "---\ntitle: Mix\naudience: customers\ndraws_on: {stock: stock.md}\ndata: {rates: rates.csv}\ngiven:\n  strength: {label: Strength, value: 1+100, choices: rates.strength}\n" +
		"figures:\n  syrup: {label: Syrup, formula: \"stock.powder / 4 g/ml\", show: 0.1 ml}\n  price: {label: Price, formula: \"lookup(rates.price, rates.strength, strength)\"}\n" +
		"checks:\n  - {expect: {syrup: 5 ml}, source: from memory}\n---\n\n{syrup}\n",
	"cost.md": "---\ntitle: Cost\naudience: customers\ndraws_on: {mix: mix.md}\ngiven:\n  rolls: {label: Rolls, value: 2, from: 1, to: 4}\n" +
		"figures:\n  cost: {label: Cost, formula: \"mix.syrup * mix.price * rolls\", show: 0.01 EUR}\n" +
		"checks:\n  - {expect: {cost: 1.50 EUR}, source: from memory}\n  - always: cost > 0 EUR\n" +
		"tables:\n  by_rolls: {caption: By rolls, rows: rolls, cell: cost}\n---\n\n{cost}\n\n{by_rolls}\n",
}

func TestNothingDependsOnBrokenFiles(t *testing.T) {
	for _, c := range []struct {
		what, file, old, new string
		want                 []string // file, line and code of every message
	}{
		{"no colon", "stock.md", "audience: customers", "audience customers", []string{"mix.md:4 use-broken", "cost.md:4 use-broken", "stock.md:3 no-colon"}},
		{"no front matter", "stock.md", "---\ntitle", "title", []string{"mix.md:4 use-broken", "cost.md:4 use-broken", "stock.md:1 no-front-matter"}},
		{"a key too many", "stock.md", "title: Stock", "title: Stock\nshelf: 3", []string{"mix.md:4 use-broken", "cost.md:4 use-broken", "stock.md:3 unknown-key"}},
		{"a kind too many", "stock.md", "* 20 g/l", "* 20 g", []string{"mix.md:4 use-broken", "cost.md:4 use-broken", "stock.md:7 show-kind"}},
		{"a check that fails", "stock.md", "* 20 g/l", "* 25 g/l", []string{"mix.md:4 use-broken", "cost.md:4 use-broken", "stock.md:9 check-fails"}},
		{"no finite number", "stock.md", "* 20 g/l", "* 20 g/l * 1 ml / (flask - 1 l)", []string{"mix.md:4 use-broken", "cost.md:4 use-broken", "stock.md:7 not-finite"}},
		{"a name in its text", "stock.md", "{powder}", "{podwer}", []string{"mix.md:4 use-broken", "cost.md:4 use-broken", "stock.md:12 unknown-name"}},
		{"an empty cell", "rates.csv", "0.10", "", []string{"mix.md:5 data-broken", "cost.md:4 use-broken", "rates.csv:2 data-cell-empty"}},
		{"a cell that is none", "rates.csv", "0.10", "ten", []string{"mix.md:5 data-broken", "cost.md:4 use-broken", "rates.csv:2 not-a-number"}},
		{"not UTF-8", "rates.csv", "1+50", "\xff", []string{"mix.md:5 data-broken", "cost.md:4 use-broken", "rates.csv:2 not-utf8"}},
		{"a page that is gone", "stock.md", "", "", []string{"mix.md:4 link-nowhere", "cost.md:4 use-broken"}},
	} {
		dir, edit := editableLab(t, chain)
		followed, _ := Follow(t.Context(), dir, Options{Day: aDay})
		if err := followed.Settle(t.Context()); err != nil || followed.Diagnostics().Errors() > 0 {
			t.Fatalf("%s: %v\n%s", c.what, err, told(followed.Diagnostics()))
		}
		if c.old == "" {
			edit(c.file, "")
		} else {
			edit(c.file, strings.Replace(chain[c.file], c.old, c.new, 1))
		}
		followed.Update(nil)
		read, list := checked(t, dir)
		opened, _ := Follow(t.Context(), dir, Options{Day: aDay})
		if got := codes(list); !slices.Equal(got, sorted(c.want)) {
			t.Errorf("%s:\n%v, want\n%v", c.what, got, sorted(c.want))
		}
		for _, p := range []string{"mix.md", "cost.md"} {
			if full := read.Desk().Make(read.Content.Page(p)); full.Proof != nil || full.Resolved || full.Script != nil {
				t.Errorf("%s: %s is worked out", c.what, p)
			}
		}
		for name, s := range map[string]*Followed{"opened": opened, "followed": followed} {
			for _, address := range []string{"cost.html", "mix.html", "cost.card.html", "cost.figures.js", "cost.by_rolls.csv"} {
				a, ok := s.Answer(page.Customers, address, true)
				if a.Bytes != nil || ok != strings.HasSuffix(address, ".html") || ok && a.List.Errors() == 0 {
					t.Errorf("%s: %s: %s: answered %v with\n%s\n%s", c.what, name, address, ok, a.Bytes, told(a.List))
				}
			}
			if err := s.Settle(t.Context()); err != nil {
				t.Fatal(err)
			}
			if got := codes(s.Diagnostics()); !slices.Equal(got, sorted(c.want)) {
				t.Errorf("%s: %s:\n%v, want\n%v", c.what, name, got, sorted(c.want))
			}
			if _, ok := s.Tree(write.Ask{Page: "cost.md", Name: "cost"}); ok {
				t.Errorf("%s: %s: cost has a tree", c.what, name)
			}
		}
		edit(c.file, chain[c.file])
		for name, s := range map[string]*Followed{"opened": opened, "followed": followed} {
			s.Update([]string{c.file})
			if err := s.Settle(t.Context()); err != nil || s.Diagnostics().Errors() > 0 {
				t.Errorf("%s, then mended: %s: %v\n%s", c.what, name, err, told(s.Diagnostics()))
			}
			s.Close()
		}
	}
}

// While the file of the lab's own formulas or substances is broken nobody knows what is in it, so
// no page may be blamed for naming them.
func TestBrokenListBlamesNoPage(t *testing.T) {
	pages := map[string]string{
		"index.md": "---\ntitle: Home\naudience: customers\n---\n",
		"tank.md": "---\ntitle: Tank\naudience: customers\nsubstances: [shelf bath]\ngiven:\n  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l, step: 100 ml}\n" +
			"figures:\n  half: {label: Half, formula: half_of(tank), show: 1 ml}\nchecks:\n  - {expect: {half: 250 ml}, source: from memory}\n---\n\n{half_of(tank)}\n",
		"cost.md":      "---\ntitle: Cost\naudience: customers\ndraws_on: {tank: tank.md}\nfigures:\n  cost: {label: Cost, formula: \"tank.half * 1 EUR/ml\"}\nchecks:\n  - {expect: {cost: 250 EUR}, source: from memory}\n---\n",
		"hazards.yaml": "substances:\n  - name: Shelf bath\n    statements: [H317]\n    sheet: {author: Example Supplies, date: 2026-01-15}\n",
	}
	for _, c := range []struct {
		what, formulas, hazards string
		want                    []string
	}{
		{"all is well", ownFormulas, "", nil},
		{"a broken formula", strings.Replace(ownFormulas, "volume / 2", "volume / (2", 1), "", []string{"cost.md:4 use-broken", "formulary/own.yaml:8 bracket-open"}},
		{"a check that fails in one that is not called", strings.Replace(ownFormulas, "200 ml, times: 2}, expect: 300", "200 ml, times: 2}, expect: 900", 1), "", []string{"cost.md:4 use-broken", "formulary/own.yaml:21 check-fails"}},
		{"a file that is no YAML", "formulas: [", "", []string{"cost.md:4 use-broken", "formulary/own.yaml:1 not-closed"}},
		{"no such formula", strings.ReplaceAll(ownFormulas, "half_of", "halve_of"), "", []string{"cost.md:4 use-broken", "tank.md:8 unknown-function", "tank.md:13 unknown-function"}},
		{"broken substances", ownFormulas, "substances: [", []string{"hazards.yaml:1 not-closed"}},
		{"no such substance", ownFormulas, "substances: []\n", []string{"cost.md:4 use-broken", "tank.md:4 unknown-substance"}},
	} {
		dir, edit := editableLab(t, pages)
		edit("formulary/own.yaml", ownFormulas)
		followed, _ := Follow(t.Context(), dir, Options{Day: aDay})
		followed.Settle(t.Context())
		edit("formulary/own.yaml", c.formulas)
		if c.hazards != "" {
			edit("hazards.yaml", c.hazards)
		}
		followed.Update(nil)
		followed.Settle(t.Context())
		_, list := checked(t, dir)
		for name, list := range map[string]source.List{"checked": list, "followed": followed.Diagnostics()} {
			if got := codes(list); !slices.Equal(got, sorted(c.want)) {
				t.Errorf("%s: %s:\n%v, want\n%v\n%s", c.what, name, got, sorted(c.want), told(list))
			}
		}
		a, ok := followed.Answer(page.Customers, "tank.html", true)
		if !ok || (a.Bytes != nil) != (len(c.want) == 0) {
			t.Errorf("%s: the page is shown: %v", c.what, a.Bytes != nil)
		}
		followed.Close()
	}
}

func codes(list source.List) []string {
	var out []string
	for _, d := range list {
		out = append(out, d.File+":"+strconv.Itoa(d.Line)+" "+d.Code)
	}
	return sorted(out)
}

func sorted(list []string) []string {
	out := slices.Clone(list)
	slices.Sort(out)
	return out
}

// The preview's register has no constant that could not be read, and none whose range could not.
func TestRegisterOmitsWhatCannotBeRead(t *testing.T) {
	dir := labOf(t, map[string]string{"index.md": "---\ntitle: Home\naudience: staff\ngiven:\n" +
		"  good: {label: Good one, value: 5 ml, source: from memory, owner: lead}\n" +
		"  bad: {label: Bad one, value: five, source: from memory, owner: lead}\n" +
		"  range: {label: Ranged one, value: 5 ml, from: 9 ml, to: 1 ml, source: from memory, owner: lead}\n---\n"})
	s, _ := Follow(t.Context(), dir, Options{Day: aDay})
	defer s.Close()
	a, _ := s.Answer(page.Staff, write.RegisterFile, true)
	if text := string(a.Bytes); !strings.Contains(text, "Good one") || strings.Contains(text, "Bad one") || strings.Contains(text, "Ranged one") {
		t.Errorf("%s", text)
	}
}
