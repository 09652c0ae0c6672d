package content

import (
	"path"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"labsite/recipes/source"
)

// A published name must work on any disk that a site is copied to, and in any address: what one system
// accepts, another refuses or silently changes.

// mostName is how many bytes the name of a file or folder may have: systems take 255, and files made
// from a page have longer endings than the page.
const mostName = 200

// devices are names that Windows keeps for devices, whatever their ending.
var devices = regexp.MustCompile(`(?i)^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\.|$)`)

// NameProblem says what is wrong with the name of a file that is to be published; ok is true if nothing
// is.
func NameProblem(p string) (problem source.Problem, ok bool) {
	for part := range strings.SplitSeq(p, "/") {
		switch {
		case !utf8.ValidString(part):
			return source.NameSign("a byte that is no UTF-8"), false
		case len(part) > mostName:
			return source.NameTooLong(len(part), mostName), false
		case strings.HasSuffix(part, ".") || strings.HasSuffix(part, " ") || strings.HasPrefix(part, " "):
			return source.NameEnds(), false
		case devices.MatchString(part):
			return source.NameOfDevice(part), false
		}
		for _, r := range part {
			if strings.ContainsRune(`"<>|?*:\`, r) {
				return source.NameSign(string(r)), false
			}
			if !unicode.IsPrint(r) && r != '\u00ad' {
				return source.NameSign(source.Visible(string(r))), false
			}
		}
	}
	return source.Problem{}, true
}

// sameName is the same for two names that some disk or address does not tell apart: they differ only in
// capitals, or in whether accents are separate characters.
func sameName(p string) string { return strings.ToLower(norm.NFC.String(p)) }

// clashingFolder finds an earlier folder that some disk does not tell apart from one that a path is in;
// seen has the folders met so far, by sameName.
func clashingFolder(seen map[string]string, p string) (other string, clash bool) {
	for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
		key := sameName(dir)
		if was, is := seen[key]; is && was != dir {
			return was, true
		}
		seen[key] = dir
	}
	return "", false
}
