package asset

import (
	"bytes"
	"path"
	"slices"
	"strings"
)

// A form is a kind of file: its endings, its bound in bytes, how its bytes begin, and the function
// that judges the rest.
type form struct {
	name    string
	group   string
	endings []string
	most    int64
	begins  func([]byte) bool // nil if only look can tell
	look    look
}

// A look judges the bytes of a file by its name; is is the name of its form.
type look func(name, is string, raw []byte) (File, *Fault)

// The groups of forms, named as in messages and in the README.
const (
	pictures  = "pictures"
	documents = "documents"
	tables    = "tables and texts"
	archives  = "archives"
	profiles  = "colour profiles"
	sound     = "sound"
	fonts     = "fonts"
)

// Each file is held in memory while it is judged, and a reader downloads it, perhaps to a phone.
const (
	mostPicture  = 32 << 20
	mostDrawing  = 2 << 20
	mostText     = 16 << 20 // as for a data file
	mostDocument = 64 << 20
	mostFont     = 4 << 20
)

// forms lists all that a lab can hand out, and the fonts of themes. Left out are files that a
// browser runs (.html, .xhtml, .xml, .js, .css), forms whose metadata nothing here strips (.tif,
// .avif, .mp4), documents with macros (.xlsm), and .gz on its own, which some servers unpack and
// serve by the ending before it.
var forms = []form{
	{"PNG", pictures, []string{".png"}, mostPicture, starts(pngSignature), pixels(stripPNG)},
	{"JPEG", pictures, []string{".jpg", ".jpeg"}, mostPicture, starts("\xff\xd8\xff"), pixels(stripJPEG)},
	{"GIF", pictures, []string{".gif"}, mostPicture, starts("GIF87a", "GIF89a"), pixels(stripGIF)},
	{"WebP", pictures, []string{".webp"}, mostPicture, riffOf("WEBP"), pixels(stripWebP)},
	{"SVG", pictures, []string{".svg"}, mostDrawing, nil, lookSVG},
	{"PDF", documents, []string{".pdf"}, mostDocument, starts("%PDF-"), asItIs},
	{"Office Open XML", documents, []string{".xlsx", ".docx"}, mostDocument, starts("PK\x03\x04"), lookOffice},
	{"OpenDocument", documents, []string{".ods", ".odt"}, mostDocument, starts("PK\x03\x04"), lookOffice},
	{"CSV", tables, []string{".csv", ".tsv"}, mostText, nil, lookText},
	{"plain text", tables, []string{".txt"}, mostText, nil, lookText},
	{"ZIP", archives, []string{".zip"}, mostDocument, starts("PK\x03\x04"), asItIs},
	{"TAR", archives, []string{".tar"}, mostDocument, from(257, "ustar"), asItIs},
	{"compressed TAR", archives, []string{".tgz", ".tar.gz"}, mostDocument, starts("\x1f\x8b\x08"), asItIs},
	{"7z", archives, []string{".7z"}, mostDocument, starts("7z\xbc\xaf\x27\x1c"), asItIs},
	{"ICC profile", profiles, []string{".icc", ".icm"}, mostPicture, from(36, "acsp"), asItIs},
	{"MP3", sound, []string{".mp3"}, mostDocument, starts("ID3", "\xff\xfb", "\xff\xf3", "\xff\xf2"), asItIs},
	{"Ogg", sound, []string{".ogg"}, mostDocument, starts("OggS"), asItIs},
	{"WAVE", sound, []string{".wav"}, mostDocument, riffOf("WAVE"), asItIs},
	{"WOFF2", fonts, []string{".woff2"}, mostFont, starts("wOF2"), asItIs},
	{"WOFF", fonts, []string{".woff"}, mostFont, starts("wOFF"), asItIs},
	{"TrueType", fonts, []string{".ttf"}, mostFont, starts("\x00\x01\x00\x00", "true"), asItIs},
	{"OpenType", fonts, []string{".otf"}, mostFont, starts("OTTO", "\x00\x01\x00\x00"), asItIs},
}

func (f form) handedOut() bool { return f.group != fonts }

// formOf finds a form by the ending of a name, ignoring case. Something must stand before the
// ending.
func formOf(name string) form {
	base := strings.ToLower(path.Base(name))
	for _, f := range forms {
		if slices.ContainsFunc(f.endings, func(e string) bool { return len(base) > len(e) && strings.HasSuffix(base, e) }) {
			return f
		}
	}
	return form{}
}

// formByBytes finds the form that bytes look like from their beginning, for a message.
func formByBytes(raw []byte) form {
	for _, f := range forms {
		if f.begins != nil && f.begins(raw) {
			return f
		}
	}
	return form{}
}

// Listed lists what a page may link to, by groups: "pictures (.png .jpg), documents (.pdf)".
func Listed() string {
	var groups []string
	endings := map[string][]string{}
	for _, f := range forms {
		if !f.handedOut() {
			continue
		}
		if endings[f.group] == nil {
			groups = append(groups, f.group)
		}
		endings[f.group] = append(endings[f.group], f.endings...)
	}
	for i, g := range groups {
		groups[i] = g + " (" + strings.Join(endings[g], " ") + ")"
	}
	return strings.Join(groups, ", ")
}

func starts(with ...string) func([]byte) bool {
	return func(raw []byte) bool {
		return slices.ContainsFunc(with, func(w string) bool { return bytes.HasPrefix(raw, []byte(w)) })
	}
}

func from(offset int, mark string) func([]byte) bool {
	return func(raw []byte) bool { return len(raw) > offset && bytes.HasPrefix(raw[offset:], []byte(mark)) }
}

func riffOf(kind string) func([]byte) bool {
	return func(raw []byte) bool { return bytes.HasPrefix(raw, []byte("RIFF")) && from(8, kind)(raw) }
}
