package formula

import (
	"flag"
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
	part(k.OtherMoney, "u") // USD is the later of the two codes
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
// a dash where an operand was reported elsewhere and nothing more is reported.
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
	"w=": "text-beside", "wy": "yes-beside-text", "w<": "text-compared",
}

// update rewrites the files that tests check, here KINDS.md.
var update = flag.Bool("update", false, "rewrite the files that tests compare with")

// Every pair of kinds comes out as the tables say, and KINDS.md shows it.
func TestInferenceTable(t *testing.T) {
	var out strings.Builder
	out.WriteString(kindsHead)
	for _, o := range Operations() {
		fmt.Fprintf(&out, "| `%s` | %s | %s |\n", inTable(o.Form), inTable(o.Gives), inTable(o.exampleText()))
	}
	out.WriteString(inferenceHead)
	for _, m := range inferenceTable {
		t.Run(m.formula, func(t *testing.T) { m.check(t, &out) })
	}
	if *update && !t.Failed() {
		if err := os.WriteFile("KINDS.md", []byte(out.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if held, err := os.ReadFile("KINDS.md"); err != nil || string(held) != out.String() {
		t.Errorf("KINDS.md is out of date: go test ./recipes/formula -run TestInferenceTable -update")
	}
}

// exampleText is the example of an operation and its value.
func (o *Operation) exampleText() string {
	if o.Example.Formula == "" {
		return ""
	}
	return "`" + o.Example.Formula + "` is " + o.Example.Value
}

// inTable keeps a text in its cell.
func inTable(text string) string { return strings.ReplaceAll(text, "|", "\\|") }

// check tries each pair of a matrix, and writes what comes out.
func (m matrix) check(t *testing.T, out *strings.Builder) {
	rows, columns := strings.Fields(m.rows), strings.Fields(m.columns)
	want := strings.Split(strings.TrimSpace(m.want), "\n")
	fmt.Fprintf(out, "\n### %s\n\n| `%s` | %s |\n|---|%s\n", m.title, inTable(m.formula), strings.Join(columns, " | "), strings.Repeat("---|", len(columns)))
	for i, r := range rows {
		var cells, got []string
		if i < len(want) {
			cells = strings.Fields(want[i])
		}
		for j, c := range columns {
			text := cell(strings.NewReplacer("L", r, "R", c).Replace(m.formula))
			got = append(got, text)
			w := ""
			if j < len(cells) {
				w = cells[j]
			}
			if full, ok := short[w]; ok {
				w = full
			}
			if text != w {
				t.Errorf("%s, %s and %s: %s, want %s", m.formula, r, c, text, w)
			}
		}
		fmt.Fprintf(out, "| **%s** | %s |\n", r, strings.Join(got, " | "))
	}
}

const kindsHead = `# The operations and their kinds

Written by a test: go test ./recipes/formula -run TestInferenceTable -update

## The operations

The data file of the examples is formula.ExampleData.

| Written | Gives | Example |
|---|---|---|
`

const inferenceHead = `
## What kind comes out

Letters stand for kinds: **n** a plain number, **a** and **b** two measures (such as a mass and a time), **c** = a·b,
**p** a temperature on a scale, **d** a temperature difference, **s** stops, **u** and **e** two currencies, **y** yes or no,
**w** a text with choices. A cell holds the kind that comes out, or the code of the error. L is the operand at the left of
the row, R the one at the head of the column.
`
