package hazard

import "labsite/recipes/source"

// Caution is a safety message that is not about one chemical. Word is a signal
// word of ANSI Z535.6: DANGER, WARNING, CAUTION or NOTICE.
type Caution struct {
	Name string `json:"name"` // what a page places it by
	Word string `json:"word"`
	Text string `json:"text"`
}

// StandingCaution gives a caution by name; if there is none, nearest is the
// name spelled most like it, or "".
func StandingCaution(name string) (c Caution, ok bool, nearest string) {
	var all []string
	for _, c := range Built().Cautions {
		if c.Name == name {
			return c, true, ""
		}
		all = append(all, c.Name)
	}
	return Caution{}, false, source.Nearest(name, all)
}

// StandingNotice is the text shown with every list of substances, unless
// the site has one of its own.
func StandingNotice() string { return Built().Notice }
