package formula

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/quantity"
)

// brief names a kind in the letters of the prelude: a·b, a/b, 1/b, p, y.
func brief(k quantity.Kind) string {
	switch k.Sort {
	case quantity.Point:
		return "p"
	case quantity.YesNo:
		return "y"
	case quantity.Word:
		return "w"
	case quantity.Unknown:
		return "z"
	}
	over, under := "", ""
	part := func(power int8, letter string) {
		for range power {
			over += letter
		}
		for range -power {
			under += letter
		}
	}
	part(k.Mass, "a")
	part(k.Time, "b")
	part(k.Degree, "d")
	part(k.Stop, "s")
	money := "u"
	if k.Currency == "EUR" {
		money = "e"
	}
	part(k.Money, money)
	switch {
	case over == "" && under == "":
		return "n"
	case over == "":
		over = "1"
	}
	if over == "ab" {
		over = "c"
	}
	if under == "ab" {
		under = "c"
	}
	if under != "" {
		return over + "/" + under
	}
	return over
}

// cell is the outcome of a formula in one word: its kind, or the codes of its errors;
// a dash where an operand was reported elsewhere and nothing more is said.
func cell(text string) string {
	n, list := infer(text)
	if len(list) > 0 {
		once := slices.Compact(strings.Fields(codes(list)))
		return strings.Join(once, "+")
	}
	if n == nil {
		return "–"
	}
	return brief(n.Kind)
}

// matrix is one table of inference: rows and columns are operands, L and R in the
// formula stand for them.
type matrix struct {
	title, formula, rows, columns string
	want                          string // a line a row
}

// short stands for codes in the tables, so that their columns stay narrow.
var short = map[string]string{
	"≠": "kinds-differ", "✗": "wrong-kind", "pp": "points-added", "dp": "point-from-difference", "p*": "point-multiplied",
	"-p": "point-negated", "ss": "stops-multiplied", "ue": "currencies-mixed", "**": "power-whole", "√": "no-root",
	"w=": "text-beside", "w<": "text-compared", "w!": "text-result",
}

func TestInferenceTable(t *testing.T) {
	document := os.Getenv("INFERENCE_TABLE")
	var out strings.Builder
	for _, m := range inferenceTable {
		rows, columns := strings.Fields(m.rows), strings.Fields(m.columns)
		var got [][]string
		for _, r := range rows {
			var line []string
			for _, c := range columns {
				text := strings.NewReplacer("L", r, "R", c).Replace(m.formula)
				line = append(line, cell(text))
			}
			got = append(got, line)
		}
		want := strings.Split(strings.TrimSpace(m.want), "\n")
		for i, r := range rows {
			var cells []string
			if i < len(want) {
				cells = strings.Fields(want[i])
			}
			for j, c := range columns {
				w := ""
				if j < len(cells) {
					w = cells[j]
				}
				if full, ok := short[w]; ok {
					w = full
				}
				if got[i][j] != w {
					t.Errorf("%s, %s and %s: %s, want %s", m.formula, r, c, got[i][j], w)
				}
			}
		}
		if t.Failed() && os.Getenv("SHOW") != "" {
			fmt.Printf("%s\n", m.formula)
			for _, line := range got {
				fmt.Printf("%s\n", strings.Join(line, " "))
			}
		}
		fmt.Fprintf(&out, "\n### %s\n\n| `%s` | %s |\n|---|%s\n", m.title, strings.ReplaceAll(m.formula, "|", "\\|"), strings.Join(columns, " | "), strings.Repeat("---|", len(columns)))
		for i, line := range got {
			fmt.Fprintf(&out, "| **%s** | %s |\n", rows[i], strings.Join(line, " | "))
		}
	}
	if document != "" && !t.Failed() {
		if err := os.WriteFile(document, []byte(inferenceHead+out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

const inferenceHead = `# What kind comes out

Letters stand for kinds: **n** a plain number, **a** and **b** two measures (such as a mass and a time), **c** = a·b,
**p** a temperature on a scale, **d** a temperature difference, **s** stops, **u** and **e** two currencies, **y** yes or no,
**w** a text with choices. A cell holds the kind that comes out, or the code of the error. L is the operand at the left of
the row, R the one at the head of the column.
`
