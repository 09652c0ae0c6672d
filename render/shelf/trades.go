package shelf

import "slices"

// Trade is a kind of work that a lab may do.
type Trade struct {
	// Name is what one types, Says explains it.
	Name, Says string
	// topics are the topics of the pages that belong to it.
	topics []string
}

// Trades are the kinds of work that the shelf has pages for. A page belongs to every trade that has
// one of its topics; a page that belongs to none is for every lab.
var Trades = []Trade{
	{"film", "develops film by hand", []string{"developing", "mixing", "waste"}},
	{"colour-film", "runs a colour-negative line", []string{"colour film", "waste"}},
	{"colour-paper", "prints colour paper in a roller machine", []string{"colour paper", "waste"}},
	{"enlarging", "prints under an enlarger", []string{"printing"}},
	{"inkjet", "prints with monochrome inks", []string{"inkjet"}},
	{"cameras", "measures cameras and teaches exposure", []string{"cameras", "exposure"}},
	{"shop", "sells chemistry, takes orders, keeps a stock", []string{"shop"}},
}

// Names are the names of all trades.
func Names() []string {
	out := make([]string, len(Trades))
	for i, t := range Trades {
		out[i] = t.Name
	}
	return out
}

// belongs reports whether a page with these topics is for a lab that works in these trades.
func belongs(topics, does []string) bool {
	common := true
	for _, t := range Trades {
		if !slices.ContainsFunc(topics, func(topic string) bool { return slices.Contains(t.topics, topic) }) {
			continue
		}
		if slices.Contains(does, t.Name) {
			return true
		}
		common = false
	}
	return common
}
