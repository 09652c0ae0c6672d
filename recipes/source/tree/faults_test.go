package tree

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/source"
)

// Mistakes that people make in front matter. Each mark ⟦code|text⟧ is a place that is
// reported, and nothing else is.
var faulty = []string{
	"title: T\n⟦no-colon|audience⟧ customers\n",
	"title: T\n⟦no-colon|audience⟧\ngiven:\n  tank: 500 ml\n",
	"⟦no-colon|title⟧ T\n⟦no-colon|audience⟧ customers\n",
	"given:\n  ⟦no-colon|tank⟧ {label: Working solution, value: 500 ml}\n  rolls: 3\n",
	"given:\n  ⟦no-colon|tank⟧ 500 ml\n  ⟦no-colon|rolls⟧ 3\nfigures:\n  ⟦no-blank-after-colon|exact:⟧tank\n  water: 2\n",
	"given:\n  ⟦no-colon|tank⟧ big one\n  rolls: 3\n",
	"checks:\n  - at: {tank: 1 l}\n    ⟦no-colon|expect⟧ {a: 1 l}\n",
	"steps:\n  - do: Fix\n    ⟦no-colon|note⟧ \"In the dark: all of it.\"\n",
	"changes:\n  ⟦no-colon|1⟧ First issue.\n  2: Second.\n",
	"given:\n  b: {label: Tank, ⟦no-colon|value⟧ 500 ml, from: 1 ml}\n",
	"figures:\n  ⟦no-blank-after-colon|exact:⟧tank\n  water: tank * 2\n",
	"⟦no-blank-after-colon|title:⟧T\naudience: customers\n",
	"checks:\n  - ⟦no-blank-after-colon|at:⟧{tank: 1 l}\n    expect: refused\n",
	"steps:\n  ⟦no-blank-after-dash|-⟧do: A\n    for: 2 min\n",

	"title: T\n⟦indentation| ⟧audience: customers\n",
	"⟦indentation| ⟧title: T\naudience: customers\n",
	"given:\n  tank: 500 ml\n  ⟦indentation| ⟧rolls: 3\n  last: 1\n",
	"given:\n  tank: 500 ml\n⟦indentation| ⟧rolls: 3\nfigures:\n  a: tank\n",
	"given:\n⟦indentation|   ⟧tank: 500 ml\n  rolls: 3\n",
	"given:\n⟦indentation| ⟧tank: 500 ml\n  rolls: 3\n  last: 3\n",
	"steps:\n  - do: A\n    for: 2 min\n⟦indentation|   ⟧note: b\n    dark: true\n",
	"steps:\n  - do: A\n    ⟦indentation| ⟧for: 2 min\n  - do: B\n",
	"steps:\n⟦indentation| ⟧- do: A\n    for: 2 min\n  - do: B\n    for: 3 min\n",
	"steps:\n⟦indentation|   ⟧- do: A\n    for: 2 min\n  - do: B\n    for: 3 min\n",
	"steps:\n  - do: A\n    for: 2 min\n⟦indentation| ⟧- do: B\n    for: 3 min\n",
	"steps:\n  - do: A\n⟦indentation| ⟧tables:\n  one:\n    cell: a\n",
	"summary: a long text\n⟦indentation|  ⟧with a note: here\n",

	"given:\n⟦tab|\t⟧tank: 500 ml\n\trolls: 3\ntopics: ⟦not-closed|[⟧a, b\nlast: 1\n",
	"given:\n  tank: ⟦not-closed|{⟧label: Working, value: 500 ml\n  rolls: 3\nfigures:\n  a: tank\n",
	"given:\n  tank: ⟦not-closed|{⟧\n    label: Working,\n    value: 500 ml,\n  rolls: 3\n",
	"topics: ⟦not-closed|[⟧a, b\ngiven:\n  rolls: 3\n",
	"title: ⟦not-closed|\"⟧T\naudience: customers\n",
	"steps:\n  - do: A\n    note: ⟦not-closed|\"⟧Plain water.\n  - do: B\n    note: \"x\"\n",
	"summary: ⟦quote-for-yaml|'⟧It's good'\n",
	"given:\n  tank: label: Tank, value: 500 ml⟦closes-nothing|}⟧\n  b: {label: Tank, value: 500 ml}⟦closes-nothing|}⟧\n",
	"summary: ⟦typographic-quotes|“⟧Mix: well”\ngiven:\n  tank: {label: ⟦typographic-quotes|“⟧Tank: big”, value: 500 ml}\n",
	"given:\n  tank: {label: ⟦typographic-quotes|“⟧Tank, big”, value: 500 ml}\n",
	"given:\n  tank: {label: Tank value⟦quote-for-yaml|:⟧ 500 ml}\n",

	// all of a page at once
	"title: T\n⟦no-colon|audience⟧ customers\ngiven:\n  ⟦no-colon|tank⟧ {label: Working solution, value: 500 ml}\n  rolls: 3\nfigures:\n  ⟦no-blank-after-colon|exact:⟧tank\n  ⟦indentation| ⟧water: tank\nsteps:\n  - do: A\n    note: ⟦not-closed|\"⟧x\n",
}

// Nothing is wrong with these, whatever they look like.
var faultless = []string{
	"summary: a long text\n  that goes on\n  and on:it\ntopics:\n- see:this\n- http://lab.example/a\n",
	"formula:\n  tank * strength\nother: |\n  a:b\n   c {d: e\n\tf\nlast: >-\n  \"open\n",
	"text: \"over\n  two lines: both\"\nlist: [a,\n  b, {c: d,\n  e: f}]\nsingle: 'it''s\n\n  here'\n",
	"a:\n- b: c\n  d: e\n- f\nempty:\nlast: &x\n  g: *x\n",
	"b: {label: Tank, value:500 ml}\nc: {value:500 ml}\n", // the library reads these as they are meant
	"a:\n    b:\n            c: d\n    e: f\n",
}

func told(list source.List) []string {
	var out []string
	for _, d := range list.Sorted() {
		line, mark := d.Excerpt()
		from := strings.IndexByte(mark, '^')
		text := strings.ReplaceAll(string([]rune(line)[from:len(mark)]), "→", "\t")
		out = append(out, fmt.Sprintf("%d:%d %s %q", d.Line, d.Column, d.Code, text))
		if d.Hint == "" {
			out = append(out, "no hint")
		}
	}
	return out
}

func TestMistakes(t *testing.T) {
	for _, marked := range faulty {
		var want []string
		text := ""
		for rest := marked; ; {
			before, after, ok := strings.Cut(rest, "⟦")
			text += before
			if !ok {
				break
			}
			inside, after, _ := strings.Cut(after, "⟧")
			code, what, _ := strings.Cut(inside, "|")
			line := strings.Count(text, "\n") + 1
			column := len([]rune(text[strings.LastIndexByte(text, '\n')+1:])) + 1
			want = append(want, fmt.Sprintf("%d:%d %s %q", line, column, code, what))
			text, rest = text+what, after
		}
		if _, list := parse(t, text); !slices.Equal(told(list), want) {
			t.Errorf("%s\ngot  %s\nwant %s\n%s", text, strings.Join(told(list), "\n     "), strings.Join(want, "\n     "), list)
		}
	}
	for _, text := range faultless {
		f, _ := source.New("a.yaml", []byte(text))
		if list := findFaults(f, 0, len(text)); len(list) > 0 {
			t.Errorf("%s\n%s", text, list)
		}
	}
}

// The hints that depend on the lines around a mistake.
func TestMistakesHints(t *testing.T) {
	for text, want := range map[string]string{
		"title: T\naudience customers\n":              "Write audience: customers.",
		"title: T\naudience\n":                        "Write audience: and its value.",
		"given:\n  tank: 5 ml\n   rolls: 3\n":         "Begin it after 2 spaces, below tank. If it continues the text above, put that whole text in double quotes.",
		"given:\n  tank: 5 ml\n rolls: 3\n":           "Begin it after 2 spaces, below tank, or at the margin, below given.",
		"given:\n tank: 5 ml\n  rolls: 3\n":           "Begin it after 2 spaces, above rolls.",
		"steps:\n  - do: A\n tables:\n  a: b\n":       "Begin it at the margin, below steps.",
		"given:\n\ttank: 5 ml\n\trolls: 3\n":          "Put two spaces for each tab.",
		"given:\n  a: {b: c, value 5 ml}\n":           "Write value: 5 ml.",
		"given:\n  a: {b: Tank, big one}\n":           "Put the whole text in double quotes; or, if big is a key, write big: with a colon and a space.",
		"given:\n  a: {b: Tank value: 5 ml}\n":        "Put the whole text in double quotes; or, if value is a key, put a comma before it.",
		"given:\n  a: {b: \"round(a, 1 ml)\", c: d\n": "Add } where it ends, most likely at the end of this line.",
	} {
		if _, list := parse(t, text); len(list) != 1 || !strings.HasPrefix(list[0].Hint, want) {
			t.Errorf("%s\n%s, want %s", text, list, want)
		}
	}
}

// One mistake in a page of the demo is reported at its line, and no other line is blamed.
func TestMistakesInPages(t *testing.T) {
	var fronts []string
	pages, _ := filepath.Glob("../../../content/*/*.md")
	for _, name := range pages {
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if text, is := strings.CutPrefix(string(raw), "---\n"); is {
			front, _, _ := strings.Cut(text, "\n---\n")
			fronts = append(fronts, front+"\n")
		}
	}
	if len(fronts) < 20 {
		t.Fatalf("%d pages", len(fronts))
	}
	mistakes := map[string]func(line string) string{
		"no colon":  func(line string) string { return strings.Replace(line, ": ", " ", 1) },
		"no blank":  func(line string) string { return strings.Replace(line, ": ", ":", 1) },
		"too far":   func(line string) string { return " " + line },
		"too near":  func(line string) string { return strings.TrimPrefix(line, " ") },
		"a tab":     func(line string) string { return "\t" + strings.TrimLeft(line, " ") },
		"no brace":  func(line string) string { return strings.TrimSuffix(line, "}") },
		"no quote":  func(line string) string { return strings.TrimSuffix(line, "\"") },
		"no closer": func(line string) string { return strings.TrimSuffix(line, "]") },
	}
	tried, found := 0, 0
	seen := map[string]bool{} // pages have many lines alike, and those around them
	for k, front := range fronts {
		f, _ := source.New("a.yaml", []byte(front))
		if list := findFaults(f, 0, len(front)); len(list) > 0 {
			t.Errorf("a page without mistakes: %s", list)
		}
		lines := strings.Split(front, "\n")
		for i := k % 5; i < len(lines); i += 5 {
			for name, mistake := range mistakes {
				now := mistake(lines[i])
				key := name + shapeOf(lines, i)
				if now == lines[i] || strings.TrimSpace(now) == "" || seen[key] {
					continue
				}
				seen[key] = true
				text := strings.Join(slices.Concat(lines[:i], []string{now}, lines[i+1:]), "\n")
				v, list := parse(t, text)
				if v != nil {
					continue // valid YAML, which is for the decoder of the keys to judge
				}
				tried++
				for _, d := range list {
					if d.Line == i+1 {
						found++
					} else {
						t.Errorf("%s in line %d:\n%s\n%s", name, i+1, strings.Join(lines[max(0, i-2):i], "\n"), list)
					}
				}
			}
		}
	}
	if found < tried || tried < 500 {
		t.Errorf("%d of %d mistakes were reported at their lines", found, tried)
	}
}

// shapeOf is a line with its words and numbers cut short, and the indentation of its neighbours:
// a mistake in lines of one shape is one mistake to YAML.
func shapeOf(lines []string, i int) string {
	shape := words.ReplaceAllString(lines[i], "a")
	if i > 0 {
		shape += fmt.Sprint(indentOf(lines[i-1]), strings.HasSuffix(lines[i-1], ":"))
	}
	if i+1 < len(lines) {
		shape += fmt.Sprint(indentOf(lines[i+1]))
	}
	return shape
}

func indentOf(line string) int { return len(line) - len(strings.TrimLeft(line, " -")) }

var words = regexp.MustCompile(`[\pL\pN_.]+(?: [\pL\pN_.]+)*`)
