package source

import "fmt"

// What is said of files as bytes.

// NotUTF8 is said of a file whose bytes are no UTF-8 text.
func NotUTF8() Problem {
	return fault("not-utf8", "this file is not UTF-8 text", "Save it again with the encoding UTF-8.")
}

// ControlCharacter is said of a character that no text needs.
func ControlCharacter(r rune) Problem {
	return fault("control-character", fmt.Sprintf("the control character U+%04X stands here", r), "Delete it; it may be invisible in the editor.")
}
