package quantity

import (
	"strings"
	"testing"
	"unicode/utf8"
)

func TestCounts(t *testing.T) {
	rolls, perRoll := Kind{Counts: "roll1"}, Kind{Length: 3, Counts: "roll-1"}
	for text, want := range map[string]struct {
		kind  Kind
		shown string
	}{
		"12 rolls": {rolls, "12 rolls"}, "1 roll": {rolls, "1 roll"}, "2 roll": {rolls, "2 rolls"}, "1 rolls": {rolls, "1 roll"}, "0 rolls": {rolls, "0 rolls"},
		"1.5 rolls": {rolls, "1.5 rolls"}, "-1 roll": {rolls, "-1 roll"}, "20 ml/roll": {perRoll, "20 ml/roll"}, "20 ml/rolls": {perRoll, "20 ml/roll"},
		"48.4 rolls/day": {Kind{Time: -1, Counts: "roll1"}, "48.4 rolls/day"}, "480 sheets/order": {Kind{Counts: "order-1 sheet1"}, "480 sheets/order"},
		"20 /roll": {Kind{Counts: "roll-1"}, "20 /roll"}, "1 day": {Time, "1 day"}, "20 day": {Time, "20 days"}, "8 inches": {Length, "8 inches"},
	} {
		v, trouble := Parse(text)
		if trouble != nil || v.Kind != want.kind || v.Text != want.shown {
			t.Errorf("%q is %q of %+v, %v; want %q of %+v", text, v.Text, v.Kind, trouble, want.shown, want.kind)
			continue
		}
		back, trouble := Parse(v.AsWritten().Format(v.Base).Text)
		if trouble != nil || back.Kind != v.Kind || back.Base != v.Base {
			t.Errorf("%q is shown as %q", text, v.AsWritten().Format(v.Base).Text)
		}
	}
	// millilitres for each roll, multiplied by sheets, are not millilitres
	if k, ok := perRoll.Times(rolls); !ok || k != Volume {
		t.Errorf("ml/roll times rolls is %+v", k)
	}
	if k, ok := perRoll.Times(Kind{Counts: "sheet1"}); !ok || k == Volume || k.Name() != "a quantity in sheet*ml/roll" {
		t.Errorf("ml/roll times sheets is %s", k.Name())
	}
	if rolls.Name() != "a count of rolls" || BaseUnit(perRoll) != "cm3/roll" {
		t.Errorf("%s, %s", rolls.Name(), BaseUnit(perRoll))
	}
	if k, ok := (Kind{Counts: "roll2"}).Root(); !ok || k != rolls {
		t.Errorf("the root of square rolls is %+v", k)
	}
	for _, word := range []string{"roll", "rolls", "print", "order"} {
		if IsUnit(word) || !IsCount(word) {
			t.Errorf("%s cannot be a name", word)
		}
	}
	if _, trouble := Parse("8 rols"); trouble == nil || !strings.Contains(trouble.Hint, "8 roll") {
		t.Errorf("8 rols: %v", trouble)
	}
	if _, trouble := Parse("8 Rolls"); trouble == nil || !strings.Contains(trouble.Hint, "8 rolls") {
		t.Errorf("8 Rolls: %v", trouble)
	}
}

func TestOwnCounts(t *testing.T) {
	LetCount([]string{"drum", "mounts", "batch", "body", "boxes", "lens", "canvases", "chassis"})
	for text, want := range map[string]string{"3 drum": "3 drums", "1 mount": "1 mount", "2 mounts": "2 mounts", "2 batches": "2 batches", "3 bodies": "3 bodies", "1 boxes": "1 box", "5 ml/drums": "5 ml/drum",
		"1 lens": "1 lens", "2 lens": "2 lenses", "1 lenses": "1 lens", "3 canvas": "3 canvases", "1 chassis": "1 chassis", "2 chassis": "2 chassis"} {
		if v, trouble := Parse(text); trouble != nil || v.Text != want {
			t.Errorf("%q is %q, %v; want %q", text, v.Text, trouble, want)
		}
	}
}

func TestCountsTypedByHand(t *testing.T) {
	for text, want := range map[string]string{"load 12 rolls at once": "12 rolls", "20 ml/roll suffice": "20 ml/roll", "a roll or two": "", "made on 2026-11-28": "", "on 28 November 2026.": ""} {
		got := ""
		for _, f := range Typed(text) {
			got += f.Text
		}
		if got != want {
			t.Errorf("in %q %q is found, want %q", text, got, want)
		}
	}
}

// A counted thing as typed is read as it is shown, or refused at a place inside the text.
func FuzzCount(f *testing.F) {
	for _, text := range []string{"12 rolls", "20 ml/roll", "480 sheets/order", "1 rolls", "3 roll2", "5 ml/rolls*sheet", "2 day", "20 /roll", "7 bottles/day/order", "8 Rolls", "1 roll9", "5 ml/roll²"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 200 {
			return
		}
		v, trouble := Parse(text)
		if trouble != nil {
			if trouble.Start < 0 || trouble.End < trouble.Start || trouble.End > len(text) || !utf8.ValidString(trouble.Message) && utf8.ValidString(text) {
				t.Fatalf("%q: %+v", text, trouble)
			}
			return
		}
		back, trouble := Parse(v.Text)
		if trouble != nil || back.Kind != v.Kind || !Equal(back.Base, v.Base) || back.Text != v.Text {
			t.Fatalf("%q is %q, which is read as %q, %v", text, v.Text, back.Text, trouble)
		}
		_ = v.Kind.Name()
	})
}
