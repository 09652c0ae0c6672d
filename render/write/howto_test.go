package write_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

// vocabulary is what schema.org says of the types in which a process is told: their properties and what each
// takes. From memory of https://schema.org/HowTo and the pages of the other types; a property that is not
// listed here counts as an error.
//
//	HowTo          ← CreativeWork
//	HowToStep      ← CreativeWork, ItemList, ListItem
//	HowToDirection ← CreativeWork, ListItem
//	HowToTip       ← CreativeWork, ListItem
//	HowToSupply, HowToTool ← HowToItem ← ListItem
var vocabulary = map[string]map[string]string{
	"HowTo": {"name": "Text", "description": "Text", "url": "URL", "inLanguage": "Text", "version": "Text or Number", "dateModified": "Date",
		"totalTime": "Duration", "supply": "HowToSupply", "tool": "HowToTool", "step": "HowToStep"},
	"HowToStep":      {"name": "Text", "url": "URL", "position": "Integer", "itemListElement": "HowToDirection or HowToTip"},
	"HowToDirection": {"text": "Text", "position": "Integer", "performTime": "Duration"},
	"HowToTip":       {"text": "Text", "position": "Integer"},
	"HowToSupply":    {"name": "Text"},
	"HowToTool":      {"name": "Text"},
}

// required are the properties without which such a thing is of no use: what readers of structured data
// require of a HowTo, also from memory.
var required = map[string][]string{
	"HowTo": {"name", "step"}, "HowToStep": {"name", "position", "itemListElement"}, "HowToDirection": {"text", "position"},
	"HowToTip": {"text", "position"}, "HowToSupply": {"name"}, "HowToTool": {"name"},
}

// duration is the part of ISO 8601 that is used: hours, minutes and seconds.
var duration = regexp.MustCompile(`^PT(\d+H)?(\d+M)?(\d+(\.\d+)?S)?$`)

// checkThing lists what is wrong with a thing of JSON-LD by the vocabulary above.
func checkThing(v any, types ...string) (faults []string) {
	m, ok := v.(map[string]any)
	if !ok {
		return []string{fmt.Sprintf("%v is no thing", v)}
	}
	kind, _ := m["@type"].(string)
	if !slices.Contains(types, kind) {
		return []string{fmt.Sprintf("a %q where a %s belongs", kind, strings.Join(types, " or "))}
	}
	say := func(property, format string, args ...any) {
		faults = append(faults, kind+"."+property+": "+fmt.Sprintf(format, args...))
	}
	for _, p := range required[kind] {
		if m[p] == nil {
			say(p, "missing")
		}
	}
	for p, x := range m {
		if p == "@type" || p == "@context" && kind == "HowTo" {
			continue
		}
		text, isText := x.(string)
		number, isNumber := x.(float64)
		switch want := vocabulary[kind][p]; want {
		case "":
			say(p, "no such property")
		case "Text", "Text or Number":
			if !isText || strings.TrimSpace(text) == "" || text != strings.Join(strings.Fields(text), " ") {
				say(p, "no text in one line: %q", x)
			}
		case "URL":
			if !strings.HasPrefix(text, "https://") {
				say(p, "no full address: %v", x)
			}
		case "Date":
			if !regexp.MustCompile(`^\d{4}-\d\d-\d\d$`).MatchString(text) {
				say(p, "no date of ISO 8601: %v", x)
			}
		case "Duration":
			if !duration.MatchString(text) || text == "PT" {
				say(p, "no duration of ISO 8601: %v", x)
			}
		case "Integer":
			if !isNumber || number != float64(int(number)) || number < 1 {
				say(p, "no place in a list: %v", x)
			}
		default:
			list, ok := x.([]any)
			if !ok || len(list) == 0 {
				say(p, "no list: %v", x)
			}
			for i, y := range list {
				for _, f := range checkThing(y, strings.Split(want, " or ")...) {
					say(p, "%s", f)
				}
				if z, ok := y.(map[string]any); ok && z["position"] != nil && z["position"] != float64(i+1) {
					say(p, "number %d is at position %v", i+1, z["position"])
				}
			}
		}
	}
	return faults
}

// dataBlock takes the JSON-LD out of a page; nil if it has none.
func dataBlock(t *testing.T, page []byte) map[string]any {
	t.Helper()
	_, rest, ok := strings.Cut(string(page), `<script type="application/ld+json">`)
	if !ok {
		return nil
	}
	raw, _, _ := strings.Cut(rest, "</script>")
	var m map[string]any
	if err := json.Unmarshal([]byte(raw), &m); err != nil {
		t.Fatalf("%v in %s", err, raw)
	}
	if m["@context"] != "https://schema.org" {
		t.Errorf("the context is %v", m["@context"])
	}
	for _, f := range checkThing(m, "HowTo") {
		t.Error(f)
	}
	return m
}

const processPage = `---
title: "Washing </script><!-- & film"
audience: customers
summary: "In 2 l of water, \u2028 or more."
%MORE%
supplies: ["{tank} of water", "film of {35 mm}"]
tools: [Tank]
given:
  tank: {label: Filling, value: 500 ml, from: 300 ml, to: 2 l}
  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C}
  part: {label: Strength, value: 1+9, choices: [1+9, 1+4]}
figures:
  dose: {label: Dose, formula: tank * part}
  soak: {label: Soak, formula: 90.5 s}
steps:
  - do: "Pour {dose} and {tank / 2} in at {bath}, {part}"
    for: soak
    agitate: {first: 30 s, every: 60 s, inversions: 2}
    note: "Fill up to {tank}.\n\nWait."
  - do: "Drain 250 ml in 5 s </script>"
    for: 1 h + 5 min
  - do: Look
---

Text.
`

func TestHowTo(t *testing.T) {
	page := func(more string) map[string]any {
		texts := map[string]string{"labsite.yaml": "address: https://lab.example\n", "index.md": strings.Replace(processPage, "%MORE%\n", more, 1)}
		return dataBlock(t, buildtest.Sited(t, texts, page.Customers)["index.html"])
	}
	said := func(m map[string]any) string {
		b, _ := json.Marshal(m["step"])
		list, _ := json.Marshal(m["supply"])
		var out strings.Builder
		for _, x := range []string{string(b), string(list)} {
			for _, p := range regexp.MustCompile(`"(?:text|name|performTime)":"((?:[^"\\]|\\.)*)"`).FindAllStringSubmatch(x, -1) {
				out.WriteString(p[1] + "\n")
			}
		}
		return out.String()
	}

	plain := page("")
	if plain == nil {
		t.Fatal("there is no data block")
	}
	if plain["name"] != "Washing </script><!-- & film" || plain["totalTime"] != "PT1H6M31S" || plain["description"] != "In 2 l of water, or more." {
		t.Errorf("name %q, total %q, description %q", plain["name"], plain["totalTime"], plain["description"])
	}
	for _, want := range []string{"Pour 50 ml and 250 ml in at 20 °C, 1+9", "Agitate: without pause for the first 30 s, then 2 turns every 60 s", "PT1M31S", "PT1H5M", "Fill up to 500 ml. Wait.", "500 ml of water", "film of 35 mm"} {
		if !strings.Contains(said(plain), want) {
			t.Errorf("it does not say %q:\n%s", want, said(plain))
		}
	}

	for _, more := range []string{"substances: [pyrogallol]\n", "cautions:\n  gloves: {word: WARNING, text: \"Wear gloves at {dose}.\"}\n"} {
		m := page(more)
		text := said(m)
		for _, unwanted := range []string{"ml", " l", "1+9"} {
			if strings.Contains(text, unwanted) {
				t.Errorf("with %s it says %q:\n%s", more, unwanted, text)
			}
		}
		for _, want := range []string{"Pour [Dose: see the page] and [see the page] in at 20 °C, [Strength: see the page]", "Drain [see the page] in 5 s", "[Filling: see the page] of water", "film of 35 mm"} {
			if !strings.Contains(text, want) {
				t.Errorf("with %s it does not say %q:\n%s", more, want, text)
			}
		}
		description := m["description"].(string)
		if strings.Contains(more, "cautions") && !strings.HasPrefix(description, "WARNING: Wear gloves at 50 ml.") {
			t.Errorf("the description does not begin with the caution: %s", description)
		}
		if strings.Contains(more, "substances") && !strings.HasPrefix(description, "Follow the supplier's safety data sheet") {
			t.Errorf("the description does not begin with the notice: %s", description)
		}
		if !strings.HasSuffix(description, "In … of water, or more.") {
			t.Errorf("the summary keeps its amount: %s", description)
		}
	}
}

// TestHowToOfTheDemo checks every data block of the demo.
func TestHowToOfTheDemo(t *testing.T) {
	blocks := 0
	for name, page := range buildtest.Demo(t, page.Staff) {
		if strings.HasSuffix(name, ".html") {
			if m := dataBlock(t, page); m != nil {
				blocks++
				if strings.Contains(string(page), `role="note"`) && !regexp.MustCompile(`^(DANGER|WARNING|CAUTION|NOTICE): `).MatchString(m["description"].(string)) {
					t.Errorf("%s: the description begins with no caution: %.60s", name, m["description"])
				}
			}
		}
	}
	if blocks < 3 {
		t.Errorf("only %d pages of the demo have a data block", blocks)
	}
}

// TestStructureIsChecked checks that checkThing finds faults.
func TestStructureIsChecked(t *testing.T) {
	for _, wrong := range []string{
		`{"@type":"Recipe","name":"a"}`,
		`{"@type":"HowTo","name":"a"}`,
		`{"@type":"HowTo","name":"a","step":[]}`,
		`{"@type":"HowTo","name":"a","step":[{"@type":"HowToStep","name":"b","position":2,"itemListElement":[{"@type":"HowToDirection","position":1,"text":"c"}]}]}`,
		`{"@type":"HowTo","name":"a","totalTime":"5 min","step":[{"@type":"HowToStep","name":"b","position":1,"itemListElement":[{"@type":"HowToDirection","position":1,"text":"c"}]}]}`,
		`{"@type":"HowTo","name":"a","step":[{"@type":"HowToStep","name":"b","position":1,"itemListElement":[{"@type":"HowToTool","name":"c"}]}]}`,
		`{"@type":"HowTo","name":"a","cost":"1","step":[{"@type":"HowToStep","name":"b","position":1,"itemListElement":[{"@type":"HowToTip","position":1,"text":""}]}]}`,
	} {
		var v any
		if err := json.Unmarshal([]byte(wrong), &v); err != nil {
			t.Fatal(err)
		}
		if len(checkThing(v, "HowTo")) == 0 {
			t.Errorf("nothing is said of %s", wrong)
		}
	}
}
