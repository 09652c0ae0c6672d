package build

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/render/machine"
	"labsite/render/search"
	"labsite/render/write"
)

// dot is a picture of one pixel.
var dot, _ = base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==")

// canaries hands out words that occur nowhere else, and remembers where each was put.
type canaries struct{ places []string }

// word returns the next one. It ends in a consonant that no stemmer cuts off.
func (c *canaries) word(place string) string {
	c.places = append(c.places, place)
	return c.nth(len(c.places) - 1)
}

func (c *canaries) nth(i int) string {
	return fmt.Sprintf("zq%c%cxk", 'a'+i/26, 'a'+i%26)
}

// hidden is a page with a canary wherever a page can have a word.
func hidden(c *canaries, head, pic, data, number string) string {
	w := c.word
	return "---\ntitle: Title " + w("title") + "\n" + head +
		"summary: Summary " + w("summary") + "\ntopics: [" + w("topic") + "]\n" +
		"control:\n  number: " + w("number") + "-" + number + "\n  revision: 2\n  status: %s\n  owner: " + w("owner") + "\n  approved_by: " + w("approver") +
		"\n  approved: 2026-09-30\n  effective: 2026-10-01\n  changes:\n    1: First " + w("old change") + "\n    2: Second " + w("change") + "\n" +
		"substances: [pyrogallol]\n" +
		"cautions:\n  " + w("caution's name") + ": {word: WARNING, text: \"Caution " + w("caution") + ".\"}\n" +
		"supplies: [Supply " + w("supply") + "]\ntools: [Tool " + w("tool") + "]\n" +
		"data:\n  " + w("data's name") + ": " + data + "\n" +
		"given:\n  tank: {label: Given " + w("given's label") + ", value: 500 ml, from: 300 ml, to: 2 l, step: 100 ml}\n" +
		"  least: {label: Fixed " + w("fixed given's label") + ", value: 4 ml, source: Source " + w("source") + ", owner: Role " + w("constant's owner") + "}\n" +
		"  kind: {label: Kind, value: " + w("choice") + ", choices: [" + w("choice") + "x, " + c.nth(len(c.places)-2) + "]}\n" +
		"figures:\n  " + w("figure's name") + ": {label: Figure " + w("figure's label") + ", formula: tank / 2}\n" +
		"limits:\n  - when: tank > 1 l\n    notice: Notice " + w("limit") + "\n  - when: tank < 500 ml\n    refuse: Refusal " + w("refusal") + "\n" +
		"checks:\n  - at: {tank: 500 ml}\n    expect: {" + c.nth(c.find("figure's name")) + ": 250 ml}\n    source: Check " + w("check's source") + "\n" +
		"steps:\n  - do: Do " + w("step") + "\n    for: 2 min\n    agitate: Agitate " + w("agitation") + "\n    hold: Hold " + w("hold") + "\n    note: Note " + w("note") + "\n    caution: \"NOTICE: Step " + w("step's caution") + "\"\n" +
		"tables:\n  " + w("table's name") + ":\n    caption: Table " + w("table's caption") + "\n    rows: {tank: [500 ml, 1 l]}\n    cell: " + c.nth(c.find("figure's name")) + "\n" +
		"charts:\n  " + w("chart's name") + ":\n    caption: Chart " + w("chart's caption") + "\n    x: tank\n    y: " + c.nth(c.find("figure's name")) + "\n" +
		"---\n\nText " + w("text") + ".\n\n## Heading " + w("heading") + "\n\n- item " + w("item") + "\n\n![Picture of " + w("alternative text") + "](" + pic + ")\n\n" +
		"```\ncode " + w("code") + "\n```\n\n| Cell " + w("cell") + " |\n|--|\n| x |\n\nA note.[^n]\n\n[^n]: Footnote " + w("footnote") + ".\n\n{" + c.nth(c.find("table's name")) + "}\n\n{" + c.nth(c.find("chart's name")) + "}\n"
}

// find returns the last canary put in a place.
func (c *canaries) find(place string) int {
	for i := len(c.places) - 1; i >= 0; i-- {
		if c.places[i] == place {
			return i
		}
	}
	return -1
}

const openPage = "---\ntitle: Open page\naudience: customers\nsummary: Everybody may read it.\ncontrol: {number: G-001, revision: 1, status: approved, approved_by: owner, approved: 2026-09-30, effective: 2026-10-01}\n" +
	"given:\n  tank: {value: 500 ml, from: 300 ml, to: 2 l}\nfigures:\n  half: {label: Half, formula: tank / 2}\nsteps:\n  - do: Pour\n    for: 1 min\n---\n\nText.\n"

// planted is a content folder in which the staff's pages, a page in a staff folder, a draft and a
// withdrawn page consist of canaries, in their texts and in the names of their files.
func planted() (map[string]string, *canaries) {
	c := &canaries{}
	files := map[string]string{
		"labsite.yaml": "name: Lab\naddress: https://lab.example/\n",
		"index.md":     "---\ntitle: Lab\naudience: customers\n---\n\nWelcome.\n",
		"open.md":      openPage,
		"guides/a.md":  strings.Replace(strings.Replace(openPage, "G-001", "G-002", 1), "Open page", "Guide", 1),
	}
	plant := func(folder, head, status, number string) {
		pic, data := c.word("picture's name")+".png", c.word("data file's name")+".csv"
		files[folder+pic] = string(dot)
		files[folder+data] = "film,minutes [min]\n" + c.word("data") + ",5\n"
		files[folder+c.word("page's name")+".md"] = fmt.Sprintf(hidden(c, head, pic, data, number), status)
	}
	plant("guides/", "audience: staff\n", "approved", "1")
	folder := c.word("folder's name")
	files[folder+"/index.md"] = "---\ntitle: Section " + c.word("section's title") + "\naudience: staff\nsummary: " + c.word("section's summary") + "\n---\n\nText " + c.word("section's text") + ".\n"
	plant(folder+"/", "audience: customers\n", "approved", "2") // the folder's audience outweighs the page's
	plant(folder+"/", "audience: staff\n", "draft", "3")
	plant("guides/", "audience: customers\n", "draft", "4")
	return files, c
}

// TestNothingOfTheStaffReachesCustomers looks for every word of the staff's pages, and of
// drafts, in every file of the customers' site and in the files' names.
func TestNothingOfTheStaffReachesCustomers(t *testing.T) {
	files, c := planted()
	for name, b := range published(t, labOf(t, files), page.Customers) {
		for i, place := range c.places {
			if strings.Contains(strings.ToLower(name), c.nth(i)) {
				t.Errorf("the name of %s says the staff's %s", name, place)
			}
			if bytes.Contains(bytes.ToLower(b), []byte(c.nth(i))) {
				t.Errorf("%s says the staff's %s", name, place)
			}
		}
	}
}

// TestCanariesSing checks that the staff's site has those words, so that the test above would find
// them.
func TestCanariesSing(t *testing.T) {
	files, c := planted()
	staff := published(t, labOf(t, files), page.Staff)
	var all bytes.Buffer
	for name, b := range staff {
		all.WriteString(name)
		all.Write(b)
	}
	whole := bytes.ToLower(all.Bytes())
	heard := map[string]bool{}
	for i, place := range c.places {
		if bytes.Contains(whole, []byte(c.nth(i))) {
			heard[place] = true
		}
	}
	for _, place := range c.places {
		switch place {
		case "data", "data's name", "data file's name": // a data file is never published
			continue
		case "limit", "refusal": // not said at the page's own values
			continue
		}
		if !heard[place] {
			t.Errorf("the staff's site does not say the %s", place)
			heard[place] = true
		}
	}
	for _, file := range []string{search.File, write.FeedFile} {
		for _, place := range []string{"title", "summary"} {
			if !bytes.Contains(staff[file], []byte(c.nth(c.first(place)))) {
				t.Errorf("%s of the staff's site does not say the %s", file, place)
			}
		}
	}
}

// first returns the first canary put in a place.
func (c *canaries) first(place string) int {
	for i, p := range c.places {
		if p == place {
			return i
		}
	}
	return -1
}

// Of a withdrawn page only title and number are published.
func TestWithdrawnSaysLittle(t *testing.T) {
	c := &canaries{}
	files := map[string]string{"index.md": "---\ntitle: Lab\naudience: customers\n---\n\nText.\n", "labsite.yaml": "address: https://lab.example\n"}
	files["dot.png"], files["d.csv"] = string(dot), "film,minutes [min]\na,5\n"
	files["gone.md"] = fmt.Sprintf(hidden(c, "audience: customers\n", "dot.png", "d.csv", "1"), "withdrawn")
	for name, b := range published(t, labOf(t, files), page.Customers) {
		for i, place := range c.places {
			switch place {
			case "title", "number", "owner", "approver", "summary", "topic", "change", "old change":
				continue
			}
			if bytes.Contains(bytes.ToLower(b), []byte(c.nth(i))) {
				t.Errorf("%s says the withdrawn page's %s", name, place)
			}
		}
		if (name == write.FeedFile || name == machine.SiteMapFile) && bytes.Contains(b, []byte("gone")) {
			t.Errorf("%s tells of a withdrawn page", name)
		}
	}
}
