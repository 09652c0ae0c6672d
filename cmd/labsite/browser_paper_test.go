//go:build browser

package main

import (
	"bytes"
	"context"
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// paperSize is a sheet's width and height in millimetres.
type paperSize struct{ width, height float64 }

var a4, letter = paperSize{210, 297}, paperSize{215.9, 279.4}

// printPage prints the open page on A4 (ISO 216), or on what its style sheet says.
func printPage(ctx context.Context) ([]byte, error) { return printOn(ctx, a4) }

func printOn(ctx context.Context, paper paperSize) ([]byte, error) {
	const inch = 25.4 // mm
	own := true
	r, err := chromedp.Call(ctx, page.PrintToPDF, page.PrintToPDFParams{
		PaperWidth: paper.width / inch, PaperHeight: paper.height / inch, PreferCSSPageSize: &own})
	return r.Data, err
}

// Orders in which pdftotext writes what is on a sheet.
const (
	asDrawn  = "-raw"    // as the browser drew it
	asItLies = "-layout" // line by line, from left to right
)

// printedText prints the open page and reads it back with poppler's pdftotext, in one of its
// orders. Each sheet ends with a form feed.
func printedText(tab *tab, paper paperSize, order string) (string, error) {
	ctx, cancel := context.WithTimeout(tab.ctx, tooLong)
	defer cancel()
	pdf, err := printOn(ctx, paper)
	if err != nil {
		return "", fmt.Errorf("does not print: %w", err)
	}
	cmd := exec.CommandContext(ctx, "pdftotext", order, "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("prints what pdftotext cannot read: %w", err)
	}
	return string(out), nil
}

// faultsOnPaper prints the open page. Pages of labels must take as many sheets of Letter as of A4,
// with the same words on them; make aims checks that guides take no more sheets of one than of
// the other.
func faultsOnPaper(t *testing.T, tab *tab, name string, add func(string)) {
	// a sheet of labels has room for labels alone; its first one stands for the heading
	heading := ask[string](t, tab, `(document.querySelector('h1:not(.unseen), .label-name') || {textContent: ''}).textContent`)
	text, err := printedText(tab, a4, asDrawn)
	if err != nil {
		add(err.Error())
		return
	}
	sheets := strings.Count(text, "\f")
	if sheets == 0 || squeeze(heading) == "" || !strings.Contains(squeeze(text), squeeze(heading)) {
		add(fmt.Sprintf("its heading %q is not on its %d sheets", heading, sheets))
	}
	if !hasLabels(name) {
		return
	}
	onLetter, err := printedText(tab, letter, asDrawn)
	if err != nil {
		add("Letter: " + err.Error())
		return
	}
	if n := strings.Count(onLetter, "\f"); n != sheets {
		add(fmt.Sprintf("takes %d sheets of A4 and %d of Letter", sheets, n))
	}
	if signsOf(text) != signsOf(onLetter) {
		add(fmt.Sprintf("says on A4\n%s\nand on Letter\n%s", text, onLetter))
	}
}

// hasLabels reports whether a page is one of labels to print and cut out.
func hasLabels(name string) bool {
	return strings.Contains(name, ".labels.") || strings.Contains(name, ".products.")
}

// signsOf is the letters and digits of a text, sorted so that line breaks do not matter.
func signsOf(text string) string {
	sorted := []rune(strings.ReplaceAll(squeeze(text), "\f", ""))
	slices.Sort(sorted)
	return string(sorted)
}

// The width of A4 without its margins (lab.css, @page), in CSS pixels: 188 mm.
const sheetWidth = 710

// beyondTheSheet says by how much the page is too wide, and which innermost elements stick out; ""
// if everything fits.
const beyondTheSheet = `(async () => {
	const over = document.documentElement.scrollWidth - innerWidth;
	if (over <= 0) return '';
	const beyond = [...document.querySelectorAll('main *')].filter(e => !e.children.length && e.getBoundingClientRect().right > innerWidth + 1);
	return over + ' pixels: ' + beyond.slice(0, 6).map(e => e.tagName + ' ' + e.textContent.trim().slice(0, 40)).join(' | ');
})()`

// faultsOfSheet lays the open page out for paper. What is wider than a sheet is cut off in print,
// perhaps with a number: a table whose headings do not wrap is enough, since the page has two
// columns that are both as wide as the wider one. Cards and labels have sheets of their own.
func faultsOfSheet(t *testing.T, tab *tab, name string, add func(string)) {
	if strings.HasPrefix(name, "bench-formulas/") || isForPaper(name) {
		return
	}
	must(t, call(tab, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: sheetWidth, Height: 1000, DeviceScaleFactor: 1}))
	must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}))
	if over := ask[string](t, tab, beyondTheSheet); over != "" {
		add("is wider than its sheet: " + over)
	}
	must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}))
}
