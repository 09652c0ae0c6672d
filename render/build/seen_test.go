package build

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/page"
)

// signedPage names everybody who can answer for a page.
const signedPage = `---
title: Signed
audience: customers
substances: [pyrogallol]
control:
  number: G-9
  revision: 3
  status: approved
  owner: zqowner
  approved_by: zqapprover
  approved: 2024-01-01
  effective: 2024-01-03
  review: 60 months
  changes: {1: Zqfirst, 2: Zqsecond, 3: The latest}
given:
  least: {label: Least, value: 4 ml, source: measured here, owner: zqholder}
figures:
  half: {label: Half, formula: least / 2}
---

Text.<!-- zqnote -->

<!--
zqblock
-->
`

// Of who answers for a page customers see what the lab decides, and nothing else; staff see all of
// it; nobody sees a comment.
func TestWhatIsSeenOfResponsiblePeople(t *testing.T) {
	words := map[string][]string{
		"owner": {"zqowner", "zqholder"}, "approval": {"zqapprover", "2024-01-01"}, "changes": {"Zqfirst", "Zqsecond"},
		"review": {"60 months", "2029-01-03"}, "reviewer": {"zqreviewer"},
	}
	shown := func(files map[string]string, a page.Audience) string {
		b := published(t, labOf(t, files), a)["signed.html"]
		return string(bytes.ReplaceAll(b, []byte("\u00a0"), []byte(" ")))
	}
	for _, only := range append([]string{""}, page.BehindPages...) {
		files := map[string]string{"signed.md": signedPage,
			"hazards.yaml": "reviewed:\n  - {name: pyrogallol, by: zqreviewer, date: 2024-01-02}\n", "labsite.yaml": "customers_see: [" + only + "]\n"}
		customers, staff := shown(files, page.Customers), shown(files, page.Staff)
		for what, marks := range words {
			for _, mark := range marks {
				if strings.Contains(customers, mark) != (what == only) {
					t.Errorf("where customers see %q, their page tells %s: %v", only, mark, what != only)
				}
				if !strings.Contains(staff, mark) {
					t.Errorf("the staff's page does not tell %s", mark)
				}
			}
		}
		if !strings.Contains(customers, "The latest") || !strings.Contains(customers, "2024-01-03") {
			t.Error("customers are not told what changed last, or from when the page holds")
		}
		if strings.Contains(staff, "zqnote") || strings.Contains(staff, "zqblock") {
			t.Error("a comment is shown")
		}
	}
}

// A symbolic link does not get around the rule for staff folders: its target is judged by where
// that lies, at once and in later runs.
func TestLinksIntoAStaffFolder(t *testing.T) {
	const index = "---\ntitle: Shop\naudience: customers\n---\n"
	const data = "---\ntitle: Shop\naudience: customers\ndata: {own: link.csv}\ngiven: {rate: {label: Rate, value: 1, choices: own.a}}\n---\n"
	for name, c := range map[string]struct{ page, link, to, code string }{
		"a linked file":        {index + "\n[a](link.csv)\n", "link.csv", "st/own.csv", "is for staff"},
		"data":                 {data, "link.csv", "st/own.csv", "staff"},
		"a page":               {index + "\n[a](link.md)\n", "link.md", "st/own.md", "is for staff"},
		"a link to a link":     {index + "\n[a](link.csv)\n", "link.csv", "st/again.csv", "is for staff"},
		"a link out of a side": {index + "\n[a](deep/link.csv)\n", "deep/link.csv", "../st/../st/own.csv", "is for staff"},
	} {
		t.Run(name, func(t *testing.T) {
			files := map[string]string{"index.md": c.page, "st/index.md": "---\ntitle: Own\naudience: customers\n---\n",
				"st/own.csv": "a\n1\n2\n", "st/again.csv": "-> own.csv", "st/own.md": "---\ntitle: Note\naudience: customers\n---\n\nZqnote.\n", c.link: "-> " + c.to}
			dir, write := editableLab(t, files)
			cache := filepath.Join(t.TempDir(), "cache")
			if _, _, said := runOf(t, dir, cache, page.Customers, nil); strings.Contains(said, "error") {
				t.Fatal(said)
			}
			write("st/index.md", "---\ntitle: Own\naudience: staff\n---\n")
			_, to, said := runOf(t, dir, cache, page.Customers, nil)
			if !strings.Contains(said, c.code) {
				t.Errorf("not told: %q, of %s", said, c.code)
			}
			if to.files["link.html"] != nil {
				t.Error("the page is published")
			}
		})
	}
}
