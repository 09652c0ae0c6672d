package site

import (
	"fmt"
	"hash/fnv"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode"

	"labsite/recipes/formula"
	"labsite/recipes/formulary"
	"labsite/recipes/hazard"
	"labsite/recipes/sheet"
)

// Beside files, a page depends on bench formulas, on rows of the hazard list and on the
// day. What it asked for is remembered by name, so that a change of formulary/, of
// hazards.yaml or of the date touches the pages alone that could tell. The keys begin with
// a slash, as no path in the content folder does.
const (
	callPrefix      = "/call/"      // a bench formula, by name, whether there is one or not
	everyCall       = "/calls"      // the names of all bench formulas, for an offer
	substancePrefix = "/substance/" // a substance that the page or one drawn on declares
)

// tradesFor are the bench formulas as one page sees them.
func (s *Site) tradesFor(t *Topic) sheet.Trades {
	if s.open == nil && !s.tradesBroken {
		return s.Formulary
	}
	return taker{s, t}
}

// Trade hands a bench formula on; those that it calls itself are asked for here as well.
func (k taker) Trade(name string) (*formula.Trade, bool) {
	k.site.took(k.topic, callPrefix+name, takesName)
	if e, ok := k.site.Formulary.Find(name); ok && e.Own && k.site.tradesBroken {
		k.topic.state.leaning.Store(true)
	}
	return k.site.Formulary.Trade(name)
}

func (k taker) Names() []string {
	k.site.took(k.topic, everyCall, takesName)
	return k.site.Formulary.Names()
}

// traded lists the keys of the bench formulas that two sets have differently.
func traded(old, now *formulary.Set) []string {
	var out []string
	for _, name := range old.Names() {
		before, _ := old.Trade(name)
		after, is := now.Trade(name)
		if !is || before != after && tradeText(before) != tradeText(after) {
			out = append(out, callPrefix+name)
		}
	}
	for _, name := range now.Names() {
		if _, was := old.Trade(name); !was {
			out = append(out, callPrefix+name)
		}
	}
	if !slices.Equal(old.Names(), now.Names()) {
		out = append(out, everyCall)
	}
	return out
}

// tradeText is all of a bench formula that a call can tell; two of one text act alike.
func tradeText(t *formula.Trade) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%q %+v %+v %+v %+v %q", t.Name, t.Params, t.Fixed, t.Result, t.Windows, t.Body.Normal())
	for _, g := range t.Guards {
		fmt.Fprintf(&b, " %q %q", g.When.Normal(), g.Reason)
	}
	return b.String()
}

// rereadHazards reads the lab's own substances again and forgets the pages that name one
// that came, went or changed. What a row says of its substance is looked up when a page is
// written, so another statement or sheet makes no page be worked out again.
func (u *update) rereadHazards() {
	s := u.site
	old, broken := s.Hazards, s.hazardsBroken
	s.Hazards = nil
	s.open.hazards = s.gather(s.readHazards)
	if broken != s.hazardsBroken {
		for _, key := range slices.Collect(maps.Keys(s.open.needs)) {
			if strings.HasPrefix(key, substancePrefix) {
				u.users(key, false)
			}
		}
	}
	changed := rowsChanged(old, s.Hazards)
	if len(changed) == 0 {
		return
	}
	var declared []string
	for key := range s.open.needs {
		if name, is := strings.CutPrefix(key, substancePrefix); is && foundText(old, name) != foundText(s.Hazards, name) {
			declared = append(declared, key)
		}
	}
	for _, key := range declared {
		u.users(key, false)
	}
	for _, t := range s.Topics {
		if t.state.known && slices.ContainsFunc(changed, t.state.words.mayName) {
			u.forget(t)
		}
	}
}

// row is what finding a substance tells of it.
func row(s *hazard.Substance) string {
	text := fmt.Sprintf("%q %q %q %q %q", s.ID, s.Name, s.Synonyms, s.CAS, s.Contains)
	for _, f := range s.Forms {
		text += fmt.Sprintf(" %q %q", f.Name, f.CAS)
	}
	return text
}

// rowsChanged lists the names of the lab's own substances that are found differently. Of
// two that share a name the first has it, so another order changes all.
func rowsChanged(old, now *hazard.OwnSheets) []string {
	before, after := old.Substances(), now.Substances()
	inBefore, inAfter := map[string]bool{}, map[string]bool{}
	for _, x := range before {
		inBefore[row(x)] = true
	}
	for _, x := range after {
		inAfter[row(x)] = true
	}
	var stayed, stay []string
	for _, x := range before {
		if inAfter[row(x)] {
			stayed = append(stayed, row(x))
		}
	}
	for _, x := range after {
		if inBefore[row(x)] {
			stay = append(stay, row(x))
		}
	}
	all := !slices.Equal(stayed, stay)
	var names []string
	take := func(list []*hazard.Substance, known map[string]bool) {
		for _, x := range list {
			if known[row(x)] && !all {
				continue
			}
			names = append(append(names, x.Name), x.Synonyms...)
			for _, f := range x.Forms {
				kind, _, _ := strings.Cut(f.Name, " (")
				names = append(names, kind+" "+x.Name)
			}
		}
	}
	take(before, inAfter)
	take(after, inBefore)
	return names
}

// foundText is what looking a declared name up gives.
func foundText(own *hazard.OwnSheets, name string) string {
	found, near := own.Find(name)
	if found == nil {
		return "offers " + near
	}
	return row(found)
}

// tookSubstances remembers what a page declares.
func (s *Site) tookSubstances(t *Topic, declared []string) {
	for _, name := range declared {
		s.took(t, substancePrefix+name, takesName)
	}
}

// wordSet is the words of a page's texts, in so little room that others may seem to be among
// them: enough to say that a text does not name a substance.
type wordSet struct{ bits []uint64 }

const wordBits = 2048

// hear takes in the words of a text.
func (w *wordSet) hear(text string) {
	if w.bits == nil {
		w.bits = make([]uint64, wordBits/64)
	}
	eachPlainWord(text, func(h uint32) bool {
		w.bits[h/64] |= 1 << (h % 64)
		return true
	})
}

// mayName is false where a text can not have named a substance of this name.
func (w *wordSet) mayName(name string) bool {
	if w.bits == nil {
		return false
	}
	may := true
	eachPlainWord(name, func(h uint32) bool {
		may = w.bits[h/64]&(1<<(h%64)) != 0
		return may
	})
	return may
}

// eachPlainWord cuts a text into words as the hazard list does when it looks for names, in
// one spelling, and hands a number for each on until do returns false.
func eachPlainWord(text string, do func(h uint32) bool) {
	for word := range strings.FieldsFuncSeq(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		h := fnv.New32a()
		h.Write([]byte(hazard.Fold(word)))
		if !do(h.Sum32() % wordBits) {
			return
		}
	}
}

// past tells whether a review is overdue, and remembers of a page that the day decides it.
func (s *Site) past(t *Topic, due time.Time) bool {
	if s.open != nil {
		t.state.dues = append(t.state.dues, due)
	}
	return s.Today.After(due)
}

// Turn says which day it is now, and forgets the pages for which that decides anything. How
// a page looks may differ all the same, since some show the day.
func (s *Site) Turn(now time.Time) Changed {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	old := s.Today
	s.Today = now
	u := &update{site: s, touched: map[string]bool{}, forgot: map[*Topic]bool{}}
	for _, t := range s.Topics {
		if slices.ContainsFunc(t.state.dues, func(due time.Time) bool { return old.After(due) != now.After(due) }) {
			u.forget(t)
		}
	}
	u.rereadHazards()
	s.open.turn()
	return Changed{Pages: len(u.forgot)}
}
