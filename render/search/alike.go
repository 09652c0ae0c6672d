package search

import (
	"slices"
	"strings"
)

// Words that mean one thing come to the index in groups. A group is indexed as if it were a stem of
// its own, under the name of the group: its list has every page that uses a member, and typing any
// member finds it. A member may be several words, which must then follow one another, words that no
// page is found by included. All words of a group are in the vocabulary, whether a page has them or
// not, so that their forms, beginnings and misspellings are known like those of any other.

// group is one such group, while pages are added.
type group struct {
	*stem
	members [][]*stem
	forms   map[string]bool   // how pages write its members, folded
	met     map[string]string // the folded form, by how it is written
}

// member is one way to say what a group means.
type member struct {
	group *group
	stems []*stem
}

// groupSign begins the name of a group; no word begins with it.
const groupSign = "="

// addGroups adds the groups, before any page.
func (x *Index) addGroups(groups [][]string) {
	for _, words := range groups {
		g := &group{stem: &stem{text: groupSign + shortName(strings.Join(words, ","))}, forms: map[string]bool{}, met: map[string]string{}}
		if x.stems[g.text] != nil { // the same group again
			continue
		}
		x.stems[g.text] = g.stem
		for _, text := range words {
			var m member
			eachWord(text, func(word string) { m.stems = append(m.stems, x.stem(word)) })
			if m.group = g; !slices.ContainsFunc(m.stems, func(s *stem) bool { return !s.passed }) {
				continue // nobody searches for just "how" or "the"
			}
			g.members = append(g.members, m.stems)
			m.stems[0].begins = append(m.stems[0].begins, m)
		}
		x.groups = append(x.groups, g)
	}
}

// alikeAt notes the groups that have a member at a place of a passage.
func (x *Index) alikeAt(p parsedPassage, at int) {
	for _, m := range x.stemsOf[p.words[at]].begins {
		end := at + len(m.stems)
		if end > len(p.words) {
			continue
		}
		said := p.words[at:end]
		if !slices.EqualFunc(said, m.stems, func(number int, s *stem) bool { return x.stemsOf[number] == s }) {
			continue
		}
		x.note(m.group.stem, p.place)
		m.group.write(x.entry.words, said)
	}
}

// write notes how a page writes a member.
func (g *group) write(words []string, numbers []int) {
	written := words[numbers[0]]
	for _, n := range numbers[1:] {
		written += " " + words[n]
	}
	if _, ok := g.met[written]; ok {
		return
	}
	var folded []string
	for _, n := range numbers {
		folded = append(folded, fold(words[n]))
	}
	form := strings.Clone(strings.Join(folded, " "))
	g.met[strings.Clone(written)] = form
	g.forms[form] = true
}

// appendGroups writes the groups for find.js. Each has its name; its members, by their stems, or
// for words that no page is found by the word itself after a sign; and how pages write them.
func (x *Index) appendGroups(b []byte) []byte {
	b = append(b, '[')
	for i, g := range x.groups {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendText(append(b, '['), g.text)
		var members []string
		for _, stems := range g.members {
			var tokens []string
			for _, s := range stems {
				if s.passed {
					tokens = append(tokens, groupSign+s.text)
				} else {
					tokens = append(tokens, s.text)
				}
			}
			members = append(members, strings.Join(tokens, " "))
		}
		b = appendText(append(b, ','), strings.Join(members, ","))
		b = appendText(append(b, ','), strings.Join(sorted(g.forms), ","))
		b = append(b, ']')
	}
	return append(b, ']')
}
