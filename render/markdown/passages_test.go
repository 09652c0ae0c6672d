package markdown

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"labsite/recipes/source"
)

func TestPassages(t *testing.T) {
	text := "Draw {x} of *syrup*,\nand `stir`.[^a]\n\n## Of {y} baths\n\n- one\n- two [here](a.md)\n\n{z}\n\n" +
		"| Film | Rolls |\n|--|--|\n| long | {n} |\n\n```\n5 ml\n```\n\n### Last\n\n> ![A tray](tray.png)\n\n[^a]: A note.\n"
	f, _ := source.New("page.md", []byte(text))
	d, _ := Parse(f, 0)
	want := []Passage{
		{"", false, "Draw … of syrup, and stir."},
		{"of--baths", true, "Of … baths"},
		{"of--baths", false, "one"},
		{"of--baths", false, "two here"},
		{"of--baths", false, "Film, Rolls"},
		{"of--baths", false, "long, …"},
		{"last", true, "Last"},
		{"last", false, "A tray"},
		{"last", false, "A note."},
	}
	if diff := cmp.Diff(want, d.Passages()); diff != "" {
		t.Error(diff)
	}
}
