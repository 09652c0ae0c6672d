package search

import "strings"

// A dilution is an amount, and the search shows none: a passage is in a list without the
// cautions around it. Still a reader may look for the one that his bottle names. So a passage
// says under Ratios which it speaks of, and what is kept of that is a number that does not
// tell the dilution, under the sign of ratios; find.js works the same number out of what is
// typed. Under the sign alone stand all passages that speak of any dilution.

// ratioSign begins the name of a ratio; no word begins so.
const ratioSign = "~"

// ratioName is the name under which a dilution as pages write it, 1+100, is found.
func ratioName(text string) string { return ratioSign + shortName(text) }

// isRatio tells whether a name is that of a ratio.
func isRatio(name string) bool { return strings.HasPrefix(name, ratioSign) }
