package language

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/build/buildtest"
)

const mixing = `---
title: Mixing 𝛂 one-shot developer
audience: customers
data: {times: times.csv}
given:
  tank: {label: Tank, value: 500 ml, from: 500 ml, to: 2 l, step: 50 ml}
  strength: {label: Dilution, value: 1+100, choices: times.strength}
  minimum: {value: 4 ml, source: measured here 2026-09-14, owner: process lead}
figures:
  exact: tank * strength
  concentrate: {label: Concentrate, formula: "round(exact, 0.1 ml)", show: 0.1 ml}
  time: {label: Time, formula: "lookup(times.minutes, times.strength, strength)"}
limits:
  - when: exact < minimum
    refuse: "Each roll needs {minimum}."
checks:
  - at: {tank: 500 ml}
    expect: {concentrate: 5.0 ml}
    source: common practice, no source
---

Draw {concentrate} and fill to {tank}, for {time}. {tank - exact in 1 ml}

## How it goes

Stir.
`

const developing = `---
title: Developing
audience: customers
draws_on:
  mix: {page: mixing.md, at: {tank: size}}
given:
  size: {label: Size, value: 600 ml, choices: [600 ml, 1 l]}
figures:
  half: {label: Half, formula: mix.concentrate / 2, show: 0.1 ml}
---

Take {half} of {mix.concentrate}. See [mixing](mixing.md#how-it-goes).
`

func twoPages() map[string]string {
	return map[string]string{"labsite.yaml": "name: Brindle Weir Film Lab\n", "mixing.md": mixing, "developing.md": developing,
		"times.csv": "strength,minutes [min]\n1+50,8\n1+100,13\n"}
}

// Errors while typing have the words and places of those in a check of the saved file.
func TestTellsWhileTyping(t *testing.T) {
	dir := buildtest.Lab(t, twoPages())
	e := begin(t, dir)
	e.open("mixing.md")
	if p := e.heard("mixing.md", nil); slices.ContainsFunc(p.Diagnostics, func(d diagnostic) bool { return d.Severity == severityError }) {
		t.Errorf("of a page that holds: %s", show(p))
	}
	e.typed("mixing.md", "strength, strength)\"}\n", "  𝛂half: {label: Half, formula: tnak / 2}\n")
	e.put("mixing.md", strings.Replace(e.text["mixing.md"], "𝛂half", "half", 1))
	p := e.heard("mixing.md", nil)
	wantList := checked(t, dir, "mixing.md", e.text["mixing.md"])
	if len(wantList) == 0 {
		t.Fatal("the check finds nothing")
	}
	for _, d := range wantList {
		line, width := d.Marked()
		start := position{d.Line - 1, place(line, byRunes(line, d.Column-1)).Character}
		i := slices.IndexFunc(p.Diagnostics, func(x diagnostic) bool { return x.Code == d.Code && x.Range.Start == start })
		if i < 0 || !strings.HasPrefix(p.Diagnostics[i].Message, d.Message) || !strings.Contains(p.Diagnostics[i].Message, d.Hint) {
			t.Errorf("%s (%d wide) is not among %s", d, width, show(p.Diagnostics))
		}
	}
}

// checked is what a check says about a page with another text.
func checked(t *testing.T, dir, name, text string) source.List {
	t.Helper()
	site, list := build.Follow(context.Background(), dir, build.Options{Day: testDay, Drafts: true})
	if site == nil {
		t.Fatal(list)
	}
	defer site.Close()
	site.Write(map[string][]byte{name: []byte(text)})
	list, _ = site.PageDiagnostics(name)
	return only(list, name)
}

// Typing on one page is reported on the pages that draw on it, open or not, saved or not; a closed
// file counts as it is on disk.
func TestTellsOfOtherPages(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	e.heard("mixing.md", nil)
	e.put("mixing.md", strings.ReplaceAll(mixing, "concentrate", "syrup"))
	e.heard("developing.md", func(p publishParams) bool { return slices.Contains(codes(p), "unknown-name") })
	e.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": e.uri("mixing.md")}})
	e.heard("developing.md", func(p publishParams) bool { return !slices.Contains(codes(p), "unknown-name") })
}

// A new page gets diagnostics before it is saved.
func TestTellsOfUnsavedPages(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.openAs("new.md", "---\ntitle: New\naudience: staf\n---\n")
	if p := e.heard("new.md", nil); !slices.Equal(codes(p), []string{"not-one-of"}) {
		t.Errorf("%s", show(p))
	}
}

// Each repair that a message suggests is offered as an action that fixes it.
func TestActions(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	for _, c := range []struct{ code, right, wrong, title string }{
		{"unknown-name", "tank * strength", "tnak * strength", "Write tank"},
		{"unknown-key", "label: Tank", "lable: Tank", "Write label"},
		{"unknown-function", "round(exact", "ruond(exact", "Write round"},
		{"unknown-column", "lookup(times.minutes", "lookup(times.minuts", "Write times.minutes"},
		{"unknown-given", "at: {tank:", "at: {tonk:", "Write tank"},
		{"unknown-figure", "expect: {concentrate", "expect: {concentrat", "Write concentrate"},
		{"bare-ratio", "value: 1+100", "value: 1:100", "Write 1+100"},
		{"blank-before-unit", "value: 500 ml", "value: 500ml", "Write 500 ml"},
		{"decimal-comma", "minimum: {value: 4 ml, source", "minimum: {value: \"4,5 ml\", source", "Write 4.5"},
		{"unknown-unit", "tank: {label: Tank, value: 500 ml", "tank: {label: Tank, value: 500 mll", "Write ml"},
		{"not-one-of", "audience: customers", "audience: custmers", "Write customers"},
		{"unknown-name", "fill to {tank}", "fill to {tnak}", "Write tank"},
		{"date-form", "  tank: {label", "  noted: 28.11.2026\n  tank: {label", "Write 2026-11-28"},
		{"date-with-time", "  tank: {label", "  noted: 2026-11-28T10:30\n  tank: {label", "Write 2026-11-28"},
		{"date-form", "exact: tank * strength", "exact: tank * strength\n  apart: 2026-2-3 - 2026-02-01", "Write 2026-02-03"},
		{"clock-time", "  tank: {label", "  pause: 10:30\n  tank: {label", "Write 10 min 30 s"},
		{"range-order", "limits:\n", "tables:\n  t: {caption: T, rows: {tank: 2 l .. 500 ml by 500 ml}, cell: concentrate}\nlimits:\n", "Write 500 ml .. 2 L"},
		{"foreign-sign", "tank * strength", "tank × strength", "Write *"},
		{"unit-missing", "at: {tank: 500 ml}", "at: {tank: 500}", "Write 500 ml"},
		{"unknown-data", "lookup(times.minutes,", "lookup(tims.minutes,", "Write times.minutes"},
		{"unknown-substance", "given:\n", "substances: [hydroqinone]\ngiven:\n", "Write Hydroquinone"},
		{"link-nowhere", "Stir.", "Stir as [there](develping.md).", "Write developing.md"},
		{"quote-for-yaml", "title: Mixing", "title: Note: mixing", "Write \"Note: mixing 𝛂 one-shot developer\""},
	} {
		t.Run(c.wrong, func(t *testing.T) {
			text := strings.Replace(mixing, c.right, c.wrong, 1)
			e.put("mixing.md", text)
			p := e.heard("mixing.md", func(p publishParams) bool { return slices.Contains(codes(p), c.code) })
			i := slices.Index(codes(p), c.code)
			var got []codeAction
			e.ask("textDocument/codeAction", map[string]any{"textDocument": map[string]any{"uri": e.uri("mixing.md")}, "range": p.Diagnostics[i].Range, "context": map[string]any{"diagnostics": p.Diagnostics}}, &got)
			for _, a := range got {
				if a.Title != c.title {
					continue
				}
				e.put("mixing.md", edited(text, a.Edit.Changes[e.uri("mixing.md")]))
				after := e.heard("mixing.md", nil)
				if slices.ContainsFunc(after.Diagnostics, func(d diagnostic) bool {
					return d.Severity == severityError && d.Range.Start.Line == p.Diagnostics[i].Range.Start.Line
				}) {
					t.Errorf("after %s: %s", a.Title, show(after.Diagnostics))
				}
				return
			}
			t.Errorf("%s is not among %s for %s", c.title, show(got), show(p.Diagnostics[i]))
		})
	}
}

// A message about several places names the others, wherever they are now.
func TestRelatedPlaces(t *testing.T) {
	e := begin(t, buildtest.Lab(t, twoPages()))
	e.open("mixing.md")
	e.open("developing.md")
	e.open("times.csv")
	for _, c := range []struct {
		file, from, to string
		told, code     string
		others         []string // the texts that the other places mark
	}{
		{"mixing.md", "  exact: tank", "  time: tank\n  exact: tank", "mixing.md", "repeated-key", []string{"mixing.md time"}},
		{"mixing.md", "  exact: tank * strength", "  tank: 5 ml\n  exact: tank * strength", "mixing.md", "name-taken", []string{"mixing.md tank"}},
		{"mixing.md", "  exact: tank * strength", "  exact: other / 2\n  other: third\n  third: exact * 2", "mixing.md", "cycle", []string{"mixing.md other", "mixing.md third"}},
		{"times.csv", "1+100,13", "1+100,13\n1+50,9", "mixing.md", "rows-with-one-key", []string{"times.csv 1+50,8", "times.csv 1+50,9"}},
		{"times.csv", "strength,minutes [min]", "strength,strength", "times.csv", "data-column-twice", []string{"times.csv strength"}},
		{"developing.md", "[600 ml, 1 l]", "[600 ml, 0.6 l]", "developing.md", "choice-twice", []string{"developing.md 600 ml"}},
		{"mixing.md", "figures:\n", "draws_on: {back: developing.md}\nfigures:\n", "mixing.md", "page-cycle", []string{"developing.md mix", "mixing.md back"}},
	} {
		text := e.text[c.file]
		e.put(c.file, strings.Replace(text, c.from, c.to, 1))
		p := e.heard(c.told, func(p publishParams) bool { return slices.Contains(codes(p), c.code) })
		var got []string
		for _, r := range p.Diagnostics[slices.Index(codes(p), c.code)].Related {
			name := r.Location.URI[strings.LastIndexByte(r.Location.URI, '/')+1:]
			now := e.text[name]
			got = append(got, name+" "+now[editorOffset(now, r.Location.Range.Start):editorOffset(now, r.Location.Range.End)])
		}
		if slices.Sort(got); !slices.Equal(got, c.others) {
			t.Errorf("%s is about %q as well, want %q", c.code, got, c.others)
		}
		e.put(c.file, text)
		e.heard(c.told, func(p publishParams) bool { return !slices.Contains(codes(p), c.code) })
	}
}

// Changing parts of a text gives the same as replacing all of it, with every kind of line end.
func TestSplices(t *testing.T) {
	for _, c := range []struct {
		text  string
		at    [4]int
		with  string
		wants string
	}{
		{"ab\ncd", [4]int{0, 1, 1, 1}, "X", "aXd"},
		{"ab\r\ncd", [4]int{1, 0, 1, 1}, "X", "ab\r\nXd"},
		{"ab\rcd", [4]int{1, 1, 1, 2}, "X", "ab\rcX"},
		{"𝛂b\n", [4]int{0, 2, 0, 3}, "X", "𝛂X\n"},
		{"ab", [4]int{0, 9, 7, 7}, "X", "abX"},
		{"ab", [4]int{5, 0, 2, 0}, "X", "abX"},
		{"", [4]int{0, 0, 0, 0}, "X", "X"},
	} {
		r := textRange{position{c.at[0], c.at[1]}, position{c.at[2], c.at[3]}}
		if got := spliced(c.text, r, c.with); got != c.wants {
			t.Errorf("%q at %s: %q, want %q", c.text, fmt.Sprint(c.at), got, c.wants)
		}
	}
}
