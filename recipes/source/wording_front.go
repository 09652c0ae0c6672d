package source

import "fmt"

// Messages about front matter and YAML.

// NoFrontMatter reports a page that does not begin with front matter.
func NoFrontMatter() Problem {
	return fault("no-front-matter", "this page has no front matter", "Begin the file with a line of three hyphens, the keys title and audience, and another line of three hyphens.")
}

// FrontMatterOpen reports front matter that is not closed.
func FrontMatterOpen() Problem {
	return fault("front-matter-open", "the front matter is not closed", "Put a line of three hyphens after its last key.")
}

// FrontMatterMap reports front matter, or a YAML file, that is not a set of keys.
func FrontMatterMap() Problem {
	return fault("front-matter-map", "this is not a set of keys", "Write keys and values, such as title: Washing film.")
}

// FrontMatterTooLarge reports front matter, or a YAML file, beyond its bounds.
func FrontMatterTooLarge() Problem {
	return fault("front-matter-too-large", "this is too large or nested too deep", "At most 8,000 keys and 50,000 values, nested at most 64 levels deep.")
}

// YAMLUnreadable passes on what the YAML reader says.
func YAMLUnreadable(message string) Problem {
	return fault("bad-yaml", "YAML cannot read this: "+message, "Look at the indentation, brackets and quotes here and on the line above. A text with special characters goes in quotes.")
}

// NoColon reports a line whose key has no colon.
func NoColon(key, value string) Problem {
	hint := "Write " + key + ": and its value."
	if value != "" {
		hint = "Write " + key + ": " + short(value) + "."
	}
	return fault("no-colon", "a colon is missing after "+key, hint)
}

// NoBlankAfterColon reports exact:tank.
func NoBlankAfterColon(key, value string) Problem {
	return fault("no-blank-after-colon", "a space is missing after the colon of "+key, "Write "+key+": "+short(value)+".")
}

// NoBlankAfterDash reports -do: Fix.
func NoBlankAfterDash(text string) Problem {
	return fault("no-blank-after-dash", "a space is missing after this dash", "Write - "+short(text[1:])+".")
}

// short is the beginning of a text, as much as a hint may repeat.
func short(text string) string {
	runes := []rune(text)
	if len(runes) <= 40 {
		return text
	}
	return string(runes[:39]) + "…"
}

// TabIndents reports the first of the lines that are indented with tabs.
func TabIndents(lines int) Problem {
	message := "a tab indents this line, and YAML allows only spaces"
	if lines > 1 {
		message = fmt.Sprintf("a tab indents this line and %d more, and YAML allows only spaces", lines-1)
	}
	return fault("tab", message, "Put two spaces for each tab. Most editors can be set to write spaces when the tab key is pressed.")
}

// NotClosed reports a bracket or a quote that is opened and not closed.
func NotClosed(sign string) Problem {
	closing, what := sign, "this quote"
	switch sign {
	case "{":
		closing, what = "}", "this brace"
	case "[":
		closing, what = "]", "this bracket"
	}
	return fault("not-closed", what+" is opened and not closed", "Add "+closing+" where it ends, most likely at the end of this line.")
}

// NotOpened reports a quote that ends a text and has none before it.
func NotOpened(sign string) Problem {
	return fault("not-opened", "this quote closes nothing", "Add "+sign+" where the text begins, or remove this one.")
}

// ClosesNothing reports a closing bracket without an opening one.
func ClosesNothing(sign string) Problem {
	what := "brace"
	opening := "{"
	if sign == "]" {
		what, opening = "bracket", "["
	}
	return fault("closes-nothing", "this "+what+" closes nothing", "Remove it, or add the "+opening+" that belongs to it.")
}

// IndentedDeeper reports a line that is indented further than the level above it; above is that
// level's last key, "" if it has none. goesOn says that the line may continue a text.
func IndentedDeeper(got, want int, above string, goesOn bool) Problem {
	hint := "Begin it " + afterBlanks(want)
	if above != "" {
		hint += ", below " + above
	}
	hint += "."
	if goesOn {
		hint += " If it continues the text above, put that whole text in double quotes."
	}
	return fault("indentation", fmt.Sprintf("this line has %s too many", blanks(got-want)), hint)
}

// IndentedLess reports the first line of a block, where the next one is indented further.
func IndentedLess(got, want int, below string) Problem {
	return fault("indentation", fmt.Sprintf("this line has %s too few", blanks(want-got)), fmt.Sprintf("Begin it %s, above %s.", afterBlanks(want), below))
}

// IndentedBetween reports a line that is between two levels.
func IndentedBetween(got, deeper int, inner string, outer int, outerName string) Problem {
	hint := fmt.Sprintf("Begin it %s, below %s, or %s, below %s.", afterBlanks(deeper), inner, afterBlanks(outer), outerName)
	return fault("indentation", fmt.Sprintf("this line begins %s, unlike any line above it", afterBlanks(got)), hint)
}

func blanks(n int) string {
	if n == 1 {
		return "1 space"
	}
	return fmt.Sprintf("%d spaces", n)
}

func afterBlanks(n int) string {
	if n == 0 {
		return "at the margin"
	}
	return "after " + blanks(n)
}

// TypographicQuotes reports “…” that were meant as YAML's quotes.
func TypographicQuotes(sign string) Problem {
	return fault("typographic-quotes", sign+" is not a quote to YAML, so the text after it counts as unquoted", "Put the text in straight double quotes: \"…\".")
}

// CommaOrColon reports a comma in braces, where the key after it may be missing its colon.
func CommaOrColon(word string) Problem {
	p := QuoteForYAML("comma")
	return fault("quote-for-yaml", p.Message, "Put the whole text in double quotes; or, if "+word+" is a key, write "+word+": with a colon and a space.")
}

// ColonOrComma reports a colon in braces, where a comma may be missing before its key.
func ColonOrComma(word string) Problem {
	p := QuoteForYAML("colon")
	return fault("quote-for-yaml", p.Message, "Put the whole text in double quotes; or, if "+word+" is a key, put a comma before it.")
}

// NoMergeKey reports <<.
func NoMergeKey() Problem {
	return fault("no-merge-key", "<< is not part of a page", "Write the keys out.")
}

// KeyNotText reports a key that is a list or a map.
func KeyNotText() Problem {
	return fault("key-not-text", "a key must be a word", "Write a name and a colon.")
}

// QuoteForYAML reports the sign for which a text needs quotes.
func QuoteForYAML(sign string) Problem {
	what := "this " + sign
	if len(sign) <= 2 {
		what = "a text that starts with " + sign
	}
	return fault("quote-for-yaml", "YAML gives "+what+" a meaning of its own", "Put the whole text in double quotes.")
}

// CutShort reports a # that YAML takes for a comment.
func CutShort(rest string) Problem {
	return fault("cut-short", fmt.Sprintf("YAML cuts the text short here: %s becomes a comment", rest), "Put the whole text in double quotes; a comment has a space after its #.")
}

// RepeatedKey reports the second of two equal keys.
func RepeatedKey(key string) Problem {
	return fault("repeated-key", fmt.Sprintf("the key %s is here a second time", key), "Keep one of the two.")
}

// UnknownKey reports a key that has no meaning where it is.
func UnknownKey(key, nearest string, known []string) Problem {
	hint := "The keys here are " + listed(known) + "."
	if nearest != "" {
		hint = "Did you mean " + nearest + "?"
	}
	return fault("unknown-key", fmt.Sprintf("there is no key %q here", key), hint).offering(nearest)
}

// MissingKey reports a required key that is not there.
func MissingKey(key, example string) Problem {
	return fault("missing-key", "the key "+key+" is missing", "Add "+example+".")
}

// ValueMissing reports a required key with nothing after its colon.
func ValueMissing(key, example string) Problem {
	return fault("missing-key", "the key "+key+" has no value", "Write "+example+".")
}

// WantsShape reports a value of the wrong YAML shape.
func WantsShape(key, want string) Problem {
	return fault("wrong-shape", key+" must be "+want, "Look at the dashes, colons, brackets and indentation here.")
}

// WantsWholeNumber reports a key whose value is no whole number, or not written as one.
func WantsWholeNumber(key string) Problem {
	return fault("wrong-shape", key+" must be a whole number", "Write digits alone, such as 3, with no unit, no point and no zero in front.")
}

// CurlyQuotes reports typographic quotes around a value or a formula that YAML itself has no
// trouble with; see TypographicQuotes.
func CurlyQuotes(open string) Problem {
	return fault("typographic-quotes", open+" is not a quote here but a character like any other", "Write straight quotes, \", or none.")
}

// BadName reports something that cannot be a name.
func BadName(name string) Problem {
	return fault("bad-name", fmt.Sprintf("%q cannot be a name", name), "Names are a–z, digits and _, start with a letter, and have at most 60 characters.")
}

// NameIsUnit reports a name that is a unit's.
func NameIsUnit(name string) Problem {
	return fault("name-is-unit", name+" is a unit and cannot be a name", "Choose a longer name.")
}

// NameReserved reports a name that the language or the page format already uses.
func NameReserved(name string) Problem {
	return fault("name-reserved", name+" is a word of the page format and cannot be a name", "Choose another name.")
}

// NotOneOf reports a word that is not one of a few.
func NotOneOf(key, got string, words []string) Problem {
	hint := "Write " + listed(words[:len(words)-1]) + " or " + words[len(words)-1] + "."
	return fault("not-one-of", fmt.Sprintf("%s cannot be %q", key, got), hint).offering(words...)
}
