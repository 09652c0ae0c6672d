package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Sizes of the measured site.
const (
	measuredFolder  = 50  // pages in a folder
	measuredDrawn   = 100 // pages that draw on the one with a constant
	measuredFigures = 10
)

// measuredPath is where the i-th page is in the content folder.
func measuredPath(i int) string {
	return fmt.Sprintf("shelf-%02d/sheet-%04d.md", i/measuredFolder, i)
}

// measuredFront is the front matter of the i-th page: four given values with 288 cases, ten
// figures, and one rule that is checked in each case.
func measuredFront(i int) string {
	return fmt.Sprintf(`---
title: Working solution sheet %[1]d
summary: What to draw and to weigh for tray %[1]d, and what a roll of it costs.
audience: customers
topics: [mixing, tray %[2]d]

given:
  tank: {label: Working solution, value: 500 ml, from: 500 ml, to: 2 l, step: 50 ml}
  strength: {label: Dilution, value: 1+%[3]d, choices: [1+25, 1+%[3]d]}
  rolls: {label: Rolls in the tank, value: 1, from: 1, to: 4}
  density: 1.%02[4]d g/ml
  price: {label: Price of a litre, value: 23.50 USD/l, source: measured here 2026-09-14, owner: process lead}

figures:
  exact: tank * strength
  concentrate: {label: Concentrate, formula: "round(exact, 0.1 ml)", show: 0.1 ml}
  water: {label: Water, formula: tank - concentrate, show: 1 ml}
  rounding_error: {label: Error from rounding, formula: (concentrate - exact) / exact, show: 0.1 %%}
  weight: {label: Or weigh, formula: concentrate * density, show: 0.01 g}
  each: {label: Concentrate for each roll, formula: concentrate / rolls, show: 0.01 ml}
  cost: {label: Cost, formula: concentrate * price, show: 0.01 USD}
  cost_each: {label: Cost of a roll, formula: cost / rolls, show: 0.01 USD}
  batches: "floor(1 l / concentrate)"
  stir: {label: Stir for, formula: "if tank > 1 l { 4 min } else { max(1 min, tank / 500 ml * 1 min) }", show: 15 s}

checks:
  - always: abs(rounding_error) <= 2 %%
---
`, i, i%7, 50+i%50, 2+i%31)
}

// measuredBody is about 4 KB of text with 16 placements, a table and five links to
// others of n pages.
func measuredBody(i, n int) string {
	link := func(step int) string {
		to := (i + step) % n
		if to/measuredFolder == i/measuredFolder {
			return filepath.Base(measuredPath(to))
		}
		return "../" + measuredPath(to)
	}
	var b strings.Builder
	fmt.Fprintf(&b, `
Draw {concentrate} of the syrup, add it to about half of the water and *stir until no
strings are left*, then fill to {tank}. Rolls in the tank: {rolls}, each with {each}.
This sheet follows [the one before](%s) and is followed by [the next](%s).

{given}

{figures}

## What to have ready

- A jug that holds more than {tank}, rinsed with plain water
- A syringe or a small cylinder that shows tenths
- Clean water at the temperature of the room, about {water} of it
    - hard water is fine
    - water from a softener is **not**
- A label, a pen and the `+"`lot`"+` number of the bottle

## Mixing

1. Warm the closed bottle in a bowl of hand-warm water until the syrup runs.
2. Draw slowly, past the mark for {concentrate}. Fast pulling makes bubbles.
3. Point the syringe up and wait until the bubble is at the top, then push it back.
4. Empty it **under the surface** of half of the water, and draw that water in and out
   until the barrel is clear. What was left in the tip is now in the tank.
5. Make up to {tank} and stir for {stir}.
6. Write the lot, the date and your initials on the label, as [this sheet](%s) says.

## On a scale

Weighing forgives bubbles, warm syrup and bad eyes. Put the beaker on the scale, set it
to zero, and let the syrup fall drop by drop to {weight}. A drop too many is taken back
with the syringe. Rinse the beaker into the tank three times. The two ways differ by
{rounding_error} at most, which nobody can see on a print.

| You see | It was | Do this |
|:--|:--|--:|
| strings in the tank | syrup on top of cold water | stir under the surface |
| every film a little thin | air in the barrel, or a rinse left out | wait; rinse twice |
| every film a little dense | the outside was not wiped | wipe, and read the front edge |
| the plunger sticks | dried syrup | a new syringe |

## What it costs

A tank costs {cost} and a roll {cost_each}. A litre of syrup makes {batches} tanks.
The prices are those of [the shelf list](%s), which is [read again](%s) every spring.

`, link(n-1), link(1), link(7), link(31), link(n/2))
	// Plain text to the size of an ordinary page, no two pages alike.
	sentences := []string{
		"Keep the bottle closed, upright and out of the light, since the syrup browns with air.",
		"If it pours like water, or does not pour at all, bring it in before you use it.",
		"A brown syrup may still work, but nobody here would trust a wedding to it.",
		"Rinse what you used at once, because a dried drop turns to dust and travels.",
		"Film that was wound tightly wants a slower start than film that was wound loosely.",
		"When two people mix, one reads the number aloud and the other repeats it.",
		"The sheet on the wall is the one that counts, and a copy of it is only a copy.",
		"Nothing is gained by warmer water, and a good deal may be lost by it.",
		"Write down what you did, not what the sheet says, wherever the two part ways.",
		"A tank that was filled too high cannot be turned over, so stop at the mark.",
	}
	b.WriteString("## Notes of the lab\n")
	for k := i; b.Len() < 4096; k++ {
		if (k-i)%4 == 0 {
			b.WriteString("\n")
		}
		b.WriteString(sentences[(k*k+i)%len(sentences)] + "\n")
	}
	return b.String()
}

// measuredContent writes a content folder of n pages.
func measuredContent(dir string, n int) error {
	for i := range n {
		at := filepath.Join(dir, filepath.FromSlash(measuredPath(i)))
		if i%measuredFolder == 0 {
			if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
				return err
			}
		}
		if err := os.WriteFile(at, []byte(measuredFront(i)+measuredBody(i, n)), 0o666); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(dir, "labsite.yaml"), []byte("name: A measured lab\n"), 0o666)
}

// writeMeasuredConstant adds a page with a constant, and pages that draw on it if there are none
// yet.
func writeMeasuredConstant(dir string, minutes int) error {
	const front = "---\ntitle: %s\naudience: customers\n%s---\n\n%s\n"
	owner := fmt.Sprintf("given:\n  rinse: {label: Rinse, value: %d min, source: measured here 2026-09-14, owner: process lead}\nfigures:\n  twice: {label: Two rinses, formula: rinse * 2}\n", minutes)
	if err := os.WriteFile(filepath.Join(dir, "rinsing.md"), fmt.Appendf(nil, front, "Rinsing", owner, "Rinse for {rinse}, twice that is {twice}."), 0o666); err != nil {
		return err
	}
	folder := filepath.Join(dir, "rinsed")
	if _, err := os.Stat(folder); err == nil {
		return nil
	}
	if err := os.Mkdir(folder, 0o777); err != nil {
		return err
	}
	for i := range measuredDrawn {
		draws := fmt.Sprintf("draws_on: {rinsing: ../rinsing.md}\ngiven:\n  rolls: {label: Rolls, value: %d, from: 1, to: 9}\nfigures:\n  all: {label: All rinses, formula: rinsing.twice * rolls}\n", 1+i%9)
		text := fmt.Appendf(nil, front, fmt.Sprint("Rinsed rack ", i), draws, "The rack takes {all}.")
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("rack-%02d.md", i)), text, 0o666); err != nil {
			return err
		}
	}
	return nil
}
