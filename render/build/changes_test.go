package build

import (
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/page"
)

// What a save changed is reported against the last correct state, whatever broken states lay
// between, and at the settings where it shows.
func TestChangesSinceTheLastCorrectState(t *testing.T) {
	text := func(factor, expected, rest string) string {
		return fmt.Sprintf(`---
title: Time
audience: staff
given:
  rolls: {label: Rolls, value: 1, from: 1, to: 4}
  factor: {value: %s, source: measured here 2020-01-01}
  more: {value: %s, source: measured here 2020-01-01}
figures:
  dip: {label: Dip, formula: "factor * 1 min + (rolls - 1) * more * 1 min", show: 1 s}
checks:
  - {at: {rolls: 1}, expect: {dip: %s}, source: arithmetic}
---
Dip {dip}.
`, factor, rest, expected)
	}
	dir, write := editableLab(t, map[string]string{"time.md": text("8", "8 min", "1")})
	f, list := Follow(t.Context(), dir, Options{Day: aDay, Drafts: true})
	if f == nil {
		t.Fatal(list)
	}
	defer f.Close()
	look := func() string {
		f.Answer(page.Staff, "time.html", true)
		var out []string
		for _, p := range f.TakeChanges() {
			for _, n := range p.Numbers {
				out = append(out, fmt.Sprintf("%s: %s → %s", n.Label, n.Before, n.After))
			}
		}
		return strings.Join(out, "; ")
	}
	look()
	save := func(what, text, want string) {
		t.Helper()
		write("time.md", text)
		f.Update([]string{"time.md"})
		if got := look(); got != want {
			t.Errorf("%s: it tells %q, want %q", what, got, want)
		}
	}
	save("a check that fails", text("9", "8 min", "1"), "Dip: 8 min → 9 min")
	save("its repair", text("9", "9 min", "1"), "Dip: 8 min → 9 min")
	save("what cannot be read", "---\ntitle: [\n---\n", "")
	save("its repair with another value", text("10", "10 min", "1"), "Dip: 9 min → 10 min")
	save("words alone", text("10", "10 min", "1")+"\nMore.\n", "")
	save("what a reader can set", text("10", "10 min", "1.5"), "Dip at rolls 4: 13 min → 14 min 30 s")
	save("a check that fails, twice", text("11", "10 min", "1.5"), "Dip: 10 min → 11 min")
	save("and again", text("12", "10 min", "1.5"), "Dip: 10 min → 12 min")
	save("taken back", text("10", "10 min", "1.5"), "")
}
