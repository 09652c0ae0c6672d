//go:build browser

package main

import (
	"bytes"
	"context"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// TestBrowserLetter prints the labels of every page on A4 and on Letter: the number of sheets and
// the words must be the same. make aims checks that guides take no more sheets of one than of the
// other.
func TestBrowserLetter(t *testing.T) {
	t.Parallel()
	dir := demoSite(t, "staff")
	var names []string
	for _, name := range pagesOf(t, dir) {
		if strings.Contains(name, ".labels.") || strings.Contains(name, ".products.") {
			names = append(names, name)
		}
	}
	if len(names) < 20 {
		t.Errorf("only %d pages have labels", len(names))
	}
	inTabs(t, dir, len(names), func(tab *tab, i int) {
		r := &reader{tab, t, windows[1]}
		r.open(r.fileURL(names[i]))
		sheets, words := r.printedOn(a4)
		onLetter, wordsOnLetter := r.printedOn(letter)
		if sheets != onLetter {
			t.Errorf("%s takes %d sheets of A4 and %d of Letter", names[i], sheets, onLetter)
		}
		if words != wordsOnLetter {
			t.Errorf("%s says on A4\n%s\nand on Letter\n%s", names[i], words, wordsOnLetter)
		}
	})
}

// printedOn is how many sheets the page takes, and its letters and digits, sorted so that line
// breaks do not matter.
func (r *reader) printedOn(paper paperSize) (sheets int, signs string) {
	r.t.Helper()
	ctx, cancel := context.WithTimeout(r.ctx, tooLong)
	defer cancel()
	pdf, err := printOn(ctx, paper)
	must(r.t, err)
	cmd := exec.CommandContext(ctx, "pdftotext", "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	must(r.t, err)
	sorted := []rune(strings.ReplaceAll(squeeze(string(out)), "\f", ""))
	slices.Sort(sorted)
	return strings.Count(string(out), "\f"), string(sorted)
}
