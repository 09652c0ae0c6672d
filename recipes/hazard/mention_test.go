package hazard

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func named(text string, declared []string, own *OwnSheets) string {
	var out []string
	for _, m := range NewLookout(declared, own).NamedInText(text) {
		if text[m.Start:m.End] != m.Name {
			return "wrong offsets"
		}
		out = append(out, m.Name+"="+m.Substance.ID)
	}
	return strings.Join(out, ", ")
}

func TestNamedInText(t *testing.T) {
	for _, c := range []struct{ text, declared, want string }{
		{"Dissolve the hydroquinone in water.", "", "hydroquinone=hydroquinone"},
		{"Dissolve the hydroquinone in water.", "hydroquinone", ""},
		{"Dissolve the hydroquinone in water.", "123-31-9", ""},
		{"Dissolve the HYDROQUINONE, then Sodium Sulphite.", "quinol", "Sodium Sulphite=sodium-sulfite"},
		// whole words
		{"Hydroquinones and chlorohydroquinone are others.", "", ""},
		{"Ethylenediaminetetraacetic acid is no acetic acid.", "", "acetic acid=acetic-acid-glacial"},
		{"borax.", "", "borax=borax"},
		{"(borax)", "", "borax=borax"},
		{"borax2", "", ""},
		// the longest
		{"Add sodium carbonate monohydrate.", "", "sodium carbonate monohydrate=sodium-carbonate"},
		{"glacial acetic acid", "", "glacial acetic acid=acetic-acid-glacial"},
		{"red prussiate of potash", "", "red prussiate of potash=potassium-ferricyanide"},
		{"potash alum and potash", "", "potash alum=potassium-alum, potash=potassium-carbonate"},
		// spaces and lines
		{"sodium\n   sulfite", "", "sodium\n   sulfite=sodium-sulfite"},
		{"sodium\u00a0sulfite", "", "sodium\u00a0sulfite=sodium-sulfite"},
		{"sodium\n\nsulfite", "", ""},
		{"sodium, sulfite", "", ""},
		// other substances of a similar name
		{"N-methyl-p-phenylenediamine", "", ""},
		{"2-hydroquinone", "", ""},
		{"a pyrogallol-hydroquinone developer", "", "pyrogallol=pyrogallol, hydroquinone=hydroquinone"},
		{"1-Phenyl-3-pyrazolidinone", "", "1-Phenyl-3-pyrazolidinone=1-phenyl-3-pyrazolidinone"},
		{"potassium hexacyanoferrate(III)", "", "potassium hexacyanoferrate(III)=potassium-ferricyanide"},
		// capitals that are a word
		{"A cup of tea.", "", ""},
		{"Add TEA slowly.", "", "TEA=triethanolamine"},
		// one CAS number, two rows
		{"Dilute the acetic acid.", "acetic acid 28 %", ""},
		// letters beyond ASCII before and after
		{"Übernahme: borax é borax", "", "borax=borax, borax=borax"},
		{"éborax", "", ""},
		{"", "", ""},
	} {
		var declared []string
		if c.declared != "" {
			declared = []string{c.declared}
		}
		if got := named(c.text, declared, nil); got != c.want {
			t.Errorf("%q with %v: %s, want %s", c.text, declared, got, c.want)
		}
	}
}

// Every name of the list is found in a sentence, with its offsets.
func TestEveryNameIsFound(t *testing.T) {
	for _, s := range Built().Substances {
		for _, name := range append([]string{s.Name}, s.Synonyms...) {
			text := "Take some " + name + ", then wait."
			found := NewLookout(nil, nil).NamedInText(text)
			if len(found) != 1 || found[0].Name != name || found[0].Substance.ID != s.ID || found[0].Start != len("Take some ") {
				t.Errorf("%q: %+v", name, found)
			}
		}
	}
}

// Mentions are in order, do not overlap, and name what the text holds.
func TestMentionsOverAnyText(t *testing.T) {
	words := []string{"sodium", "sulfite", "sulphite", "carbonate", "monohydrate", "acetic", "acid", "glacial", "p-phenylenediamine", "-", " ", "\n", ",", "é", "TEA", "tea", "(", "\xff", "borax"}
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(rapid.SampledFrom(words), 0, 30).Draw(t, "words"), rapid.SampledFrom([]string{"", " "}).Draw(t, "join"))
		at := 0
		for _, m := range NewLookout(nil, nil).NamedInText(text) {
			if m.Start < at || m.End <= m.Start || text[m.Start:m.End] != m.Name {
				t.Fatalf("%q: %+v after %d", text, m, at)
			}
			at = m.End
			if s, _ := Find(m.Name); s != m.Substance {
				t.Fatalf("%q is %v in the text and %v by name", m.Name, m.Substance.ID, s)
			}
			if r, _ := utf8.DecodeRuneInString(text[m.End:]); m.End < len(text) && isWord(r) && !strings.HasSuffix(m.Name, ")") {
				t.Fatalf("%q: %q ends inside a word", text, m.Name)
			}
		}
	})
}

func BenchmarkNamedInText(b *testing.B) {
	text := strings.Repeat("Weigh the developing agents, dissolve the sodium sulfite first, then hydroquinone, and fill to one litre with water. ", 500)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		NewLookout([]string{"hydroquinone"}, nil).NamedInText(text)
	}
}
