package formula

import (
	"slices"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// A text is the number of a word in a list, and each part of a formula that is a text has its
// own list of all words that it can come to (Node.Words), which is known before anything
// runs. Where two lists meet, in a comparison, in the branches of an if, in a key, one side
// is renumbered by the other's list.

// Renumber is a text by its number in another list of words, -1 if that lacks it.
var Renumber = &Operation{
	Form: "a text among others", Gives: "the same text, by its number in another list of texts",
	Example: Example{`(2 < 1 ? "sheet" : first(times.film)) == "roll"`, "yes"},
	Exact:   true,
	kinds: func(_ *inference, n *Node) *Node {
		n.Kind = quantity.Text
		return n
	},
	work: func(n *Node, f *Frame) float64 {
		if v := n.Args[0].Eval(f); v >= 0 && v < float64(len(n.Numbers)) {
			return n.Numbers[int(v)]
		}
		return -1
	},
	slopes: flat, Jumps: true,
	span: func(s Spans, n *Node) Span {
		x := s.Of(n.Args[0])
		out := []float64{}
		for i, to := range n.Numbers {
			if x.Holds(float64(i)) && !slices.Contains(out, to) {
				out = append(out, to)
			}
		}
		return Few(append(out, -1)...)
	},
	script: func(w Writer, n *Node, _ func(*Node) string) string {
		return w.Help(n.Op.helper) + "(" + w.List(n.Numbers) + "," + w.Value(n.Args[0]) + ")"
	},
	helper: &Helper{"w", "(numbers, text) => text in numbers ? numbers[text] : -1"},
	own:    func(n *Node) Ownership { return ownedTogether(n.Args) },
}

// renumbered is a text by its numbers in a list of words, -1 for words that it lacks.
func renumbered(n *Node, words []string) *Node {
	if beginsWith(words, n.Words) {
		return n
	}
	c := *n
	c.Words = words
	switch {
	case n.Op == Num:
		c.Value = float64(slices.Index(words, n.Words[int(n.Value)]))
		return &c
	case n.Op.Decides == HandsOn && len(n.Args) == 3: // an if
		c.Args = []*Node{n.Args[0], renumbered(n.Args[1], words), renumbered(n.Args[2], words)}
		return &c
	}
	out := &Node{Op: Renumber, Kind: quantity.Text, Words: words, Args: []*Node{n}, Start: n.Start, End: n.End}
	at := map[string]float64{}
	for i, w := range words {
		at[w] = float64(i)
	}
	for _, w := range n.Words {
		to, ok := at[w]
		if !ok {
			to = -1
		}
		out.Numbers = append(out.Numbers, to)
	}
	return out
}

// Among is a text by its numbers in a list of words; nil if it is not a text, or can come to
// one that the list lacks.
func (n *Node) Among(words []string) *Node {
	if n.Kind != quantity.Text || slices.ContainsFunc(n.Words, func(w string) bool { return !slices.Contains(words, w) }) {
		return nil
	}
	return renumbered(n, words)
}

func beginsWith(words, with []string) bool {
	return len(with) <= len(words) && slices.Equal(words[:len(with)], with)
}

// joinedWords lists the words of both, those of the first in their places; common says that they
// share one.
func joinedWords(a, b []string) (all []string, common bool) {
	if beginsWith(a, b) {
		return a, len(b) > 0
	}
	in := map[string]bool{}
	for _, w := range a {
		in[w] = true
	}
	all = slices.Clone(a)
	for _, w := range b {
		if in[w] {
			common = true
		} else {
			all = append(all, w)
		}
	}
	return all, common
}

// compareTexts puts two texts into one list of words; a text in quotes must be one of those
// that the other side can come to.
func (in *inference) compareTexts(n, a, b *Node) *Node {
	if a.Kind == quantity.Yes || b.Kind == quantity.Yes {
		return in.yesBesideText(n, a, b)
	}
	if a.Kind != quantity.Text || b.Kind != quantity.Text || a.Op == Num && b.Op == Num {
		return in.fail(source.TextBeside(), n.Start, n.End)
	}
	switch {
	case a.Op == Num:
		if !slices.Contains(b.Words, a.Words[0]) {
			return in.noSuchWord(a, b.Words)
		}
		a, b = b, a
	case b.Op == Num && !slices.Contains(a.Words, b.Words[0]):
		return in.noSuchWord(b, a.Words)
	}
	words, common := joinedWords(a.Words, b.Words)
	if !common {
		return in.fail(source.TextsApart(in.full(a), in.full(b)), n.Start, n.End)
	}
	n.Kind, n.Args = quantity.Yes, []*Node{a, renumbered(b, words)}
	return n
}

// yesBesideText reports a comparison of a yes or no with a text, most likely 'yes' or 'no'.
func (in *inference) yesBesideText(n, a, b *Node) *Node {
	if b.Kind == quantity.Yes {
		a, b = b, a
	}
	name := in.full(a)
	instead := name
	if (b.Op == Num && b.Words[0] == "no") != (n.Op.Signs[0] == "!=") {
		instead = "not " + name
	}
	return in.fail(source.YesBesideText(name, instead), n.Start, n.End)
}

// noSuchWord reports a text in quotes that the other side never comes to.
func (in *inference) noSuchWord(quote *Node, words []string) *Node {
	return in.fail(source.NotAChoice(quote.Words[0], source.Nearest(quote.Words[0], words), words), quote.Start, quote.End)
}
