package hazard

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// row gives the row that describes a substance at a strength: some are listed
// once pure and once as a solution, under one CAS number. A strength below every row
// gets the weakest.
func (s *Substance) row(percent float64) *Substance {
	if s.Sheet != nil || s.CAS == "" {
		return s
	}
	var weakest *Substance
	for _, r := range Built().Substances {
		if r.CAS != s.CAS || r.Covers == nil {
			continue
		}
		if percent >= r.Covers.From-1e-9 && (r.Covers.Below == 0 || percent < r.Covers.Below-1e-9) {
			return r
		}
		if percent < r.Covers.From && (weakest == nil || r.Covers.From < weakest.Covers.From) {
			weakest = r
		}
	}
	if weakest != nil {
		return weakest
	}
	return s
}

// family names what one limit decides: skin corrosion and irritation together,
// eye damage and irritation together, every other class by its name without the
// category, and supplemental information by its code.
func family(class, statement string) string {
	if class == "" {
		return statement
	}
	class, _, _ = strings.Cut(class, " (")
	if i := strings.LastIndex(class, " "); i > 0 {
		class = class[:i]
	}
	switch class {
	case "Skin Corr.", "Skin Irrit.":
		return "skin"
	case "Eye Dam.", "Eye Irrit.":
		return "eyes"
	}
	return class
}

// at gives the statements of a row at a strength in per cent by weight, with
// their classes, and those among them that no limit decides. Only the specific
// limits of the regulation are used; nothing is calculated.
func (s *Substance) at(percent float64) (statements []string, classes []Class, undecided []string) {
	decided := map[string]bool{}
	for _, l := range s.Limits {
		decided[family(l.Class, l.Statement)] = true
	}
	for _, code := range s.Statements {
		class := ""
		for _, c := range s.Classes {
			if c.Statement == code {
				class = c.Class
				classes = append(classes, c)
			}
		}
		if decided[family(class, code)] {
			continue
		}
		statements = append(statements, code)
		undecided = append(undecided, code)
	}
	for _, l := range s.Limits {
		if l.holds(percent) && !slices.Contains(statements, l.Statement) {
			statements = append(statements, l.Statement)
			if l.Class != "" {
				classes = append(classes, Class{Class: l.Class, Statement: l.Statement})
			}
		}
	}
	return absorb(statements), classes, undecided
}

// percentText writes a percentage as pages do: `28 %`, `0.2 %`.
func percentText(percent float64) string {
	return strconv.FormatFloat(percent, 'g', 6, 64) + " %"
}

// text says what a limit holds for: `H335 from 5 %`.
func (l Limit) text() string {
	if l.Below > 0 {
		return fmt.Sprintf("%s from %s to below %s", l.Statement, percentText(l.From), percentText(l.Below))
	}
	return fmt.Sprintf("%s from %s", l.Statement, percentText(l.From))
}
