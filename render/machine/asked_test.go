package machine_test

import (
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/render/build/buildtest"
	"labsite/render/search"
	"labsite/render/search/searchtest"
)

// asked is what somebody types, and the page that must be first, or among the first three.
type asked struct{ typed, first, among string }

var askedByCustomers = []asked{
	// words that no page uses
	{typed: "agitation", first: "developing/one-shot-developer.html"},
	{typed: "how often do I agitate", first: "developing/one-shot-developer.html"},
	{typed: "hypo", first: "developing/fixer-finished.html"},
	{typed: "reciprocity", first: "exposure/long-exposures.html"},
	{typed: "nd filter", first: "exposure/long-exposures.html"},
	{typed: "sulphite", among: "mixing/dry-chemicals.html"},
	{typed: "expired", first: "developing/fixer-finished.html"},
	{typed: "expired film", among: "developing/film-times.html"},
	{typed: "fixer exhausted", first: "developing/fixer-finished.html"},
	{typed: "fridge", among: "mixing/two-part-kit.html"},
	{typed: "pyro", first: "developing/one-shot-developer.html"},
	{typed: "push processing", first: "developing/film-times.html"},
	{typed: "blow up a negative", first: "printing/bigger-print.html"},
	{typed: "enlargement", first: "printing/bigger-print.html"},
	{typed: "split grade", first: "printing/contrast-filters.html"},
	{typed: "color cast", first: "printing/filter-pack.html"},
	{typed: "too magenta", first: "printing/filter-pack.html"},
	{typed: "drum processor", first: "developing/rotary-drum.html"},
	{typed: "clip test", first: "developing/fixer-finished.html"},
	{typed: "drying marks", among: "developing/washing-film.html"},
	{typed: "hypo clear", first: "developing/washing-film.html"},
	{typed: "120", among: "mixing/bottle-yield.html"},
	{typed: "35mm", among: "mixing/bottle-yield.html"},
	{typed: "asa", among: "exposure/film-speed.html"},
	{typed: "spill", among: "developing/fixer-finished.html"},
	// dilutions, as written on bottles or typed by habit
	{typed: "1+100", among: "developing/one-shot-developer.html"},
	{typed: "1:100", among: "developing/one-shot-developer.html"},
	{typed: "1 + 100", among: "developing/one-shot-developer.html"},
	{typed: "1 in 101", among: "developing/one-shot-developer.html"},
	{typed: "staining 1:50", first: "developing/one-shot-developer.html"},
	// several words
	{typed: "dev time", first: "developing/one-shot-developer.html"},
	{typed: "how long do I develop", first: "developing/one-shot-developer.html"},
	{typed: "stand development", first: "developing/overnight-stand.html"},
	{typed: "too hot in summer", first: "developing/warm-kitchen.html"},
	{typed: "how many rolls", first: "mixing/bottle-yield.html"},
	{typed: "burn in", first: "printing/dodge-burn.html"},
	{typed: "test strip", first: "printing/test-strip.html"},
	{typed: "film speed", among: "exposure/film-speed.html"},
	// mistyped
	{typed: "tempreture", among: "developing/warm-kitchen.html"},
	{typed: "developper", first: "developing/one-shot-developer.html"},
	{typed: "devolper", first: "developing/one-shot-developer.html"},
	{typed: "recipocity", first: "exposure/long-exposures.html"},
	{typed: "thermomter", among: "developing/warm-kitchen.html"},
	{typed: "contarst", first: "printing/contrast-filters.html"},
	{typed: "shuter", first: "exposure/film-speed.html"},
	{typed: "wetttng agent", among: "developing/washing-film.html"},
	// guides before formulas
	{typed: "weighing", first: "mixing/dry-chemicals.html"},
	{typed: "contrast", first: "printing/contrast-filters.html"},
}

var askedByStaff = []asked{
	{typed: "top up", first: "bench/film-replenishment.html"},
	{typed: "calibrate", first: "bench/calibration-register.html"},
	{typed: "hand line", first: "bench/hand-line-check.html"},
	{typed: "fixer log", first: "bench/silver-drum.html"},
	{typed: "spillage", first: "bench/spills-waste.html"},
	{typed: "pyro", first: "bench/mix-staining-pyro.html"},
	{typed: "1+9", first: "bench/stop-and-fixer.html"},
	{typed: "push", first: "bench/push-intake.html"},
	{typed: "how much does it cost", among: "bench/landed-cost.html"},
	{typed: "shelf life", among: "bench/discard-board.html"},
	{typed: "reciprocity", first: "exposure/long-exposures.html"},
	{typed: "register", first: "bench/calibration-register.html", among: "register.html"},
	{typed: "reciprocity time added", among: "bench-formulas/reciprocity_time_added.html"},
}

// TestAskedOfTheDemo types what visitors and staff would, and checks the order of the results.
func TestAskedOfTheDemo(t *testing.T) {
	for a, list := range map[page.Audience][]asked{page.Customers: askedByCustomers, page.Staff: askedByStaff} {
		find := asking(t, buildtest.Demo(t, a))
		for _, c := range list {
			r := find(c.typed)
			var found []string
			for _, p := range r.Pages {
				address, _, _ := strings.Cut(p.Address, "#")
				found = append(found, address)
				for _, part := range slices.Concat(p.Title, p.Passage) {
					if amounts := quantity.Find(part[0].(string)); len(amounts) > 0 {
						t.Errorf("%s: %q shows %s", a, c.typed, amounts[0].Text)
					}
				}
			}
			if c.first != "" && (len(found) == 0 || found[0] != c.first) {
				t.Errorf("%s: %q leads to %q, not first to %s", a, c.typed, found, c.first)
			}
			if c.among != "" && !slices.Contains(found[:min(3, len(found))], c.among) {
				t.Errorf("%s: %q leads to %q, not to %s among the first three", a, c.typed, found, c.among)
			}
		}
	}
}

// A dilution leads to the top of a page, where its hazards stand, and the answer says if no page
// mentions it. It also names mistyped words.
func TestAskedForWhatIsMissing(t *testing.T) {
	find := asking(t, buildtest.Demo(t, page.Customers))
	if r := find("1+100"); !r.All || len(r.Pages) == 0 || strings.Contains(r.Pages[0].Address, "#") {
		t.Errorf("1+100 gives %+v", r)
	}
	if r := find("1+77"); r.All || r.Count == 0 {
		t.Errorf("1+77, which no page has, finds %d pages and says all is %v", r.Count, r.All)
	}
	if r := find("tempreture "); len(r.Instead) != 1 || r.Instead[0][0] != "tempreture" {
		t.Errorf("for tempreture it says %v", r.Instead)
	}
	if r := find("temperature "); len(r.Instead) != 0 {
		t.Errorf("for temperature it says %v", r.Instead)
	}
}

// Readers load the script of the search without its comments; the tests above ask that script.
func TestSearchIsMinified(t *testing.T) {
	first := string(buildtest.Demo(t, page.Customers)[search.File])
	if strings.Contains(first, search.Code()) || strings.Contains(first, "\n  //") {
		t.Errorf("the search is written with its comments, in %d bytes", len(first))
	}
}

// asking returns the function that answers what is typed, loading the parts that it asks for.
func asking(t *testing.T, files map[string][]byte) func(typed string) searchtest.Result {
	t.Helper()
	vm, err := searchtest.Engine(string(files[search.File]))
	if err != nil {
		t.Fatal(err)
	}
	return func(typed string) searchtest.Result {
		for range 8 {
			r, err := searchtest.Once(vm, search.Name, typed, 8)
			if err != nil {
				t.Fatal(err)
			}
			if r.Missing == nil {
				return r
			}
			for _, part := range r.Missing {
				if _, err := vm.RunString(string(files[search.Folder+part+".js"])); err != nil {
					t.Fatal(err)
				}
			}
		}
		t.Fatalf("%q is not answered in eight rounds", typed)
		return searchtest.Result{}
	}
}
