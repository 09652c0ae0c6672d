package search

import (
	"bytes"
	"maps"
	"strings"
	"testing"

	"github.com/dop251/goja"

	"labsite/render/search/searchtest"
)

// The pages of these tests belong to the invented Brindle Weir Film Lab.
var pages = []Page{
	{"developing/first.html", "Your first roll", "Developing", []Passage{
		{Summary, "", "How much syrup to draw, and how long to develop.", nil},
		{Label, "", "You need: Concentrate, Water, Developing time", nil},
		{Text, "", "Draw … of concentrate and make up to ….", nil},
		{Heading, "a-warm-kitchen", "A warm kitchen", nil},
		{Text, "a-warm-kitchen", "Stand the tank in a bowl of water. Film that was developed too warm is thick, and a thick negative prints grey whatever the paper: so cool the water first, and then the developer, and then the tank.", nil},
	}, "", Read},
	{"developing/wash.html", "Washing film", "Developing", []Passage{
		{Summary, "", "How long to wash, and in how much water.", nil},
		{Text, "", "Silver stays behind where film is washed too briefly.", nil},
		{Heading, "drop-by-drop", "Drop by drop", nil},
		{Text, "drop-by-drop", "A wetting agent lets the last water run off.", nil},
	}, "", Read},
	{"bench/café.html", "The café’s prints", "Bench", []Passage{
		{Summary, "", "Grey prints on a naïve paper.", nil},
		{Text, "", "Prints are looked at by daylight.", nil},
	}, "", Read},
}

type result searchtest.Result

// reader is the browser's side: a JavaScript engine that has run the script.
func reader(t testing.TB, files map[string][]byte) func(typed string) result {
	find, _ := loader(t, files)
	return find
}

// files makes the files of a site.
func files(pages []Page, language string) map[string][]byte { return filesAlike(pages, language, nil) }

// filesAlike makes them with words that mean one thing.
func filesAlike(pages []Page, language string, alike [][]string) map[string][]byte {
	out := map[string][]byte{}
	x := NewIndex(language, alike, func(name string, b []byte) {
		if out[name] != nil {
			panic(name + " is written twice")
		}
		out[name] = bytes.Clone(b)
	})
	for _, p := range pages {
		x.Add(p)
	}
	x.Close()
	return out
}

// engine is a JavaScript engine that has run the first file.
func engine(t testing.TB, files map[string][]byte) *goja.Runtime {
	t.Helper()
	vm, err := searchtest.Engine(string(files[File]))
	if err != nil {
		t.Fatal(err)
	}
	return vm
}

// once asks with the parts that are there.
func once(t testing.TB, vm *goja.Runtime, typed string) result {
	t.Helper()
	r, err := searchtest.Once(vm, Name, typed, 8)
	if err != nil {
		t.Fatal(err)
	}
	return result(r)
}

// loader loads the parts that a question needs, and lists those loaded since it was last asked.
func loader(t testing.TB, files map[string][]byte) (find func(typed string) result, loaded func() (names []string)) {
	t.Helper()
	var names []string
	vm := engine(t, files)
	find = func(typed string) result {
		t.Helper()
		for range 8 {
			r := once(t, vm, typed)
			if r.Missing == nil {
				return r
			}
			for _, part := range r.Missing {
				name := Folder + part + ".js"
				if files[name] == nil {
					t.Fatalf("%q needs %s, which is not there", typed, name)
				}
				names = append(names, name)
				if _, err := vm.RunString(string(files[name])); err != nil {
					t.Fatalf("%s: %v", name, err)
				}
			}
		}
		t.Fatalf("%q is not answered in eight rounds", typed)
		return result{}
	}
	return find, func() []string {
		out := names
		names = nil
		return out
	}
}

func (r result) first() string {
	if len(r.Pages) == 0 {
		return ""
	}
	return r.Pages[0].Address
}

func said(parts [][2]any) (all, marked string) {
	for _, p := range parts {
		all += p[0].(string)
		if p[1].(bool) {
			marked += "[" + p[0].(string) + "]"
		}
	}
	return
}

func TestFinds(t *testing.T) {
	find := reader(t, files(pages, "en"))
	for _, c := range []struct {
		typed, want, why string
	}{
		{"washing", "developing/wash.html", "a title's word"},
		{"washes", "developing/wash.html", "a form that no page has, by its stem"},
		{"wa", "developing/wash.html", "a beginning; the title counts more than texts with water"},
		{"WETTING", "developing/wash.html#drop-by-drop", "capitals; a text leads to its heading"},
		{"kitchen", "developing/first.html#a-warm-kitchen", "a heading"},
		{"concentrate", "developing/first.html", "a label"},
		{"cafe", "bench/café.html", "without its accent"},
		{"CAFÉ", "bench/café.html", "with it"},
		{"cafe's", "bench/café.html", "a straight apostrophe"},
		{"cafe\u0301", "bench/café.html", "an accent typed for itself"},
		{"naive paper", "bench/café.html", "two words of one passage"},
		{"the warm kitchen", "developing/first.html#a-warm-kitchen", "a word that is passed over"},
		{"agnet", "developing/wash.html#drop-by-drop", "two letters exchanged"},
		{"kitchn", "developing/first.html#a-warm-kitchen", "a letter left out"},
		{"how do I wash my film", "developing/wash.html", "words of a question"},
		{"washing i", "developing/wash.html", "one letter behind a word"},
		{"developing water", "developing/first.html", "both words"},
	} {
		r := find(c.typed)
		if got := r.first(); got != c.want {
			t.Errorf("%q leads to %q, want %q (%s)", c.typed, got, c.want, c.why)
		}
		if !r.All || r.Count < len(r.Pages) {
			t.Errorf("%q: all %v, count %d of %d", c.typed, r.All, r.Count, len(r.Pages))
		}
	}
	for _, typed := range []string{"", "  ", "zinc", "the of", "..."} {
		if r := find(typed); len(r.Pages) != 0 || r.Count != 0 {
			t.Errorf("%q finds %v", typed, r.Pages)
		}
	}
}

func TestWordsTogetherComeFirst(t *testing.T) {
	apart := Page{"apart.html", "Warm kitchens", "", []Passage{{Heading, "", "When the bath creeps", nil}, {Text, "", "Stop here.", nil}}, "", Read}
	together := Page{"together.html", "Film", "", []Passage{{Text, "", "An odourless stop bath.", nil}}, "", Read}
	r := reader(t, files([]Page{apart, together}, "en"))("stop bath")
	if r.first() != "together.html" || r.Count != 2 {
		t.Errorf("%q comes first of %d", r.first(), r.Count)
	}
}

func TestFindsSomeWords(t *testing.T) {
	r := reader(t, files(pages, "en"))("zinc silver")
	if r.All || r.Count != 1 || r.first() != "developing/wash.html" {
		t.Errorf("got %+v", r)
	}
}

func TestShowsThePassage(t *testing.T) {
	find := reader(t, files(pages, "en"))
	all, marked := said(find("negatives").Pages[0].Passage)
	if len([]rune(all)) > 156 || !strings.HasPrefix(all, "… ") || !strings.HasSuffix(all, " …") || marked != "[negative]" {
		t.Errorf("the passage is %q, marked %q", all, marked)
	}
	if strings.Contains(all, "thic …") || strings.HasPrefix(all, "… ilm") {
		t.Errorf("cut within a word: %q", all)
	}
	title, marked := said(find("washed").Pages[0].Title)
	if title != "Washing film" || marked != "[Washing]" {
		t.Errorf("the title is %q, marked %q", title, marked)
	}
	all, _ = said(find("first roll").Pages[0].Passage)
	if all != "How much syrup to draw, and how long to develop." {
		t.Errorf("a page found by its title shows %q, want its summary", all)
	}
}

// Both sides must split and fold words alike, or a page is not found by its own words.
func TestFindsEveryWordItHas(t *testing.T) {
	odd := Page{"odd.html", "Ώδής ΟΔΟΣ Straße İstanbul Ł 4×5 №7 don’t l’eau d'eau na\u0308chste ﬁlm", "", nil, "", Read}
	find := reader(t, files(append([]Page{odd}, pages...), "xx"))
	for _, p := range append([]Page{odd}, pages...) {
		for _, text := range append([]Passage{{Text: p.Title}}, p.Passages...) {
			eachWord(text.Text, func(word string) {
				ok := false
				for _, found := range find(word + " ").Pages {
					address, _, _ := strings.Cut(found.Address, "#")
					ok = ok || address == p.Address
				}
				if !ok && p.Address == odd.Address {
					t.Errorf("%s is not found by its word %q", p.Address, word)
				}
			})
		}
	}
}

func TestLanguages(t *testing.T) {
	for tag, c := range map[string][3]string{
		"sv":    {"Fotografierna sköljs", "fotografierna", "fotografiernas"},
		"fr-CA": {"Les révélateurs", "révélateurs", "revelateur"},
		"es":    {"Los reveladores", "reveladores", "revelador"},
	} {
		find := reader(t, files([]Page{{"a.html", c[0], "", nil, "", Read}}, tag))
		for _, typed := range c[1:] {
			if find(typed).first() != "a.html" {
				t.Errorf("%s: %q is not found by %q", tag, c[0], typed)
			}
		}
	}
}

func TestScriptIsTheSameEachTime(t *testing.T) {
	for _, pages := range [][]Page{pages, generated(200)} {
		first := files(pages, "en")
		for range 3 {
			if !maps.EqualFunc(first, files(pages, "en"), bytes.Equal) {
				t.Fatal("the same pages make other files")
			}
		}
		for name, b := range first {
			if bytes.Contains(b, []byte("</")) {
				t.Errorf("%s holds what ends a script element", name)
			}
		}
	}
	if got := reader(t, files(nil, "en"))("film"); got.Count != 0 {
		t.Errorf("a site without pages finds %v", got)
	}
}
