package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"
)

// expected is what a script expects of one diagnostic.
type expected struct {
	line, column        int
	code, message, hint string
}

func expectation(ts *testscript.TestScript, neg bool, args []string) (page string, e expected) {
	if neg || len(args) < 4 || len(args) > 5 {
		ts.Fatalf("usage: bad or told PAGE LINE:COLUMN CODE MESSAGE [HINT]")
	}
	line, column, _ := strings.Cut(args[1], ":")
	var err, err2 error
	e.line, err = strconv.Atoi(line)
	e.column, err2 = strconv.Atoi(column)
	if err != nil || err2 != nil {
		ts.Fatalf("%s is no place", args[1])
	}
	e.code, e.message = args[2], args[3]
	if len(args) == 5 {
		e.hint = args[4]
	}
	return args[0], e
}

// badPage adds a page to the content folder as page.md and publishes into public, which holds an
// older site. The page must be refused with just this error at this place, in words and in JSON
// alike, and every byte of the older site must stay.
func badPage(ts *testscript.TestScript, neg bool, args []string) {
	page, e := expectation(ts, neg, args)
	withPage(ts, page, func(publish func(more ...string) (int, string, string)) {
		before := bytesOf(ts, ts.MkAbs("public"))
		status, _, text := publish()
		if status != wrong {
			ts.Fatalf("%s: exit status %d, not %d\n%s", page, status, wrong, text)
		}
		saysAt(ts, page, "error", text, e)
		status, object, _ := publish("--json")
		if status != wrong {
			ts.Fatalf("%s: exit status %d with --json, not %d", page, status, wrong)
		}
		found := diagnosticsOf(ts, object)
		isAmong(ts, page, "error", found, e)
		for _, d := range found {
			if d.Severity == "error" && (d.Line != e.line || d.Column != e.column || d.Code != e.code) {
				ts.Fatalf("%s: another error: %+v", page, d)
			}
		}
		if what := difference(before, bytesOf(ts, ts.MkAbs("public"))); what != "" {
			ts.Fatalf("%s: the old site was touched: %s", page, what)
		}
	})
}

// toldPage adds a page likewise. It must be published with a report at this place, and refused by a
// firm check.
func toldPage(ts *testscript.TestScript, neg bool, args []string) {
	page, e := expectation(ts, neg, args)
	withPage(ts, page, func(publish func(more ...string) (int, string, string)) {
		status, _, text := publish("--json")
		if status != good {
			ts.Fatalf("%s: exit status %d\n%s", page, status, text)
		}
		status, _, text = publish()
		if status != good {
			ts.Fatalf("%s: exit status %d\n%s", page, status, text)
		}
		saysAt(ts, page, "report", text, e)
		var out, err bytes.Buffer
		if status := run(context.Background(), []string{"check", "--firm", "--json", "--from", ts.MkAbs("content")}, &out, &err); status != wrong {
			ts.Fatalf("%s: a firm check ends with status %d", page, status)
		}
		isAmong(ts, page, "error", diagnosticsOf(ts, out.String()), e)
	})
}

// withPage has a page in the content folder while do runs.
func withPage(ts *testscript.TestScript, page string, do func(publish func(more ...string) (status int, stdout, stderr string))) {
	from := ts.MkAbs("content")
	at := filepath.Join(from, "page.md")
	ts.Check(os.WriteFile(at, []byte(ts.ReadFile(page)), 0o666))
	defer os.Remove(at)
	do(func(more ...string) (int, string, string) {
		var out, err bytes.Buffer
		status := run(context.Background(), append([]string{"publish", "--from", from, "--to", ts.MkAbs("public")}, more...), &out, &err)
		return status, out.String(), err.String()
	})
}

// saysAt looks for a diagnostic in the printed text: its place, its words, its line with the mark
// under the place, and how to fix it.
func saysAt(ts *testscript.TestScript, page, severity, text string, e expected) {
	head := fmt.Sprintf("%s:%d:%d: %s: ", filepath.Join(ts.MkAbs("content"), "page.md"), e.line, e.column, severity)
	for _, block := range strings.Split(text, "\n\n") {
		lines := strings.Split(block, "\n")
		if !strings.HasPrefix(lines[0], head) || !strings.Contains(lines[0], e.message) {
			continue
		}
		if e.hint != "" && !strings.Contains(strings.Join(lines[1:], "\n"), e.hint) {
			continue
		}
		if len(lines) < 3 || !strings.HasPrefix(lines[1], fmt.Sprintf("  %d | ", e.line)) {
			if strings.HasPrefix(page, "whole/") { // the trouble is with the file, not with a line
				return
			}
			ts.Fatalf("%s: no line is shown:\n%s", page, block)
		}
		before, _, _ := strings.Cut(lines[2], "^")
		gutter := len(fmt.Sprintf("  %d | ", e.line))
		if utf8.RuneCountInString(before) != gutter+e.column-1 {
			ts.Fatalf("%s: the mark does not stand under column %d:\n%s", page, e.column, block)
		}
		return
	}
	ts.Fatalf("%s: nothing says %q with %q and hint %q:\n%s", page, head, e.message, e.hint, text)
}

func diagnosticsOf(ts *testscript.TestScript, object string) []diagnostic {
	var v struct{ Diagnostics []diagnostic }
	if err := json.Unmarshal([]byte(object), &v); err != nil {
		ts.Fatalf("%v\n%s", err, object)
	}
	return v.Diagnostics
}

func isAmong(ts *testscript.TestScript, page, severity string, list []diagnostic, e expected) {
	for _, d := range list {
		if d.File == "page.md" && d.Line == e.line && d.Column == e.column && d.Severity == severity && d.Code == e.code &&
			strings.Contains(d.Message, e.message) && strings.Contains(d.Hint, e.hint) {
			return
		}
	}
	ts.Fatalf("%s: no %s [%s] at %d:%d among %+v", page, severity, e.code, e.line, e.column, list)
}
