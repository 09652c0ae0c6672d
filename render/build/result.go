package build

import (
	"labsite/recipes/guard"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/machine"
	"labsite/render/search"
	"labsite/render/work"
	"labsite/render/write"
)

// Result is what is kept of a page after it is worked out. What that found never changes;
// mutations, script and files are noted later, under the lock of the memory.
type Result struct {
	Path string
	work.Verdict
	Listed write.Listed
	// found is the page's search entry, packed.
	found string
	// Numbers are the page's numbers, kept only for the preview, which compares them; nil if the
	// page could not be worked out.
	Numbers []work.Number
	// Trial is how its checks went.
	Trial Trial
	// Advice is for the page's writer; it stops nothing.
	Advice source.List
	// DataSaid is what is wrong with the data files that the page asks for.
	DataSaid source.List
	// Placings are the files that the page shows or links to.
	Placings []string
	// mutationsTried says that Listed.Mutations is known: the page's formulas were changed on
	// purpose, to count the changes that its checks notice.
	mutationsTried bool
	// outcomes say what came of each change, only on a followed site, whose lock guards them.
	outcomes []guard.Outcome
	// scriptSum is over the script that agreed with Go and the values at which it was tried; zero
	// where none has agreed yet.
	scriptSum content.Sum
	written   []written // by audience

	generation int // of the folder, the last one for which the result was found to hold
}

// Trial is how the checks of a page went, as a terminal shows it.
type Trial struct {
	Readable       bool // its front matter could be read
	Figures        int
	Cases, Refused int
	Sample         bool // the cases are a sample, since the ranges have too many
	Proved         bool
	Verdicts       []Tried
}

// Tried is the verdict on one expectation of a check.
type Tried struct {
	Case, What, Expected, Found, Source string
	OK                                  bool
}

// resultOf extracts what is kept of a page.
func resultOf(d *work.Desk, p *work.Page) *Result {
	r := &Result{Path: p.Path, Verdict: p.Verdict(), Listed: write.ListedOf(p), Trial: trialOf(p), Advice: p.Advice()}
	r.found = packed(entryOf(p))
	for _, a := range r.Asked {
		if a.What == work.Data {
			r.DataSaid = append(r.DataSaid, d.Content.TableList(a.Name)...)
		}
	}
	seen := map[string]bool{}
	for _, x := range p.Placings() {
		if !seen[x.Path] {
			seen[x.Path] = true
			r.Placings = append(r.Placings, x.Path)
		}
	}
	return r
}

func entryOf(p *work.Page) search.Entry { return search.Ready(p.Title(), machine.Passages(p)) }

func trialOf(p *work.Page) (t Trial) {
	if p.Sheet != nil {
		t.Readable = true
		t.Figures = len(p.Sheet.Figures)
	}
	if p.Proof == nil {
		return t
	}
	t.Proved, t.Cases, t.Refused, t.Sample = true, p.Proof.Cases, p.Proof.Refused, p.Proof.Sample()
	for _, v := range p.Proof.Verdicts {
		expected := v.Expected
		if v.Check.Holds == page.Refuse {
			expected = "refused"
		}
		t.Verdicts = append(t.Verdicts, Tried{v.At, v.What, expected, v.Found, v.Source, v.OK})
	}
	return t
}

// written lists files on an audience's site, with the sum of all that they were written from.
type written struct {
	audience string
	key      content.Sum
	files    []File
}

// filesOf lists the files of a page if they were written from the same inputs, else nil.
func (r *Result) filesOf(a page.Audience, key content.Sum) []File {
	return filesUnder(r.written, a, key)
}

func filesUnder(all []written, a page.Audience, key content.Sum) []File {
	for _, w := range all {
		if w.audience == string(a) && w.key == key && key != (content.Sum{}) {
			return w.files
		}
	}
	return nil
}

// withFiles returns the list with the files of one audience replaced.
func withFiles(all []written, a page.Audience, key content.Sum, files []File) []written {
	next := []written{{string(a), key, files}}
	for _, w := range all {
		if w.audience != string(a) {
			next = append(next, w)
		}
	}
	return next
}
