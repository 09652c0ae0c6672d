package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"labsite/recipes/source"
	"labsite/render/build"
)

// checkRow is one verdict for machines.
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

// cases counts the cases of all pages, and how many of them are some of many that were drawn
// from the ranges.
func cases(st *build.Site) (all, drawn int) {
	for _, r := range st.Results() {
		all += r.Trial.Cases
		if r.Trial.Sample {
			drawn += r.Trial.Cases
		}
	}
	return all, drawn
}

// casesText counts them in words: what holds in a sample may yet fail in another case that a
// reader can set.
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

// advice gathers what the writers of all pages may want to know.
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

// refusedCases counts the cases of all pages that their pages refuse: checks that hold
// always ask nothing of them.
func refusedCases(st *build.Site) int {
	n := 0
	for _, r := range st.Results() {
		n += r.Trial.Refused
	}
	return n
}

// verdicts prints each page's checks, and what its writer may want to know.
func (s *screen) verdicts(st *build.Site) {
	for _, r := range st.Results() {
		t, advice := r.Trial, append(r.Advice[:len(r.Advice):len(r.Advice)], st.Short(r)...)
		if !t.Proved || len(t.Verdicts)+len(advice) == 0 {
			continue
		}
		tried := fmt.Sprintf("%s, %s refused", counted(t.Cases, "case", "cases"), fmt.Sprint(t.Refused))
		if t.Sample {
			tried += ", drawn from the ranges"
		}
		fmt.Fprintf(s.out, "%s  %s\n", paint(s.out, bold, r.Path), paint(s.out, faint, tried))
		var rows [][]string
		if len(t.Verdicts) > 0 {
			rows = append(rows, []string{"case", "figure", "expected", "found", "source"})
		}
		var ok []bool
		for _, v := range t.Verdicts {
			what := v.What
			if what == "" {
				what = "the page"
			}
			rows = append(rows, []string{v.Case, what, v.Expected, v.Found, v.Source})
			ok = append(ok, v.OK)
		}
		width := make([]int, 5)
		for _, r := range rows {
			for i, cell := range r {
				width[i] = min(max(width[i], utf8.RuneCountInString(cell)), 44)
			}
		}
		for n, r := range rows {
			mark := "  "
			if n > 0 && !ok[n-1] {
				mark = paint(s.out, red, "✗ ")
			} else if n > 0 {
				mark = paint(s.out, green, "✓ ")
			}
			line := "  " + mark
			for i, cell := range r {
				if i == len(r)-1 {
					line += cell
					break
				}
				line += cell
				// a column is never wider than its bound; two blanks follow a longer cell too
				line += strings.Repeat(" ", max(width[i]-utf8.RuneCountInString(cell), 0)+2)
			}
			if n == 0 {
				line = paint(s.out, faint, line)
			}
			fmt.Fprintln(s.out, line)
		}
		for _, d := range advice {
			fmt.Fprintf(s.out, "  %s%s (line %d)\n", paint(s.out, yellow, "· "), d.Message, d.Line)
		}
		fmt.Fprintln(s.out)
	}
	for _, d := range st.Disagreeing() {
		fmt.Fprintf(s.out, "%s%s (%s, line %d)\n", paint(s.out, yellow, "· "), d.Message, d.File, d.Line)
	}
}
