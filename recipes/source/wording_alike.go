package source

import "fmt"

// AlikeGroup is said of an item of alike that is no list of at least two.
func AlikeGroup() Problem {
	return fault("alike-group", "words alike are lists of two or more that mean one thing", "Write them in brackets: alike: [[hypo, fixer], [top up, replenish]].")
}

// AlikeWord is said of a word in alike that has no letter, or is a whole sentence.
func AlikeWord(text string, most int) Problem {
	return fault("alike-word", fmt.Sprintf("%q is not what somebody types into a search", text), fmt.Sprintf("Write one to %d words of letters or digits.", most))
}

// AlikeAmount is said of an amount in alike.
func AlikeAmount(text string) Problem {
	return fault("alike-amount", fmt.Sprintf("%q is an amount, and the search holds none", text), "Leave it out: a dilution leads to the pages that speak of it by itself.")
}

// AlikeTwice is said of a word that stands in its group twice.
func AlikeTwice(text string) Problem {
	return fault("alike-twice", fmt.Sprintf("%q stands in this group twice", text), "Write it once; capitals make no difference.")
}
