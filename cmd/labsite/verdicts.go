package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/site"
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

func checkRows(st *site.Site) []checkRow {
	out := []checkRow{}
	if st == nil {
		return out
	}
	for _, t := range st.Topics {
		if t.Proof == nil {
			continue
		}
		for _, v := range t.Proof.Verdicts {
			expected, found := outcome(v)
			out = append(out, checkRow{t.Path, v.At, v.What, expected, found, v.Source, v.OK})
		}
	}
	return out
}

// cases counts the cases of all pages, and how many of them are some of many that were drawn
// from the ranges.
func cases(st *site.Site) (all, drawn int) {
	for _, t := range st.Topics {
		if t.Proof != nil {
			all += t.Proof.Cases
			if t.Proof.Sample() {
				drawn += t.Proof.Cases
			}
		}
	}
	return all, drawn
}

// casesText counts them in words: what holds in a sample may yet fail in another case that a
// reader can set.
func casesText(st *site.Site) string {
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
func advice(st *site.Site) source.List {
	var out source.List
	if st != nil {
		for _, t := range st.Topics {
			out = append(out, t.Advice()...)
		}
	}
	return out
}

// refusedCases counts the cases of all pages that their pages refuse: checks that hold
// always ask nothing of them.
func refusedCases(st *site.Site) int {
	n := 0
	for _, t := range st.Topics {
		if t.Proof != nil {
			n += t.Proof.Refused
		}
	}
	return n
}

// outcome words an expected limit as pages write it.
func outcome(v sheet.Verdict) (expected, found string) {
	if v.Check.Holds == sheet.Refuse {
		return "refused", v.Found
	}
	return v.Expected, v.Found
}

// verdicts prints each page's checks, and what its writer may want to know.
func (s *screen) verdicts(st *site.Site) {
	for _, t := range st.Topics {
		advice := t.Advice()
		if t.Proof == nil || len(t.Proof.Verdicts)+len(advice) == 0 {
			continue
		}
		tried := fmt.Sprintf("%s, %s refused", counted(t.Proof.Cases, "case", "cases"), fmt.Sprint(t.Proof.Refused))
		if t.Proof.Sample() {
			tried += ", drawn from the ranges"
		}
		fmt.Fprintf(s.out, "%s  %s\n", paint(s.out, bold, t.Path), paint(s.out, faint, tried))
		var rows [][]string
		if len(t.Proof.Verdicts) > 0 {
			rows = append(rows, []string{"case", "figure", "expected", "found", "source"})
		}
		var ok []bool
		for _, v := range t.Proof.Verdicts {
			expected, found := outcome(v)
			what := v.What
			if what == "" {
				what = "the page"
			}
			rows = append(rows, []string{v.At, what, expected, found, v.Source})
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
}
