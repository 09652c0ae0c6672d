package hazard

import (
	"cmp"
	"slices"
	"strings"
)

// pictogramOrder puts every symbol before those that it removes or makes
// optional on a label (CLP Art. 26, read in translation).
var pictogramOrder = []string{"GHS01", "GHS06", "GHS05", "GHS08", "GHS02", "GHS03", "GHS04", "GHS07", "GHS09"}

// wordRank orders the two signal words of GHS; a higher one removes a lower one
// (CLP Art. 20(3), read in translation; 29 CFR 1910.1200 App. C, C.2.1).
func wordRank(word string) int {
	switch word {
	case "Danger":
		return 2
	case "Warning":
		return 1
	}
	return 0
}

func higherWord(a, b string) string {
	if wordRank(b) > wordRank(a) {
		return b
	}
	return a
}

// demanded gives the signal word and pictograms of one statement, by the class
// that it stands for where the statement has several categories; with an
// unknown class the most severe is taken.
func demanded(code string, classes []Class) (word string, pictograms []string) {
	s := Built().statements[code]
	if s == nil {
		return "", nil
	}
	word, pictograms = s.SignalWord, s.Pictograms
	for _, c := range classes {
		if c.Statement != code {
			continue
		}
		for _, v := range s.Variants {
			if strings.TrimPrefix(v.Category, "Category ") == category(c.Class) {
				return v.SignalWord, v.Pictograms
			}
		}
	}
	return word, pictograms
}

// category is the last word of a class: 1A of `Skin Corr. 1A`, also where
// brackets follow.
func category(class string) string {
	class, _, _ = strings.Cut(class, " (")
	return class[strings.LastIndex(class, " ")+1:]
}

// LabelOf gives the signal word ("Danger", "Warning" or "") and the pictograms
// that statements demand, in the order of precedence, after the rules of CLP
// Art. 26: GHS06 removes GHS07; GHS05 removes GHS07 for skin or eye irritation;
// GHS08 for respiratory sensitisation removes GHS07 for skin sensitisation and
// for skin or eye irritation. GHS02 and GHS03 beside GHS01 are only optional and
// are kept. Classes decide between categories; they may be nil.
func LabelOf(statements []string, classes []Class) (word string, pictograms []string) {
	brought := map[string][]string{} // pictogram to the statements that bring it
	for _, code := range statements {
		w, p := demanded(code, classes)
		word = higherWord(word, w)
		for _, g := range p {
			brought[g] = append(brought[g], code)
		}
	}
	irritation := func(code string) bool {
		return code == "H315" || code == "H319" || code == "H320" || code == "H315+H320"
	}
	keep := slices.DeleteFunc(slices.Clone(brought["GHS07"]), func(code string) bool {
		switch {
		case len(brought["GHS06"]) > 0:
			return code != "H420" // the ozone layer is not a health hazard
		case len(brought["GHS05"]) > 0 && irritation(code):
			return true
		case slices.Contains(brought["GHS08"], "H334"):
			return code == "H317" || irritation(code)
		}
		return false
	})
	brought["GHS07"] = keep
	for _, g := range pictogramOrder {
		if len(brought[g]) > 0 {
			pictograms = append(pictograms, g)
		}
	}
	return word, pictograms
}

// leastLabel is LabelOf with the mildest category of every statement that has
// several: what any label with these statements must bear.
func leastLabel(statements []string) (word string, pictograms []string) {
	var classes []Class
	for _, code := range statements {
		s := Built().statements[code]
		if s == nil || len(s.Variants) == 0 {
			continue
		}
		mildest := slices.MinFunc(s.Variants, func(a, b Variant) int {
			return cmp.Or(cmp.Compare(wordRank(a.SignalWord), wordRank(b.SignalWord)), cmp.Compare(len(a.Pictograms), len(b.Pictograms)))
		})
		classes = append(classes, Class{Class: "any " + strings.TrimPrefix(mildest.Category, "Category "), Statement: code})
	}
	return LabelOf(statements, classes)
}

// absorb leaves out statements that the law does not repeat beside a stronger
// one of the same kind: H400 with H410, H401 with H411, H402 with H412 and H318 with
// H314 (UN GHS 1.4.10.5.3.3, from memory; every row of CLP Annex VI that was read shows
// the first), and H315 and H319 with H314, H319 with H318 (from memory).
func absorb(statements []string) []string {
	has := func(code string) bool { return slices.Contains(statements, code) }
	return slices.DeleteFunc(slices.Clone(statements), func(code string) bool {
		switch code {
		case "H400":
			return has("H410")
		case "H401":
			return has("H411")
		case "H402":
			return has("H412")
		case "H318", "H315":
			return has("H314")
		case "H319":
			return has("H314") || has("H318")
		}
		return false
	})
}
