package write_test

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/build/buildtest"
)

const makingPage = `---
title: Mixing syrup
audience: customers
control: {number: T-9, revision: 2, status: approved, approved_by: shop owner, approved: 2026-01-01}
given:
  batch: {label: Batch, value: 500 ml, from: 250 ml, to: 1 l, step: 250 ml}
  mixed: {label: Mixed on, value: 2026-01-31}
  now: {label: Today, value: today}
limits:
  - {when: batch > LEAST, refuse: Too much.}
makes:
  syrup: {label: Shelf syrup, amount: batch, contains: [{name: acetic acid, strength: 28 %}, sodium sulfite], lasts: 12 months, opened: 3 months, store: dark and cool}
  trial: {amount: 3 bottles, lasts: "months_after(mixed, 1)"}
  late: {amount: 1 l, lasts: "months_after(now, 1)"}
---

Text.
`

const syrupSheet = "substances:\n  - name: Shelf syrup\n    statements: [H317]\n    signal_word: Warning\n    pictograms: [GHS07]\n    sheet: {author: Example Supplies, date: 2026-01-15}\n"

// labelsOf returns the labels of each product by its name, from a lab in memory.
func labelsOf(t *testing.T, files map[string]string) (labels map[string]string, whole string) {
	t.Helper()
	files["labsite.yaml"] = "address: https://weir.example/\n"
	site := buildtest.Published(t, buildtest.Lab(t, files), page.Customers)
	whole = strings.ReplaceAll(string(site["page.products.html"]), "&nbsp;", " ")
	if !strings.Contains(string(site["page.html"]), `href="page.products.html"`) {
		t.Error("the page does not lead to its labels")
	}
	labels = map[string]string{}
	for _, l := range strings.Split(whole, `<li class="label">`)[1:] {
		_, name, _ := strings.Cut(l, `label-name">`)
		name, _, _ = strings.Cut(name, "<")
		labels[name] = l
	}
	return labels, whole
}

func TestLabelOfWhatAPageMakes(t *testing.T) {
	labels, whole := labelsOf(t, map[string]string{"page.md": strings.Replace(makingPage, "LEAST", "2 l", 1)})
	syrup := labels["Shelf syrup"]
	at := -1
	for _, want := range []string{`class="code"`, "copied from the product’s data sheet", "not of this product", "Acetic acid, 28 %</b> (Danger): ", "<b>Sodium sulfite", "Amount", ">500 ", "Mixed by", "Last day of use", "12 months</span> after mixing", "then use within", "3 months", "Store: dark and cool", "· T-9", "revision 2"} {
		i := strings.Index(syrup, want)
		if i <= at {
			t.Errorf("%q is not there, or not in its order:\n%s", want, syrup)
			break
		}
		at = i
	}
	// what changes with a reader's settings, and the code that has them in its address
	for _, want := range []string{`data-placed="0">500 `, `data-address="https://weir.example/page.html" data-paper="T-9.2"`} {
		if !strings.Contains(syrup, want) {
			t.Errorf("a script does not find %s", want)
		}
	}
	for _, want := range []string{"page.figures.js", "hand.js", "code.js", "labels.js"} {
		if !strings.Contains(whole, `src="`+want) {
			t.Errorf("the labels do not load %s", want)
		}
	}
	if strings.Contains(syrup, "ghs-word") || strings.Contains(syrup, "pictograms") {
		t.Error("a mixture is classified without a sheet")
	}
	if trial := labels["Trial"]; !strings.Contains(trial, "28 February 2026") || strings.Contains(trial, "after mixing") {
		t.Errorf("the last day of use is not worked out:\n%s", trial)
	}
	if late := labels["Late"]; !strings.Contains(late, "Last day of use</dt><dd></dd>") {
		t.Errorf("a day that hangs on the day of the build is printed:\n%s", late)
	}
	if n := strings.Count(whole, `<li class="label">`); n != 3 {
		t.Errorf("%d labels, want 3", n)
	}
}

func TestLabelOfAProductWithASheetOfItsOwn(t *testing.T) {
	labels, _ := labelsOf(t, map[string]string{"page.md": strings.Replace(makingPage, "LEAST", "2 l", 1), "hazards.yaml": syrupSheet})
	syrup := labels["Shelf syrup"]
	word, amount := strings.Index(syrup, `ghs-word">Warning`), strings.Index(syrup, "Amount")
	if word < 0 || amount < word || !strings.Contains(syrup, "May cause an allergic skin reaction") || strings.Contains(syrup, "of what it contains") {
		t.Errorf("the label does not bear what the lab's own sheet states:\n%s", syrup)
	}
}
