package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// number is a number that the environment may set.
func number(name string, otherwise int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil {
		return n
	}
	return otherwise
}

// program returns a function that starts the command, which TestMain put on the path, with a cache
// of its own.
func program(t *testing.T) func(ctx context.Context, args ...string) *exec.Cmd {
	t.Helper()
	cache := t.TempDir()
	return func(ctx context.Context, args ...string) *exec.Cmd {
		cmd := exec.CommandContext(ctx, "labsite", args...)
		cmd.Env = append(os.Environ(), "XDG_CACHE_HOME="+cache, "SOURCE_DATE_EPOCH=1795824000")
		return cmd
	}
}

// An invented page that keeps its records.
const keepingPage = `---
title: Run
audience: staff
keeps: run.csv
data: {log: run.csv}
given:
  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l}
figures:
  part: {label: Part, formula: tank / 100}
steps:
  - {do: Develop, for: 4 min}
  - {do: Fix, for: 2 min, hold: process lead}
charts:
  parts: {caption: Parts, points: {x: log.made, y: log.part}}
---
{parts}
`

// keptRun is the record of a run of that page; the number distinguishes several.
func keptRun(n int) string {
	at := func(s int) string {
		return time.Date(2026, 1, 1, 8, 0, 0, 0, time.UTC).Add(time.Duration(n)*10*time.Minute + time.Duration(s)*time.Second).Format(time.RFC3339)
	}
	return fmt.Sprintf(`{"record": 1, "page": "run", "revision": 0, "made": %q, "settings": {"tank": "600 ml"}, "figures": {"part": "6 ml"},
 "steps": [{"do": "Develop", "planned": 240, "begin": %q, "end": %q}, {"do": "Fix", "planned": 120, "begin": %q, "end": %q, "hold": "process lead", "by": "KM"}], "note": "run %d"}
`, at(0), at(0), at(245), at(245), at(370), n)
}

// keptNotes are the notes of all rows of the kept file, each of which must be whole.
func keptNotes(t *testing.T, dir string) []string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(dir, "run.csv"))
	if os.IsNotExist(err) {
		return nil
	}
	all, err := csv.NewReader(strings.NewReader(string(raw))).ReadAll()
	if err != nil || len(all) == 0 || raw[len(raw)-1] != '\n' {
		t.Fatalf("the file is there in part: %v\n%s", err, raw)
	}
	var notes []string
	for _, row := range all[1:] {
		notes = append(notes, row[len(row)-1])
	}
	return notes
}

// killedRecords kills the command at random moments while it records, half of them near the end,
// when it writes. After each kill the file holds what it held, or that and the new record, whole. A
// record that a kill prevented is recorded afterwards, and in the end all are there once, in the
// order of recording.
func killedRecords(t *testing.T, kills int) int {
	labsite, dir := program(t), t.TempDir()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.WriteFile(filepath.Join(dir, "run.md"), []byte(keepingPage), 0o666))
	file := filepath.Join(t.TempDir(), "run.json")
	record := func(ctx context.Context, n int) ([]byte, error) {
		must(os.WriteFile(file, []byte(keptRun(n)), 0o666))
		return labsite(ctx, "record", file, "--from", dir).CombinedOutput()
	}
	var lasts time.Duration
	for n := range 3 { // the first takes longest
		begun := time.Now()
		if out, err := record(t.Context(), n); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		lasts = time.Since(begun)
	}
	kept := keptNotes(t, dir)
	var lost []int
	for n := 3; n < kills+3; n++ {
		after := time.Duration(rand.Int64N(int64(lasts) * 5 / 4))
		if n%2 == 0 {
			after = lasts/2 + after/2
		}
		ctx, cancel := context.WithTimeout(t.Context(), after)
		_, err := record(ctx, n)
		cancel()
		now := keptNotes(t, dir)
		more := len(now) - len(kept)
		if more < 0 || more > 1 || err == nil && more == 0 || strings.Join(now[:len(kept)], "\n") != strings.Join(kept, "\n") || more == 1 && now[len(kept)] != fmt.Sprintf("run %d", n) {
			t.Fatalf("after kill %d (%v) the file held %q and holds %q", n, err, kept, now)
		}
		if more == 0 {
			lost = append(lost, n)
		}
		kept = now
	}
	for _, n := range lost {
		if out, err := record(t.Context(), n); err != nil {
			t.Fatalf("the record %d after it was killed: %v\n%s", n, err, out)
		}
	}
	if n := len(keptNotes(t, dir)); n != kills+3 {
		t.Errorf("%d of %d records are kept", n, kills+3)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*.next-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	t.Logf("%d kills, %d of them before the record was kept", kills, len(lost))
	return kills
}

// TestKilledRecords is the short form; `make attack` runs a long one.
func TestKilledRecords(t *testing.T) { killedRecords(t, 12) }
