package build

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/work"
	"labsite/render/write"
)

// anyValue makes random values for every field that is kept.
type anyValue struct{ *rand.Rand }

func (v anyValue) text() string {
	return []string{"", "mix.md", "a\x00b", "20\u00a0°C", "\xff\xfe", strings.Repeat("long ", v.IntN(80))}[v.IntN(6)]
}

func (v anyValue) yes() bool { return v.IntN(2) == 0 }

func (v anyValue) number() int {
	return []int{0, 1, -1, 127, 128, -128, 1 << 20, -1 << 62, 1<<63 - 1, -1 << 63, v.Int()}[v.IntN(11)]
}

func (v anyValue) sum() (s content.Sum) {
	for i := range s {
		s[i] = byte(v.Uint32())
	}
	return s
}

func (v anyValue) moment() time.Time {
	if v.yes() {
		return time.Time{}
	}
	return time.Unix(v.Int64N(1<<33), v.Int64N(1e9)).UTC()
}

func several[T any](v anyValue, one func() T) (out []T) {
	for range v.IntN(4) {
		out = append(out, one())
	}
	return out
}

func (v anyValue) diagnostic() source.Diagnostic {
	d := source.Diagnostic{File: v.text(), Line: v.number(), Column: v.number(), Severity: source.Severity(v.text()), Code: v.text(), Message: v.text(), Hint: v.text()}
	return d.Restored(v.text(), v.number(), v.text())
}

func (v anyValue) file() (f File) {
	f.Address = v.text()
	for i := range f.Digest {
		f.Digest[i] = byte(v.Uint32())
	}
	return f
}

func (v anyValue) verdict() work.Verdict {
	return work.Verdict{Page: v.sum(), Sum: v.sum(), Anchors: v.sum(), Wrong: v.yes(), Unlisted: v.yes(), Trusted: v.yes(),
		Asked: several(v, func() work.Answer {
			return work.Answer{Ask: work.Ask{What: work.What(v.IntN(256)), Name: v.text()}, Sum: v.sum()}
		}),
		List: several(v, v.diagnostic), Dues: several(v, v.moment), Words: work.WordSet{Bits: several(v, v.Uint64)}}
}

func (v anyValue) page() keptPage {
	r := &Result{Path: v.text(), Verdict: v.verdict(), found: v.text(), Advice: several(v, v.diagnostic), DataSaid: several(v, v.diagnostic),
		Placings: several(v, v.text), scriptSum: v.sum(), mutationsTried: v.yes(),
		Listed: write.Listed{Calls: several(v, v.text), Measured: several(v, func() write.Measured { return write.Measured{File: v.text(), Line: v.number(), Said: v.text()} }), Guarded: v.yes(), HasCard: v.yes(), Mutations: write.Mutations{Noticed: v.number(), Counted: v.number()}, Constants: several(v, func() write.Constant {
			return write.Constant{Label: v.text(), Source: v.text(), Owner: v.text(), Kind: v.text(), Bits: v.Uint64(), Line: v.number(), Shown: quantity.Shown{Text: v.text()}, Due: v.moment()}
		})},
		Trial: Trial{Readable: v.yes(), Figures: v.number(), Cases: v.number(), Refused: v.number(), Sample: v.yes(), Proved: v.yes(), Verdicts: several(v, func() Tried {
			return Tried{v.text(), v.text(), v.text(), v.text(), v.text(), v.yes()}
		})},
		written: several(v, func() written { return written{v.text(), v.sum(), several(v, v.file)} })}
	return keptPage{r.Path, r}
}

func encoded(pages []keptPage) string {
	c := &coder{}
	each(c, &pages, c.page)
	return string(c.out)
}

// decoded reads pages back; ok is false if the bytes are no pages.
func decoded(text string) (pages []keptPage, rest string, ok bool) {
	c := &coder{reading: true, in: text}
	each(c, &pages, c.page)
	return pages, c.in, !c.bad
}

var comparePages = cmp.Options{
	cmp.AllowUnexported(keptPage{}, Result{}, written{}),
	cmpopts.EquateEmpty(),
	cmp.Comparer(func(a, b source.Diagnostic) bool { return a == b }),
}

// What is written is read back as it was, to the end and no further.
func TestCodeRoundTrip(t *testing.T) {
	for seed := range uint64(300) {
		v := anyValue{rand.New(rand.NewPCG(seed, 1))}
		pages := several(v, v.page)
		text := encoded(pages)
		got, rest, ok := decoded(text + "rest")
		if !ok || rest != "rest" {
			t.Fatalf("seed %d: read is %v, left is %q", seed, ok, rest)
		}
		if d := cmp.Diff(pages, got, comparePages); d != "" {
			t.Fatalf("seed %d (- written, + read):\n%s", seed, d)
		}
		for n := 0; n < len(text); n += 1 + len(text)/40 { // a cut text ends before its last value
			if _, _, ok := decoded(text[:n]); ok {
				t.Fatalf("seed %d: cut to %d of %d bytes it is read", seed, n, len(text))
			}
		}
	}
}

// Every field of a result is written, except those that only the preview has: a new one that is
// forgotten would be missing from the second run on.
func TestCodeKeepsEveryField(t *testing.T) {
	s, list := Open(t.Context(), labOf(t, keptLab), Options{Day: aDay})
	if s == nil {
		t.Fatal(told(list))
	}
	defer s.Close()
	if list, err := s.Check(t.Context()); err != nil || list.Errors() > 0 {
		t.Fatal(err, told(list))
	}
	var pages []keptPage
	for _, r := range s.Results() {
		pages = append(pages, keptPage{r.Path, r})
	}
	got, _, ok := decoded(encoded(pages))
	if !ok {
		t.Fatal("it is not read")
	}
	options := cmp.Options{comparePages, cmpopts.IgnoreFields(Result{}, "Numbers", "generation"), cmpopts.IgnoreFields(quantity.Shown{}, "Number", "Unit")}
	if d := cmp.Diff(pages, got, options); d != "" {
		t.Errorf("(- made, + read):\n%s", d)
	}
}

// FuzzCode reads any bytes as results, which must not panic. What can be read is written and read
// again, and must be the same.
func FuzzCode(f *testing.F) {
	f.Add([]byte(nil))
	f.Add([]byte("\x08nonsense"))
	f.Add([]byte("\xfe\xff\xff\xff\xff\xff\xff\xff\xff\x01"))
	f.Add([]byte(strings.Repeat("\x80", 40)))
	for seed := range uint64(6) {
		v := anyValue{rand.New(rand.NewPCG(seed, 2))}
		f.Add([]byte(encoded(several(v, v.page))))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		pages, _, ok := decoded(string(raw))
		if !ok {
			return
		}
		text := encoded(pages)
		again, rest, ok := decoded(text)
		if !ok || rest != "" {
			t.Fatalf("what was read is not read again: %v, %q is left", ok, rest)
		}
		if d := cmp.Diff(pages, again, comparePages); d != "" {
			t.Fatalf("(- read, + read again):\n%s", d)
		}
	})
}

// A result is the same after its texts were put into one block of memory.
func TestCompactKeepsEverything(t *testing.T) {
	v := anyValue{rand.New(rand.NewPCG(3, 5))}
	for range 500 {
		p := v.page()
		before := encoded([]keptPage{p})
		p.result = p.result.compact()
		if encoded([]keptPage{p}) != before {
			t.Fatalf("%+v is another result", p.result)
		}
	}
}
