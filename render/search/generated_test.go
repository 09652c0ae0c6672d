package search

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// generated makes pages of the size of the demo's, about 45 passages of 14 words. The words follow
// Zipf's law, as in any text (common knowledge, no source); their number grows with the pages,
// since every page has a few of its own.
func generated(n int) []Page {
	random := rand.New(rand.NewPCG(1, 2))
	zipf := rand.NewZipf(random, 1.1, 8, 6000)
	syllables := strings.Fields("ba de fi go lu mar net pol rin sto ter vel win cha dro ling over tion sing ment")
	word := func(i uint64) string {
		var b strings.Builder
		for i += 20; i > 0; i /= 20 {
			b.WriteString(syllables[i%20])
		}
		return b.String()
	}
	sentence := func(page, words int) string {
		out := make([]string, words)
		for i := range out {
			out[i] = word(zipf.Uint64())
			if random.IntN(100) == 0 {
				out[i] = word(uint64(10000 + page*10 + random.IntN(10)))
			}
		}
		return strings.Join(out, " ") + "."
	}
	var all []Page
	for i := range n {
		p := Page{Address: fmt.Sprintf("section-%d/page-%d.html", i%20, i), Title: sentence(i, 4), Where: "Section " + word(uint64(i%20))}
		for k := range 45 {
			x := Passage{Text, fmt.Sprint("part-", k/6), sentence(i, 14), nil}
			if k%6 == 0 {
				x.Field, x.Text = Heading, sentence(i, 3)
			}
			p.Passages = append(p.Passages, x)
		}
		all = append(all, p)
	}
	return all
}
