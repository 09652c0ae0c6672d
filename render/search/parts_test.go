package search

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
)

// mostLoaded is how many bytes a question may load on a site of ten thousand pages, in all rounds
// and with the first file.
const mostLoaded = 300e3

// bounded makes the files of a site with other bounds.
func bounded(pages []Page, b bounds) map[string][]byte {
	out := map[string][]byte{}
	x := NewIndex("en", nil, func(name string, b []byte) { out[name] = bytes.Clone(b) })
	x.bounds = b
	for _, p := range pages {
		x.Add(p)
	}
	x.Close()
	return out
}

// A site in parts gives the same answers as a site in one file: for its own words, beginnings of
// them, mistyped ones, and several at once.
func TestPartsAnswerAsOneFileDoes(t *testing.T) {
	pages := generated(60)
	parts := bounded(pages, bounds{inline: 60, beginning: 1000})
	find, loaded := loader(t, parts)
	one := reader(t, bounded(pages, bounds{whole: 1 << 30}))
	random := rand.New(rand.NewPCG(3, 4))
	words := strings.Fields(pages[7].Title + pages[30].Passages[3].Text + pages[59].Passages[20].Text)
	word := func() string { return strings.ToLower(strings.TrimSuffix(words[random.IntN(len(words))], ".")) }
	mistyped := func(w string) string {
		i := random.IntN(len(w))
		switch random.IntN(4) {
		case 0:
			return w[:i] + w[i+1:]
		case 1:
			return w[:i] + "x" + w[i:]
		case 2:
			return w[:i] + "q" + w[i+1:]
		}
		return w[:i] + string(slices.Concat([]byte(w[min(i+1, len(w)-1):][:1]), []byte(w[i:i+1]))) + w[min(i+2, len(w)):]
	}
	found, kinds := 0, map[string]bool{}
	for range 7 {
		w := word()
		for _, typed := range []string{w + " ", w, w[:max(3, len(w)-2)], w + " " + word() + " ", word() + " " + word() + " " + w[:max(3, len(w)/2)], mistyped(w) + " ", w + "ing "} {
			want, got := one(typed), find(typed)
			found += got.Count
			if want.Count != got.Count || want.All != got.All {
				t.Fatalf("%q: %d pages, all %v, in parts; %d, %v, in one file", typed, got.Count, got.All, want.Count, want.All)
			}
			for _, name := range loaded() {
				kind, _, _ := strings.Cut(strings.TrimPrefix(name, Folder), "-")
				kinds[kind] = true
			}
			// A list of many words with one beginning is made in advance, and rounded once more.
			if !slices.ContainsFunc(strings.Fields(typed), func(w string) bool { return parts[Folder+"start-"+shortName(w)+".js"] != nil }) {
				if a, b := fmt.Sprint(want), fmt.Sprint(got); a != b {
					t.Fatalf("%q: in parts %s\nin one file %s", typed, b, a)
				}
			}
		}
	}
	if found == 0 || len(kinds) != 5 {
		t.Errorf("%d pages were found, by parts of the kinds %v", found, kinds)
	}
}

// A beginning of many words loads one list, whose best page has such a word in its title.
func TestBeginningsOfManyWords(t *testing.T) {
	find, loaded := loader(t, bounded(generated(60), bounds{inline: 60, beginning: 1000}))
	r := find("ma")
	if names := loaded(); !slices.ContainsFunc(names, func(name string) bool { return strings.HasPrefix(name, Folder+"start-") }) {
		t.Fatalf("loaded %v", names)
	}
	if _, marked := said(r.Pages[0].Title); !strings.HasPrefix(strings.ToLower(marked), "[ma") {
		t.Errorf("the best page has %q marked in its title", marked)
	}
}

// No part is large, so no question loads much: few parts make an answer.
func TestQuestionsLoadLittle(t *testing.T) {
	pages := generated(400)
	made := files(pages, "en")
	for _, typed := range []string{"marnet ", "marnet st", "m", pages[100].Passages[1].Text[:70] + " ", "xarnet", "marnets ", pages[200].Title} {
		find, loaded := loader(t, made)
		if find(typed).Count == 0 {
			t.Errorf("%q finds nothing", typed)
		}
		sum := len(made[File])
		for _, name := range loaded() {
			sum += len(made[name])
		}
		t.Logf("%-50q %6d bytes", typed, sum)
		// Only lists grow with the pages, and find.js loads no more than 125 KB of them.
		if sum > mostLoaded-125e3 {
			t.Errorf("%q loads %d bytes", typed, sum)
		}
	}
}

// One more word on a page changes the page's part and the parts of that word.
func TestOnePageChangesFewFiles(t *testing.T) {
	pages := generated(600)
	before := files(pages, "en")
	pages[300].Passages = slices.Insert(slices.Clone(pages[300].Passages), 2, Passage{Text, "", "Quokkas were seen.", nil})
	after := files(pages, "en")
	var changed []string
	for name, b := range after {
		if !bytes.Equal(b, before[name]) {
			changed = append(changed, name)
		}
	}
	for name := range before {
		if after[name] == nil {
			changed = append(changed, name)
		}
	}
	if len(changed) > 12 {
		slices.Sort(changed)
		t.Errorf("%d of %d files change: %v", len(changed), len(after), changed)
	}
	// One more page renumbers those after it, and old parts can be told from new ones.
	more := files(append(generated(1), pages...), "en")
	for name, b := range more {
		if strings.HasPrefix(name, Folder) && bytes.Equal(b, after[name]) {
			t.Errorf("%s is as it was, though its pages have other numbers", name)
		}
	}
}

// A part of a version that numbers pages differently is not taken.
func TestPartsOfAnotherVersion(t *testing.T) {
	pages := generated(300)
	made := files(pages, "en")
	for name, b := range files(append(generated(1), pages...), "en") {
		if name != File {
			made[name] = b
		}
	}
	vm := engine(t, made)
	for range 5 {
		r := once(t, vm, "marnet ")
		if len(r.Missing) == 0 {
			t.Fatal("an answer from parts of two versions")
		}
		for _, name := range r.Missing {
			if _, err := vm.RunString(string(made[Folder+name+".js"])); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// A list is read as it was written.
func TestLists(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	type line struct {
		page, level int
		marks       string
	}
	var want, got []line
	s := &stem{}
	for page := 0; page < 1<<20; page += 1 + random.IntN(1<<random.IntN(20)) {
		marks := ""
		for range 1 + random.IntN(mostPlaces) {
			s.take(place{byte(random.IntN(levels)), byte(random.IntN(32))})
		}
		for i, p := range s.best[:s.places] {
			more := byte(32)
			if i == s.places-1 {
				more = 0
			}
			marks += string(alphabet[p.mark|more])
		}
		want = append(want, line{page, int(s.best[0].level), marks})
		s.settle(page)
	}
	eachPage(s.list, func(page int, level byte, places []byte) {
		got = append(got, line{page, int(level), string(places)})
	})
	if !slices.Equal(want, got) {
		t.Errorf("wrote %v\nread %v", want, got)
	}
}

func FuzzText(f *testing.F) {
	for _, text := range []string{"", `a "b" \ </script>`, "\x00\x1f\x7f é \u2028\u2029 \U0001f39e", "\xff\xed\xa0\x80", "&amp; <!--"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b := appendText(nil, text)
		var back string
		if err := json.Unmarshal(b, &back); err != nil || back != strings.ToValidUTF8(text, "\ufffd") && !strings.Contains(back, "\ufffd") {
			t.Errorf("%q is written as %s and read as %q: %v", text, b, back, err)
		}
		if bytes.ContainsAny(b, "<>&\n\r\u2028\u2029") {
			t.Errorf("%q is written as %s", text, b)
		}
	})
}

// Scripts compare texts by UTF-16 units, so what they search must be sorted that way.
func FuzzCompare(f *testing.F) {
	f.Add("a", "ab")
	f.Add("\U00010000", "\ufffd")
	f.Add("é", "e")
	f.Add("\U00010400x", "\U00010400\ue000")
	f.Fuzz(func(t *testing.T, a, b string) {
		a, b = strings.ToValidUTF8(a, "?"), strings.ToValidUTF8(b, "?")
		if want, got := slices.Compare(utf16.Encode([]rune(a)), utf16.Encode([]rune(b))), compare(a, b); want != got {
			t.Errorf("%q and %q: %d, want %d", a, b, got, want)
		}
	})
}
