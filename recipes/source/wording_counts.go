package source

import "fmt"

// CountOrName reports 5 ml/rolls where a page has a name rolls; apart divides by the
// name, and joined writes the unit with a word that is not a name, "" if both words are.
func CountOrName(text, word, apart, joined string) Problem {
	hint := "Write " + apart + " to divide by it"
	if joined != "" {
		hint += ", " + joined + " for the unit"
	}
	return fault("count-or-name", fmt.Sprintf("in %s, %s can be a counted thing or a name of this page", text, word), hint+".")
}

// CountIsUnit reports a lab's own counted thing that is a unit already.
func CountIsUnit(word string) Problem {
	return fault("count-is-unit", word+" is a unit already", "Leave it out of counts, or choose another word.")
}

// CountWord reports a lab's own counted thing that is not one word.
func CountWord(word string) Problem {
	return fault("count-word", fmt.Sprintf("%q cannot be the name of a counted thing", word), "Write one word in lower case, such as drum.")
}
