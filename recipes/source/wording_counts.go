package source

import "fmt"

// CountOrName is said of 5 ml/rolls where a page has a name rolls; apart divides by the
// name, and joined is the unit in a word that is no name, "" where both are.
func CountOrName(text, word, apart, joined string) Problem {
	hint := "Write " + apart + " to divide by it"
	if joined != "" {
		hint += ", " + joined + " for the unit"
	}
	return fault("count-or-name", fmt.Sprintf("in %s, %s can be a counted thing or a name of this page", text, word), hint+".")
}

// CountIsUnit is said of a lab's own counted thing that is a unit already.
func CountIsUnit(word string) Problem {
	return fault("count-is-unit", word+" is a unit already", "Leave it out of counts, or choose another word.")
}

// CountWord is said of a lab's own counted thing that is not one word.
func CountWord(word string) Problem {
	return fault("count-word", fmt.Sprintf("%q is no word for a counted thing", word), "Write one word of small letters, such as drum.")
}
