package page_test

import (
	"strings"
	"testing"

	"labsite/recipes/page/pagetest"
)

// What YAML does not read as it was meant is reported at the character that needs quotes.
func TestYAMLTraps(t *testing.T) {
	given := "given:\n  bath: {value: 20 °C, from: 18 °C, to: 24 °C}\n  tank: 500 ml\n"
	for _, c := range []struct{ name, keys string }{
		{"a colon in a formula", given + "figures:\n  develop: bath > 22 °C ? 8 min ⟦quote-for-yaml|:⟧ 10 min"},
		{"a colon in a text", "summary: First⟦quote-for-yaml|:⟧ wash"},
		{"a colon in a list", "topics:\n  - a topic: with more⟦quote-for-yaml|:⟧ colons"},
		{"a colon in flow", given + "figures:\n  develop: {formula: bath > 22 °C ? 8 min ⟦quote-for-yaml|:⟧ 10 min, show: 15 s}"},
		{"a comma in flow", given + "figures:\n  x: {formula: round(tank⟦quote-for-yaml|,⟧ 1 ml), show: 1 ml}"},
		{"a comma in flow, last", given + "figures:\n  x: {show: 1 ml, formula: round(tank⟦quote-for-yaml|,⟧ 1 ml)}"},
		{"two commas in flow", given + "figures:\n  x: {formula: clamp(tank⟦quote-for-yaml|,⟧ 1 ml⟦quote-for-yaml|,⟧ 2 ml), show: 1 ml}"},
		{"a comma in a text in flow", "cautions:\n  gloves: {word: WARNING, text: Wear gloves⟦quote-for-yaml|,⟧ always.}"},
		{"a brace at the start", "cautions:\n  gloves:\n    word: WARNING\n    text: ⟦quote-for-yaml|{⟧tank} of water"},
		{"a bracket at the start", "summary: ⟦quote-for-yaml|[⟧a] and more"},
		{"a brace in flow", given + "limits:\n  - {when: tank > 1 l, notice: ⟦quote-for-yaml|{⟧tank} is much}"},
		{"a percent sign", given + "figures:\n  x: {formula: tank / 1 l, show: ⟦quote-for-yaml|%⟧}"},
		{"a percent sign in a block", given + "figures:\n  x:\n    formula: tank / 1 l\n    show: ⟦quote-for-yaml|%⟧"},
		{"a star", "summary: ⟦quote-for-yaml|*⟧ is a star"},
		{"an ampersand", "summary: ⟦quote-for-yaml|&⟧ so on"},
		{"an exclamation mark", "summary: ⟦quote-for-yaml|!⟧ look"},
		{"an at sign", "summary: ⟦quote-for-yaml|@⟧home"},
		{"a back quote", "summary: ⟦quote-for-yaml|`⟧code`"},
		{"a bar", "summary: ⟦quote-for-yaml||⟧ bar"},
		{"a greater-than sign", "summary: ⟦quote-for-yaml|>⟧ 5 ml"},
		{"a number sign cuts", "summary: Tank ⟦cut-short|#2⟧"},
		{"a number sign cuts a value", "given:\n  tank: 500 ml ⟦cut-short|#large⟧"},
		{"a number sign in flow", "given: {tank: {value: 500 ml, label: Tank ⟦cut-short|#2}}⟧"},
		{"a dash at the start", "summary: ⟦quote-for-yaml|-⟧ not a list"},
		{"a question mark at the start", "summary: ⟦quote-for-yaml|?⟧ who knows"},
		{"text behind a quote", "summary: ⟦quote-for-yaml|\"⟧quoted\" and more"},
		{"text behind a single quote", "summary: ⟦quote-for-yaml|'⟧quoted' and more"},
		{"a merge key", "given:\n  a1: &x {value: 1}\n  b1: {⟦no-merge-key|<<⟧: *x, value: 2}"},

		{"braces alone", "summary: ⟦quote-for-yaml|{⟧tank}"},
		{"brackets alone", "summary: ⟦quote-for-yaml|[⟧tank]"},
		{"braces alone in flow", given + "limits:\n  - {when: tank > 1 l, notice: ⟦quote-for-yaml|{⟧tank}}"},
		{"braces alone as a value", "given:\n  x: {value: ⟦quote-for-yaml|{⟧tank}}"},
		{"a colon in a list of texts", "topics:\n  - a topic⟦quote-for-yaml|:⟧ with more"},
		{"a brace in the middle, in flow", given + "limits:\n  - {when: tank > 1 l, notice: With ⟦quote-for-yaml|{⟧tank, or more} it is much}"},
		{"a bracket in the middle, in flow", given + "limits:\n  - {when: tank > 1 l, notice: See ⟦quote-for-yaml|[⟧here], it is much}"},
		{"a colon in flow over lines", given + "figures:\n  develop: {\n    formula: bath > 22 °C ? 8 min ⟦quote-for-yaml|:⟧ 10 min,\n    show: 15 s}"},
		{"a star in flow", "given: {tank: {value: 5 ml, label: ⟦quote-for-yaml|*⟧ star}}"},

		// none of these is a trap
		{"flow with quotes and comments", "given: { # first\n  tank: {value: \"500 ml\", label: 'it''s #2: {a}'}, # second\n  x: {value: 1}\n}"},
		{"an apostrophe in flow", "given: {tank: {value: 5 ml, label: it's 5, source: 5 o'clock}}"},
		{"a comment", "summary: Tank # 2"},
		{"a comment on its own", "# a: b: c\nsummary: Tank"},
		{"quotes", "summary: \"First: wash, {tank} #2\""},
		{"a block", "summary: >\n  First: wash, {tank} #2 and: more"},
		{"a literal block", "summary: |\n  - First: wash\n  * {tank} #2"},
		{"a clock in a text", "summary: Open from 10:30 to 12:00"},
		{"an address", "summary: See https://example.org/a#b"},
		{"a number sign inside a word", "summary: Tank#2"},
		{"signs in the middle", "summary: a * b & c ! d % e @ f | g > h"},
		{"a quoted percent sign", given + "figures:\n  x: {formula: tank / 1 l, show: \"%\"}"},
		{"a list of texts in flow", "topics: [developing, black and white]"},
		{"a conditional in quotes", given + "figures:\n  develop: \"bath > 22 °C ? 8 min : 10 min\""},
		{"a comma in quotes in flow", given + "figures:\n  x: {formula: \"round(tank, 1 ml)\", show: 1 ml}"},
		{"a comma in a block", given + "figures:\n  x: round(tank, 1 ml)"},
		{"a colon at the end of a block's line", "summary: >\n  as follows:\n  and so on"},
	} {
		expectMarks(t, c.name, pagetest.WithKeys(c.keys))
	}
}

// Texts stay as they are written, whatever types YAML would give them.
func TestScalarsAsWritten(t *testing.T) {
	s, _, list := build("---\ntitle: 1_000\naudience: staff\nsummary: 0x1F\ntopics: [yes, no, ~, null, NULL, 1e3, 0o17, 2026-10-01, .inf, 010, 1.50, -0, +1, true]\n" +
		"control: {number: 014, revision: 3, status: draft}\ngiven:\n  a1: \"500 ml\"\n  b1: 500 ml\n  c1: '500 ml'\n---\n")
	if len(list) > 0 {
		t.Fatal(list)
	}
	if s.Title != "1_000" || s.Summary != "0x1F" || s.Control.Number != "014" {
		t.Errorf("title %q, summary %q, number %q", s.Title, s.Summary, s.Control.Number)
	}
	want := "yes no ~ null NULL 1e3 0o17 2026-10-01 .inf 010 1.50 -0 +1 true"
	if got := strings.Join(s.Topics, " "); got != want {
		t.Errorf("topics %q, want %q", got, want)
	}
	for _, g := range s.Given {
		if g.Own != 500 || g.Value.Text != "500 ml" {
			t.Errorf("%s is %v %q", g.Name, g.Own, g.Value.Text)
		}
	}
}

func TestFrontMatterEdges(t *testing.T) {
	for _, c := range []struct{ name, text, codes string }{
		{"no front matter", "# A page\n", "no-front-matter"},
		{"nothing", "", "no-front-matter"},
		{"a blank before it", " ---\ntitle: T\n---\n", "no-front-matter"},
		{"an empty line before it", "\n---\ntitle: T\n---\n", "no-front-matter"},
		{"not closed", "---\ntitle: T\naudience: staff\n", "front-matter-open"},
		{"three hyphens alone", "---", "front-matter-open"},
		{"three hyphens and a line", "---\n", "front-matter-open"},
		{"empty", "---\n---\n", "missing-key missing-key"},
		{"comments alone", "---\n# nothing\n---\n", "missing-key missing-key"},
		{"a list", "---\n- a\n- b\n---\n", "front-matter-map"},
		{"a text", "---\nhello\n---\n", "front-matter-map"},
		{"a key without its colon", "---\ntitle T\n---\n", "no-colon"},
		{"keys without their colons", "---\ntitle T\naudience staff\n---\n", "no-colon no-colon"},
		{"closed with blanks", "---\ntitle: T\naudience: staff\n---  \nBody", ""},
		{"no body", "---\ntitle: T\naudience: staff\n---", ""},
		{"four hyphens in the body", "---\ntitle: T\naudience: staff\n---\n----\n", ""},
		{"three hyphens in the body", "---\ntitle: T\naudience: staff\n---\na\n---\n", ""},
		{"three hyphens in a block", "---\ntitle: T\naudience: staff\nsummary: |\n  a\n  ---\n  b\n---\n", ""},
		{"a document end", "---\ntitle: T\naudience: staff\n...\n---\n", ""},
		{"a tab", "---\ntitle: T\naudience: staff\ngiven:\n\ttank: 5 ml\n---\n", "tab"},
		{"a tab inside a text", "---\ntitle: T\tx\naudience: staff\n---\n", ""},
		{"no title", "---\naudience: staff\n---\n", "missing-key"},
		{"an empty title", "---\ntitle:\naudience: staff\n---\n", "missing-key"},
		{"a title of blanks", "---\ntitle: \"  \"\naudience: staff\n---\n", "missing-key"},
		{"another audience", "---\ntitle: T\naudience: everyone\n---\n", "not-one-of"},
		{"a bracket that is open", "---\ntitle: T\naudience: staff\ntopics: [a, b\n---\n", "not-closed"},
		{"a quote that is open", "---\ntitle: \"T\naudience: staff\n---\n", "not-closed"},
		{"a key that is a list", "---\ntitle: T\naudience: staff\n[a, b]: c\n---\n", "quote-for-yaml"},
		{"an unknown alias", "---\ntitle: *x\naudience: staff\n---\n", "quote-for-yaml"},
		{"an anchor used", "---\ntitle: &x T\naudience: staff\nsummary: *x\n---\n", ""},
		{"an anchor inside itself", "---\ntitle: T\naudience: staff\ntopics: &x [*x]\n---\n", "quote-for-yaml"},
		{"blanks behind the hyphens", "--- \ntitle: T\naudience: staff\n---\t\n", ""},
		{"hyphens alone", "---", "front-matter-open"},
		{"hyphens and a blank alone", "--- ", "front-matter-open"},
		{"nothing", "", "no-front-matter"},
		{"bad indentation", "---\ntitle: T\n  audience: staff\n---\n", "indentation"},
	} {
		f, _, list := build(c.text)
		var codes []string
		for _, d := range list {
			codes = append(codes, d.Code)
			if d.Line < 1 || d.Column < 1 || d.Message == "" || d.Hint == "" {
				t.Errorf("%s: %+v", c.name, d)
			}
		}
		if got := strings.Join(codes, " "); got != c.codes {
			t.Errorf("%s: %q, want %q\n%s", c.name, got, c.codes, list)
		}
		if c.codes == "" && f == nil {
			t.Errorf("%s: no sheet", c.name)
		}
	}
}

// Body is the offset at which the text begins.
func TestBodyOffset(t *testing.T) {
	for text, want := range map[string]string{
		"---\ntitle: T\naudience: staff\n---\nBody.\n": "Body.\n", "---\ntitle: T\naudience: staff\n---": "",
		"---\ntitle: T\naudience: staff\n---   \n\nBody": "\nBody",
	} {
		s, _, list := build(text)
		if s == nil {
			t.Fatal(list)
		}
		if got := s.File.Text[s.Body:]; got != want {
			t.Errorf("%q: the body is %q, want %q", text, got, want)
		}
	}
}
