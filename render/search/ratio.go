package search

import "strings"

// A dilution is an amount, and the search shows none, since it lists a passage without the cautions
// around it. Still a reader may search for the one on the bottle. So a passage says under Ratios
// which ones it mentions, and the index keeps only a hash of each, after the sign of ratios;
// find.js computes the same hash from what is typed. Under the sign alone stand all passages that
// mention any dilution.

// ratioSign begins the name of a ratio; no word begins with it.
const ratioSign = "~"

// ratioName is the name under which a dilution is found, from how pages write it: 1+100.
func ratioName(text string) string { return ratioSign + shortName(text) }

// isRatio reports whether a name is that of a ratio.
func isRatio(name string) bool { return strings.HasPrefix(name, ratioSign) }
