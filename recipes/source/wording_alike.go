package source

import "fmt"

// AlikeGroup reports an item of alike that is not a list of at least two.
func AlikeGroup() Problem {
	return fault("alike-group", "words that mean the same go in a list of two or more", "Write them in brackets: alike: [[hypo, fixer], [top up, replenish]].")
}

// AlikeWord reports a word in alike that has no letter, or is a whole sentence.
func AlikeWord(text string, most int) Problem {
	return fault("alike-word", fmt.Sprintf("%q is not something anyone types into a search", text), fmt.Sprintf("Write one to %d words of letters or digits.", most))
}

// AlikeAmount reports an amount in alike.
func AlikeAmount(text string) Problem {
	return fault("alike-amount", fmt.Sprintf("%q is an amount, which cannot be a search word", text), "Leave it out: searching for a dilution already finds the pages that mention it.")
}

// AlikeTwice reports a word that is in its group twice.
func AlikeTwice(text string) Problem {
	return fault("alike-twice", fmt.Sprintf("%q is in this group twice", text), "Write it once; capitals make no difference.")
}
