//go:build browser

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// TestBrowserRecall opens a page from disk by the codes of papers of several revisions.
func TestBrowserRecall(t *testing.T) {
	t.Parallel()
	// revision, salt in a litre, salt where the tank is above a litre
	const fixer = `---
title: Fixer
audience: customers
control: {number: X 1, revision: %d, status: approved, owner: process lead, approved_by: shop owner, approved: 2020-01-31}
cautions:
  gloves: {word: WARNING, text: Wear gloves.}
given:
  tank: {label: Tank, value: 1 l, from: 1 l, to: 2 l, step: 500 ml}
  strength: {label: Salt in a litre, value: %s g/l, source: measured here 2020-01-01, owner: process lead}
figures:
  salt: {label: Salt, formula: "tank > 1 l ? tank * strength + %s g : tank * strength", show: 1 g}
  water: {label: Water, formula: tank, show: 1 ml}
checks:
  - always: salt > 0 g
makes:
  stock: {label: Stock, amount: salt, lasts: 6 months}
---
Take {salt}.
`
	from, to := t.TempDir(), filepath.Join(t.TempDir(), "site")
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(from, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	labsite := func(args ...string) {
		t.Helper()
		var out, errs bytes.Buffer
		if run(t.Context(), append(args, "--from", from), &out, &errs) != 0 {
			t.Fatal(errs.String())
		}
	}
	write("index.md", "---\ntitle: Home\naudience: customers\n---\nHome.\n")
	write("labsite.yaml", "address: https://invented.example/\n")
	for revision, x := range [][2]string{{"200", "0"}, {"210", "0"}, {"210", "5"}, {"210", "5"}} {
		write("fixer.md", fmt.Sprintf(fixer, revision+1, x[0], x[1]))
		labsite("approve", "fixer", "--by", "shop owner", "--yes")
	}
	labsite("publish", "--to", to)
	readers(t, to, []string{"desk"}, func(r *reader, _ string) {
		for _, c := range []struct{ anchor, has, not string }{
			{"#paper=X+1.4", "Your paper still holds", "Salt:"},
			{"#paper=X+1.4&tank=2%20l", "Your paper still holds", "Salt:"},
			{"#paper=X+1.3&tank=2%20l", "Revision 4 is in force. All numbers on it are the same.", "Salt:"},
			{"#paper=X+1.2", "Your paper still holds", "Salt:"},
			{"#paper=X+1.2&tank=2%20l", "Salt: 420 g → 425 g", "Water"},
			// from 1.25 l on the salt has changed, at 1 l, which this paper was set to, it has not
			{"#paper=X+1.2&tank=1%20l", "Results and times are the same at those values.", "Salt:"},
			{"#paper=X+1.1&tank=2%20l", "Salt: 400 g → 425 g", "Water"},
			{"#paper=X+1.1&tank=2%20l", "Stock, amount: 400 g → 425 g", "Water"},
			{"#paper=X+1.1", "Stock, amount: 200 g → 210 g", "Water"},
			{"#paper=X+1.2~", "Salt at Tank 1.25 L: 263 g → 268 g", "Water"},
			{"#paper=X+1.3~", "All numbers on it are the same.", "Salt:"},
			{"#paper=X+1.1", "Salt: 200 g → 210 g", "Water"},
			{"#paper=X+1.1", "Salt in a litre: 200 g/L → 210 g/L", "still holds"},
			{"#paper=X+1.0", "Do not use your paper any more", "still holds"},
			{"#paper=X+1.9", "Your paper is newer than this page", "still holds"},
			{"#paper=Y.4", "Your paper is of Y, and this page is X 1", "still holds"},
		} {
			r.open("about:blank")
			r.open(r.fileURL("fixer.html") + c.anchor)
			r.has("#Recall:not([hidden])", c.has)
			if said := ask[string](t, r.tab, `document.querySelector('#Recall').innerText`); bytes.Contains([]byte(said), []byte(c.not)) {
				t.Errorf("%s: it says %q", c.anchor, said)
			}
			if r.is(`/no longer given|Stock, lasts/.test(document.querySelector('#Recall').textContent)`) {
				t.Errorf("%s: what the page makes is told as gone: %s", c.anchor, r.text("#Recall"))
			}
			// the page is set to the paper's values, but the paper itself is no setting
			if r.is(`document.querySelector('main').classList.contains('no-numbers')`) {
				t.Errorf("%s: the page shows no numbers", c.anchor)
			}
			if !r.is(`document.querySelector('#Recall').compareDocumentPosition(document.querySelector('.safe')) === Node.DOCUMENT_POSITION_PRECEDING`) {
				t.Errorf("%s: it stands above the cautions", c.anchor)
			}
		}
		r.open("about:blank")
		r.open(r.fileURL("fixer.html"))
		if !r.is(`document.querySelector('#Recall').hidden`) {
			t.Error("it speaks of paper where there is none")
		}
	})
}
