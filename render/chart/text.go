package chart

import (
	"strings"
	"unicode"
)

// The drawing cannot ask the reader's browser how wide a text is, so it uses the width of a wide
// sans-serif font. In a narrower font labels only stand further apart.

// runeWidth is the width of a character as a share of the text size.
func runeWidth(r rune) float64 {
	switch {
	case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Cf, r):
		return 0
	case strings.ContainsRune("ijl'|", r):
		return 0.28
	case strings.ContainsRune(" .,:;!/\\I\u00a0\u2009", r):
		return 0.34
	case strings.ContainsRune("tfr()[]-", r):
		return 0.41
	case strings.ContainsRune("sczJ°\"*", r):
		return 0.55
	case strings.ContainsRune("mwMW%@", r):
		return 0.98
	case strings.ContainsRune("−+±×=<>≤≥~", r):
		return 0.84
	case r >= 0x1100:
		return 1.05
	case unicode.IsUpper(r):
		return 0.76
	}
	return 0.64
}

// textWidth is the width of one line of text.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		w += runeWidth(r)
	}
	return w * size
}

// visible reports whether a text has any visible character.
func visible(s string) bool { return textWidth(strings.Join(strings.Fields(s), ""), 1) > 0 }

// widest is the width of several lines.
func widest(lines []string, size float64) float64 {
	w := 0.0
	for _, l := range lines {
		w = max(w, textWidth(l, size))
	}
	return w
}

// wrap breaks a text at spaces into lines that are no wider than the room; a single word that is wider is
// broken into pieces.
func wrap(s string, size, room float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && textWidth(line+" "+word, size) <= room {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		pieces := split(word, size, room)
		lines = append(lines, pieces[:len(pieces)-1]...)
		line = pieces[len(pieces)-1]
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

func split(word string, size, room float64) []string {
	var pieces []string
	piece, width := "", 0.0
	for _, r := range word {
		w := runeWidth(r) * size
		if piece != "" && width+w > room {
			pieces = append(pieces, piece)
			piece, width = "", 0
		}
		piece += string(r)
		width += w
	}
	return append(pieces, piece)
}
