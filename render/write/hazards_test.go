package write

import (
	"bytes"
	"encoding/json"
	"html/template"
	"os"
	"path/filepath"
	"testing"

	"labsite/recipes/hazard"
	"labsite/render/theme"
)

// fixtureNotice is a standing notice.
const fixtureNotice = template.HTML(`<p>Follow the supplier’s safety data sheet for each product, your local codes, and licensed practice for waste. This page does not replace them.</p>`)

// fixtureHazards are what the built-in list says of some substances.
func fixtureHazards(names ...string) theme.Hazards {
	var uses []hazard.Use
	for _, n := range names {
		u := hazard.Use{Name: n}
		if n == "acetic acid" {
			strength := .28
			u.Strength = &strength
		}
		uses = append(uses, u)
	}
	return hazardsOf(hazard.BlockFor(uses, nil), fixtureNotice, true)
}

var simple = []string{"pyrogallol", "triethanolamine"}

// many are more substances than a page is likely to name.
var many = []string{"pyrogallol", "triethanolamine", "acetic acid", "sodium thiosulfate", "sodium sulfite", "potassium ferricyanide"}

// The tests of package theme fill templates with these hazards, which they read from files, since this
// package depends on that one. RENEW=1 rewrites the files.
func TestThemesAreTestedWithTheseHazards(t *testing.T) {
	for name, names := range map[string][]string{"simple": simple, "many": many} {
		file := filepath.Join("..", "theme", "testdata", "hazards-"+name+".json")
		var want bytes.Buffer
		e := json.NewEncoder(&want)
		e.SetEscapeHTML(false)
		e.SetIndent("", " ")
		if err := e.Encode(fixtureHazards(names...)); err != nil {
			t.Fatal(err)
		}
		if os.Getenv("RENEW") != "" {
			if err := os.WriteFile(file, want.Bytes(), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(file); err != nil || !bytes.Equal(got, want.Bytes()) {
			t.Errorf("%s is not what the hazard list says of %v any more (%v): RENEW=1 go test ./render/write writes it anew", file, names, err)
		}
	}
}

func TestHazardsSayWhoBringsWhat(t *testing.T) {
	h := fixtureHazards(many...)
	for _, s := range h.Statements {
		if s.Code == "H314" && s.Of != "Acetic acid, 28 %" {
			t.Errorf("H314 is brought by %q", s.Of)
		}
	}
	if got := h.Meet[0]; got.One != "Acetic acid, 28 %" || got.Other != "potassium ferricyanide" || len(got.Gases) != 1 || got.Gases[0] != "hydrogen cyanide" {
		t.Errorf("the gravest pair: %+v", got)
	}
	if h.FirstAid() == nil || len(h.Other())+1 != len(h.Precautions) {
		t.Error("first aid should stand apart from the other precautions")
	}
	eyes := fixtureHazards(simple...).Wear[1]
	if eyes.What != "Eyes" || len(eyes.Says) != 1 || eyes.Says[0].Of != "" || !eyes.First() {
		t.Errorf("what all substances say needs no names: %+v", eyes)
	}
}

func TestListed(t *testing.T) {
	for want, names := range map[string][]string{
		"": nil, "Acid": {"Acid"}, "Acid and base": {"Acid", "Base"}, "Acid, CD-3 and 1-Phenyl": {"Acid", "CD-3", "1-Phenyl"},
	} {
		if got := listed(names); got != want {
			t.Errorf("%v: got %q, want %q", names, got, want)
		}
	}
}

func TestClock(t *testing.T) {
	for seconds, want := range map[float64]string{0: "0:00", 30: "0:30", 90: "1:30", 59.96: "1:00", 7.5: "0:07.5", 3599.99: "1:00:00", 3900: "1:05:00", 36000: "10:00:00"} {
		if got := clock(seconds); got != want {
			t.Errorf("%v s: got %s, want %s", seconds, got, want)
		}
	}
	if m := momentAt(90.5); m.Seconds != "90.5" || m.Clock != `<span class="q">1:30.5</span>` {
		t.Errorf("got %+v", m)
	}
}
