package page_test

import (
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/quantity"
)

const keepsPage = `---
title: T
audience: staff
keeps: mixing-log.csv
data:
  log: {file: mixing-log.csv, adds: {late: made > 2026-11-01}}
given:
  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l}
  film: {value: roll, choices: [roll, sheet]}
  rate: 5 ml
  density: {label: Density, example: 1.2, from: 0, to: 3}
figures:
  stock: {label: Left, formula: 2 l - sum(log.syrup)}
  syrup: {label: Syrup, formula: tank / 101}
  fine: {label: Fine, formula: density < 2}
  ever: count(log.density, log.film, film)
---
Body.
`

// Columns of records have a fixed order, and a page may use them before the file exists.
func TestKeptColumns(t *testing.T) {
	sheet, _, list := buildWith(keepsPage, pagetest.Shelf{}, page.World{})
	if len(list) > 0 {
		t.Fatal(list)
	}
	var heads []string
	for _, k := range sheet.KeptColumns() {
		heads = append(heads, k.Head())
	}
	if got := strings.Join(heads, ","); got != "made,revision,tank,film [text],density,stock,syrup,fine [text],by [text],note [text]" {
		t.Errorf("the columns are %s", got)
	}
	// the same page has no errors once there are records, and a moment is read as its day
	log := "made,revision,tank,film [text],density,stock,syrup,fine [text],by [text],note [text]\n2026-11-28T14:05:09+01:00,1,500 ml,roll,1.2,1.99 L,4.95 ml,yes,KM,-\n2026-11-28T23:59:00.5Z,1,500 ml,roll,1.2,1.99 L,4.95 ml,yes,KM,-\n"
	sheet, _, list = buildWith(keepsPage, pagetest.Shelf{"mixing-log.csv": log}, page.World{})
	if len(list) > 0 {
		t.Fatal(list)
	}
	made, _ := sheet.Data[0].Table.Column("made")
	if made.Kind != quantity.Date || made.Cells[0] != made.Cells[1] || quantity.ISODate(made.Cells[0]) != "2026-11-28" {
		t.Errorf("made is %v of %v", made.Cells, made.Kind)
	}
}
