package source

import (
	"fmt"
	"strings"
)

// Messages about bench formulas.

// BenchKind reports a text that names no kind of quantity.
func BenchKind(text, nearest string, words []string) Problem {
	hint := "Write a unit such as ml or g/l, or one of " + strings.Join(words, ", ") + ", like x, difference of x."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("bench-kind", fmt.Sprintf("%q is not a kind of quantity", text), hint).offering(nearest)
}

// BenchLike reports a kind that points to a parameter that is not before it.
func BenchLike(name, nearest string) Problem {
	return fault("bench-like", fmt.Sprintf("there is no parameter %s before this one", name), offer(nearest, "A kind may be that of a parameter that stands above it."))
}

// BenchGivesAny reports a result of any kind.
func BenchGivesAny() Problem {
	return fault("bench-gives-any", "a result needs a kind", "Write a kind, or like and the parameter whose kind it shares.")
}

// BenchEndTwice reports a range with two ends on one side.
func BenchEndTwice() Problem {
	return fault("bench-end-twice", "this range has two ends on one side", "Write from or above, and to or below.")
}

// BenchTested reports a tested window that is not a pair of parameters.
func BenchTested() Problem {
	return fault("bench-tested", "tested must name the two parameters between which this one was tested", "Write tested: [lowest_tested, highest_tested].")
}

// UnknownParameter reports a name that is not a parameter of the entry.
func UnknownParameter(name, nearest string) Problem {
	return fault("unknown-parameter", fmt.Sprintf("there is no parameter %s", name), offer(nearest, "The parameters are listed under takes.")).offering(nearest)
}

// BenchSwapAlone reports a key that a swap already makes.
func BenchSwapAlone(key string) Problem {
	return fault("bench-swap-alone", "swap already makes "+key, "Leave "+key+" out.")
}

// BenchSwapDiffers reports two chemical formulas that hold different amounts.
func BenchSwapDiffers(a, b string) Problem {
	return fault("bench-swap-differs", fmt.Sprintf("%s and %s do not contain the same amount of one salt", a, b), "Write both for one unit of the salt: NaBO2·4H2O, not Na2B2O4·8H2O, beside NaBO2·2H2O.")
}

// BenchShow reports a show beside a result whose kind is open.
func BenchShow() Problem {
	return fault("bench-show", "this result can be of any kind, so it cannot have a show", "Leave the show out.")
}

// BenchClass reports a source that does not say what it is.
func BenchClass(text string) Problem {
	return fault("bench-class", fmt.Sprintf("%q does not say what kind of source it is", text), "Begin with common practice, no source; from memory; or measured here and the date; or write {class: published, text: …}.")
}

// BenchNotSet reports a check that leaves a parameter out.
func BenchNotSet(name string) Problem {
	return fault("bench-not-set", "this check does not set "+name, "A check sets every parameter; none has a value of its own.")
}

// BenchNameTwice reports the second entry of one name.
func BenchNameTwice(name, where string) Problem {
	hint := "The other one is built in. Choose another name."
	if where != "" {
		hint = "The other one is in " + where + ". Keep one, or choose another name."
	}
	return fault("bench-name-twice", fmt.Sprintf("there are two bench formulas called %s", name), hint)
}

// BenchCycle reports entries that use one another.
func BenchCycle(path string) Problem {
	return fault("bench-cycle", "these bench formulas need one another: "+path, "One of them must be worked out without the others.")
}

// BenchFails reports an entry whose parts do not fit together.
func BenchFails(why string) Problem {
	return fault("bench-fails", why, "Correct the formula, or what it takes and gives.")
}

// BenchTooLarge reports an entry that grows past its limit.
func BenchTooLarge(most int) Problem {
	return fault("bench-too-large", fmt.Sprintf("with everything that it uses, this bench formula has more than %d parts", most), "Use fewer bench formulas in it.")
}

// BenchUnused reports a parameter that nothing uses.
func BenchUnused(name string) Problem {
	return remark("bench-unused", "nothing uses the parameter "+name, "Use it in the formula or in outside, or leave it out.")
}

// BenchCheckRefused reports a check at values that the entry refuses.
func BenchCheckRefused(call, why string) Problem {
	return fault("bench-check-refused", fmt.Sprintf("%s refuses: %s", call, why), "Choose values within its range, or write expect: refused.")
}

// BenchOutOfRange tells a reader about a value outside the range of a bench
// formula; ends are written as quantities, "" if there is none.
func BenchOutOfRange(label, from, above, to, below string) string {
	low, high := "", ""
	switch {
	case above == "0" || strings.HasPrefix(above, "0 "):
		low = "more than zero"
	case above != "":
		low = "more than " + above
	case from != "" && to != "":
		return label + ": must be from " + from + " to " + to + "."
	case from == "0" || strings.HasPrefix(from, "0 ") && !strings.HasPrefix(from, "0 °"):
		low = "zero or more"
	case from != "":
		low = "at least " + from
	}
	switch {
	case to != "":
		high = "at most " + to
	case below != "":
		high = "less than " + below
	}
	if low != "" && high != "" {
		return label + ": must be " + low + " and " + high + "."
	}
	return label + ": must be " + low + high + "."
}

// BenchWhole tells a reader about a number that must be whole.
func BenchWhole(label string) string { return label + ": must be a whole number." }

// BenchNotTested tells a reader about a value outside its tested window.
func BenchNotTested(label string) string {
	return label + ": outside the window in which this was tested."
}
