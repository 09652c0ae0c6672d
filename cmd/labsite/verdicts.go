package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"labsite/recipes/source"
	"labsite/render/build"
)

// checkRow is one verdict in JSON.
type checkRow struct {
	Page     string `json:"page"`
	Case     string `json:"case"`
	What     string `json:"what"`
	Expected string `json:"expected"`
	Found    string `json:"found"`
	Source   string `json:"source"`
	OK       bool   `json:"ok"`
}

func checkRows(st *build.Site) []checkRow {
	out := []checkRow{}
	if st == nil {
		return out
	}
	for _, r := range st.Results() {
		for _, v := range r.Trial.Verdicts {
			out = append(out, checkRow{r.Path, v.Case, v.What, v.Expected, v.Found, v.Source, v.OK})
		}
	}
	return out
}

// cases counts the cases of all pages, and how many of them are of samples drawn from the ranges.
func cases(st *build.Site) (all, drawn int) {
	for _, r := range st.Results() {
		all += r.Trial.Cases
		if r.Trial.Sample {
			drawn += r.Trial.Cases
		}
	}
	return all, drawn
}

// casesText counts them in words, and says how many are samples: what holds in a sample may still
// fail in another case that a reader can set.
func casesText(st *build.Site) string {
	all, drawn := cases(st)
	text := counted(all, "case", "cases")
	switch {
	case drawn == 0:
	case drawn == all:
		text += " drawn from the ranges"
	default:
		text += ", " + strings.TrimSpace(counted(drawn, "", "")) + " of them drawn from the ranges"
	}
	return text
}

// advice gathers the advice for the writers of all pages.
func advice(st *build.Site) source.List {
	var out source.List
	if st != nil {
		for _, r := range st.Results() {
			out = append(append(out, r.Advice...), st.Short(r)...)
		}
		out = append(out, st.Disagreeing()...)
	}
	return out
}

// refusedCases counts the cases that pages refuse, of which checks of the whole range ask nothing.
func refusedCases(st *build.Site) int {
	n := 0
	for _, r := range st.Results() {
		n += r.Trial.Refused
	}
	return n
}

// verdicts prints each page's checks, and advice for its writer.
func (s *screen) verdicts(st *build.Site) {
	for _, r := range st.Results() {
		advice := append(r.Advice[:len(r.Advice):len(r.Advice)], st.Short(r)...)
		if !r.Trial.Proved || len(r.Trial.Verdicts)+len(advice) == 0 {
			continue
		}
		s.tried(r.Path, r.Trial)
		for _, d := range advice {
			fmt.Fprintf(s.out, "  %s%s (line %d)\n", paint(s.out, yellow, "· "), d.Message, d.Line)
		}
		fmt.Fprintln(s.out)
	}
	for _, d := range st.Disagreeing() {
		fmt.Fprintf(s.out, "%s%s (%s, line %d)\n", paint(s.out, yellow, "· "), d.Message, d.File, d.Line)
	}
}

// tried prints the checks of a page as a table.
func (s *screen) tried(path string, t build.Trial) {
	cases := fmt.Sprintf("%s, %s refused", counted(t.Cases, "case", "cases"), fmt.Sprint(t.Refused))
	if t.Sample {
		cases += ", drawn from the ranges"
	}
	fmt.Fprintf(s.out, "%s  %s\n", paint(s.out, bold, path), paint(s.out, faint, cases))
	if len(t.Verdicts) == 0 {
		return
	}
	rows := [][]string{{"case", "figure", "expected", "found", "source"}}
	for _, v := range t.Verdicts {
		what := v.What
		if what == "" {
			what = "the page"
		}
		rows = append(rows, []string{v.Case, what, v.Expected, v.Found, v.Source})
	}
	lines := setInColumns(rows)
	fmt.Fprintln(s.out, paint(s.out, faint, "    "+lines[0]))
	for i, v := range t.Verdicts {
		mark := paint(s.out, green, "✓ ")
		if !v.OK {
			mark = paint(s.out, red, "✗ ")
		}
		fmt.Fprintln(s.out, "  "+mark+lines[i+1])
	}
}

// widestColumn bounds the width of a column of checks; a longer cell pushes what follows it to the
// right.
const widestColumn = 44

// setInColumns aligns rows in columns, two spaces apart.
func setInColumns(rows [][]string) (lines []string) {
	width := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			width[i] = min(max(width[i], utf8.RuneCountInString(cell)), widestColumn)
		}
	}
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			line += cell
			if i < len(row)-1 {
				line += strings.Repeat(" ", max(width[i]-utf8.RuneCountInString(cell), 0)+2)
			}
		}
		lines = append(lines, line)
	}
	return lines
}
