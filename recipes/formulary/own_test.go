package formulary_test

import (
	"strings"
	"testing"

	"labsite/recipes/formulary"
	"labsite/recipes/source"
)

// fine is an entry of a shop with nothing wrong; tests change a part of it.
const fine = `group: ours
formulas:
  syrup_for:
    sentence: The syrup for a tank.
    takes:
      tank: {label: Tank, kind: volume, above: 0 ml, to: 5 l}
      strength: {label: Dilution, kind: number, above: 0, to: 1}
    gives: volume
    formula: concentrate_in(tank, strength)
    show: 0.1 ml
    source: measured here 2026-09-14
    checks:
      - at: {tank: 500 ml, strength: 1+100}
        expect: 5 ml
        source: measured here 2026-09-14
`

func own(t *testing.T, texts ...string) (*formulary.Set, source.List) {
	t.Helper()
	var files []*source.File
	for i, text := range texts {
		f, list := source.New("formulary/"+string(rune('a'+i))+".yaml", []byte(text))
		if len(list) > 0 {
			t.Fatal(list)
		}
		files = append(files, f)
	}
	return formulary.Load().WithOwn(files)
}

func TestOwnEntry(t *testing.T) {
	set, list := own(t, fine)
	if len(list) > 0 {
		t.Fatal(list)
	}
	e, ok := set.Find("syrup_for")
	if !ok || !e.Own || e.Group != "ours" || e.Call() != "syrup_for(tank, strength)" {
		t.Fatalf("%+v", e)
	}
	w, list := set.Work("syrup_for(1 l, dilution(1, 100))")
	if len(list) > 0 || w.Show.Format(w.Base).Text != "0.0099 L" {
		t.Errorf("%v %v", w.Show.Format(w.Base), list)
	}
	if w, _ := set.Work("syrup_for(6 l, dilution(1, 100))"); w.Refused != "Tank: must be more than zero and at most 5 L." {
		t.Errorf("refused: %q", w.Refused)
	}
	if _, ok := formulary.Load().Find("syrup_for"); ok {
		t.Error("a shop's entry reached the built-in set")
	}
	for _, v := range set.RunChecks(e) {
		if !v.OK || v.Source != "measured here 2026-09-14" || v.Provenance != "measured here" || v.Expected != "5 ml" || v.Found != "5.0 ml" {
			t.Errorf("%+v", v)
		}
	}
}

func TestFaultsOfOwnEntries(t *testing.T) {
	for _, c := range []struct{ name, old, new string }{
		{"unknown key", "    show: 0.1 ml\n", "    ⟦unknown-key|shows⟧: 0.1 ml\n"},
		{"unknown key of a parameter", "above: 0 ml, to", "⟦unknown-key|over⟧: 0 ml, to"},
		{"no sentence", "  syrup_for:\n    sentence: The syrup for a tank.\n", "  ⟦missing-key|syrup_for⟧:\n"},
		{"no source", "    source: measured here 2026-09-14\n    checks", "    checks"},
		{"no source of a check", "        expect: 5 ml\n        source: measured here 2026-09-14\n", "        expect: 5 ml\n"},
		{"a source that says nothing", "    source: measured here 2026-09-14\n    checks", "    source: ⟦bench-class|a friend⟧\n    checks"},
		{"an unknown class", "    source: measured here 2026-09-14\n    checks", "    source: {class: ⟦bench-class|hearsay⟧, text: a friend}\n    checks"},
		{"a published source without a name", "    source: measured here 2026-09-14\n    checks", "    source: ⟦missing-key|{⟧class: published}\n    checks"},
		{"unknown kind", "kind: volume, above", "kind: ⟦bench-kind|volum⟧, above"},
		{"kind like one below", "kind: volume, above: 0 ml, to: 5 l", "kind: ⟦bench-like|like strength⟧"},
		{"end of another kind", "to: 5 l}", "to: ⟦wrong-kind|5 min⟧}"},
		{"ends turned round", "tank: {label: Tank, kind: volume, above: 0 ml, to: 5 l}", "tank: ⟦range-order|{⟧label: Tank, kind: volume, above: 6 l, to: 5 l}"},
		{"an end that is no quantity", "to: 5 l}", "to: ⟦blank-before-unit|5l⟧}"},
		{"two ends on one side", "tank: {label: Tank, kind: volume, above: 0 ml,", "tank: ⟦bench-end-twice|{⟧label: Tank, kind: volume, above: 0 ml, from: 0 ml,"},
		{"argument of a wrong kind", "concentrate_in(tank, strength)", "concentrate_in(tank, ⟦wrong-kind|tank⟧)"},
		{"too few arguments", "concentrate_in(tank, strength)", "⟦argument-count|concentrate_in⟧(tank)"},
		{"unknown function", "concentrate_in(tank, strength)", "⟦unknown-function|concentrate_im⟧(tank, strength)"},
		{"unknown name", "concentrate_in(tank, strength)", "concentrate_in(⟦unknown-name|tnak⟧, strength * (tank / tank))"},
		{"kinds that do not add", "concentrate_in(tank, strength)", "concentrate_in(tank, strength) ⟦kinds-differ|+⟧ strength"},
		{"result of another kind", "    gives: volume\n", "    gives: mass\n"},
		{"a sum of one value", "concentrate_in(tank, strength)", "sum(⟦wants-column|tank⟧)"},
		{"wrong value", "expect: 5 ml", "expect: ⟦check-fails|6 ml⟧"},
		{"check out of range", "at: {tank: 500 ml, strength: 1+100}\n        expect: 5 ml", "at: {tank: 6 l, strength: 1+100}\n        expect: ⟦bench-check-refused|60 ml⟧"},
		{"check that should be refused", "expect: 5 ml", "expect: ⟦check-fails|refused⟧"},
		{"check of a wrong kind", "{tank: 500 ml,", "{tank: ⟦wrong-kind|500 g⟧,"},
		{"check of no quantity", "{tank: 500 ml,", "{tank: ⟦bare-ratio|1:100⟧,"},
		{"check without a parameter", "{tank: 500 ml, strength: 1+100}", "⟦bench-not-set|{⟧tank: 500 ml}"},
		{"check of an unknown parameter", "{tank: 500 ml,", "{tank: 500 ml, ⟦unknown-parameter|tunk⟧: 5 ml,"},
		{"no checks", fine[strings.Index(fine, "    checks"):], ""},
		{"an empty check", fine[strings.Index(fine, "      - at"):], "      - ⟦wrong-shape|{⟧}\n"},
		{"a name that is no name", "  syrup_for:", "  ⟦bad-name|Syrup-For⟧:"},
		{"a name of the language", "  syrup_for:", "  ⟦name-reserved|round⟧:"},
		{"a built-in name", "  syrup_for:", "  ⟦bench-name-twice|stock_for⟧:"},
		{"a parameter called like a unit", "tank: {label", "⟦name-is-unit|l⟧: {label"},
		{"a show of another kind", "show: 0.1 ml", "show: ⟦show-kind|0.1 g⟧"},
		{"a condition for no parameter", "    show:", "    outside:\n      - {which: ⟦unknown-parameter|tnk⟧, when: tank < 1 l, reason: too little.}\n    show:"},
		{"a condition that is a number", "    show:", "    outside:\n      - {which: tank, when: ⟦wrong-kind|tank * 2⟧, reason: too little.}\n    show:"},
		{"a comma that YAML takes", "    show:", "    outside:\n      - {which: tank, when: tank < max(1 l⟦quote-for-yaml|,⟧ 2 l), reason: too little.}\n    show:"},
		{"a tested window of strangers", "above: 0 ml, to: 5 l", "tested: [strength, ⟦unknown-parameter|highest⟧]"},
		{"a constant of the shop", "concentrate_in(tank, strength)", "replenishment(1 m2, ⟦not-owned|tank / 1 m2⟧) * strength"},
		{"not YAML", "    gives: volume\n    f", "    gives: ⟦not-closed|[⟧volume\n    f"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(fine, c.old) {
				t.Fatalf("the entry has no %q", c.old)
			}
			text, want := marks(t, strings.Replace(fine, c.old, c.new, 1))
			set, list := own(t, text)
			if list.Errors() == 0 {
				t.Fatal("no error")
			}
			if _, ok := set.Find("syrup_for"); ok && !strings.Contains(c.new, "check-fails") && !strings.Contains(c.new, "check-refused") {
				t.Error("a faulty entry can be called")
			}
			if len(want) > 0 {
				sameMarks(t, list, want)
				return
			}
			for _, d := range list {
				if d.File != "formulary/a.yaml" || d.Line < 3 {
					t.Errorf("without its place: %s", d)
				}
			}
		})
	}
}

func TestEntriesThatNeedOneAnother(t *testing.T) {
	entry := func(name, formula string) string {
		return strings.NewReplacer("syrup_for", name, "concentrate_in(tank, strength)", formula).Replace(strings.TrimPrefix(fine, "group: ours\nformulas:\n"))
	}
	head := "group: ours\nformulas:\n"
	_, list := own(t, head+entry("begin", "second(tank, strength)")+entry("second", "third(tank, strength)"), head+entry("third", "begin(tank, strength)"))
	if list.Errors() != 1 || list[0].Code != "bench-cycle" || !strings.Contains(list[0].Message, "begin → second → third → begin") || list[0].Line != 3 {
		t.Errorf("%v", list)
	}
	_, list = own(t, head+entry("alone", "alone(tank, strength)"))
	if list.Errors() != 1 || !strings.Contains(list[0].Message, "alone → alone") {
		t.Errorf("%v", list)
	}
	// one that uses another may be before it, in another file too
	set, list := own(t, head+entry("begin", "second(tank, strength)"), head+entry("second", "tank * strength"))
	if len(list) > 0 || len(set.All()) != len(formulary.Load().All())+2 {
		t.Errorf("%v", list)
	}
	_, list = own(t, fine, fine)
	if list.Errors() != 1 || list[0].Code != "bench-name-twice" || list[0].File != "formulary/b.yaml" || !strings.Contains(list[0].Hint, "formulary/a.yaml") {
		t.Errorf("%v", list)
	}
	_, list = own(t, fine+strings.TrimPrefix(fine, "group: ours\nformulas:\n"))
	if list.Errors() != 1 || list[0].Code != "repeated-key" || list[0].Line != 16 {
		t.Errorf("%v", list)
	}
}

// An entry that calls another twice, which calls another twice, doubles with each.
func TestEntriesThatGrow(t *testing.T) {
	text := "group: ours\nformulas:\n"
	for i, name := range strings.Fields("a0 a1 a2 a3 a4 a5 a6 a7 a8 a9") {
		formula := "x + x + x + x + x + x + x + x"
		if i > 0 {
			p := "a" + string(rune('0'+i-1)) + "(x)"
			formula = p + strings.Repeat(" + "+p, 5)
		}
		text += "  " + name + ":\n    sentence: It grows.\n    takes: {x: {label: X, kind: volume}}\n    gives: volume\n    formula: " + formula +
			"\n    source: from memory\n    checks:\n      - {at: {x: 0 ml}, expect: 0 ml, source: from memory}\n"
	}
	_, list := own(t, text)
	if list.Errors() == 0 || list[0].Code != "bench-too-large" {
		t.Errorf("%v", list)
	}
}

func TestSwap(t *testing.T) {
	const swap = `group: ours
formulas:
  one_as_other:
    sentence: One form for another.
    swap: {asked: NaBO2·4H2O, weighed: NaBO2·2H2O}
    source: from memory
    checks:
      - {at: {mass: 10 g}, expect: 7.386 g ± 0.005 g, source: from memory}
`
	set, list := own(t, swap)
	if len(list) > 0 {
		t.Fatal(list)
	}
	e, _ := set.Find("one_as_other")
	if len(e.Masses) != 2 || e.Masses[0].Chemical != "NaBO2·4H2O" || e.Masses[0].Mass < 137.8 || e.Masses[0].Mass > 137.9 {
		t.Errorf("%+v", e.Masses)
	}
	for _, c := range []struct{ old, new string }{
		// the 4-mol and 8-mol names count the water of two units of the salt
		{"swap: {asked: NaBO2·4H2O", "swap: ⟦bench-swap-differs|{⟧asked: Na2B2O4·8H2O"},
		{"asked: NaBO2·4H2O", "asked: ⟦sheet-formula|Nq⟧"},
		{"    source: from memory\n    checks", "    gives: ⟦bench-swap-alone|mass⟧\n    source: from memory\n    checks"},
		{", weighed: NaBO2·2H2O", ""},
	} {
		text, want := marks(t, strings.Replace(swap, c.old, c.new, 1))
		_, list := own(t, text)
		if len(want) == 0 {
			if list.Errors() != 1 || list[0].Code != "missing-key" {
				t.Errorf("%v", list)
			}
			continue
		}
		sameMarks(t, list, want)
	}
}

func FuzzOwnEntry(f *testing.F) {
	f.Add(fine)
	f.Add("group: ours\nformulas:\n  a:\n    swap: {asked: KBr, weighed: NaBr}\n    sentence: x\n    source: from memory\n    checks: [{at: {mass: 1 g}, expect: refused, source: from memory}]\n")
	f.Add("formulas: {a: {takes: {x: {kind: any, above: 0, whole: true, tested: [x, x]}}, gives: like x, formula: x, checks: [{}]}}")
	f.Fuzz(func(t *testing.T, text string) {
		file, _ := source.New("formulary/a.yaml", []byte(text))
		set, list := formulary.Load().WithOwn([]*source.File{file})
		for _, d := range list {
			if d.Line < 1 || d.Column < 1 || d.Message == "" {
				t.Errorf("%+v", d)
			}
		}
		for _, e := range set.All()[len(formulary.Load().All()):] {
			set.RunChecks(e)
		}
	})
}
