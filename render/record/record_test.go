package record

import (
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/record"
	"labsite/recipes/source"
)

// An invented page of an invented lab.
const labPage = `---
title: Run
audience: staff
control: {number: X-001, revision: 2, status: approved, owner: process lead, approved_by: shop owner, approved: 2020-01-31}
keeps: run.csv
data: {log: run.csv}
given:
  tank: {label: Tank, value: 500 ml, from: 300 ml, to: 1 l}
  density: {label: Density, example: 1.2, from: 0, to: 3}
figures:
  part: {label: Part, formula: tank / 100}
limits:
  - {when: density > 2.9, refuse: Too dense to be read.}
steps:
  - {do: Develop, for: 4 min}
  - {do: Fix, for: 2 min, hold: process lead}
---
Body.
`

// lab writes the page into a folder.
func lab(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"run.md": labPage, "labsite.yaml": "name: Osterby\n", "other.md": "---\ntitle: Other\naudience: staff\n---\nBody.\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// now is when everything happens.
var now = time.Date(2026, 11, 28, 18, 0, 0, 0, time.UTC)

// good is a record that agrees; the minute distinguishes several.
func good(minute int) string {
	at := func(s int) string {
		return time.Date(2026, 11, 28, 9, minute, s, 0, time.UTC).Format(time.RFC3339)
	}
	return fmt.Sprintf(`{"record": 1, "lab": "Osterby", "page": "run", "number": "X-001", "revision": 2,
 "made": %q, "saved": %q,
 "settings": {"tank": "600 ml"},
 "readings": {"density": "1.24"},
 "figures": {"part": "6 ml"},
 "steps": [
  {"do": "Develop", "planned": 240, "begin": %q, "end": %q},
  {"do": "Fix", "planned": 120, "begin": %q, "end": %q, "hold": "process lead", "by": "KM"}],
 "events": [], "by": "", "note": "a note"}
`, at(0), at(500), at(0), at(245), at(250), at(380))
}

// take records a text like the command.
func take(t *testing.T, dir, text string) source.List {
	t.Helper()
	file, list := source.New("run.json", []byte(text))
	r, more := record.Read(file, now)
	if list = append(list, more...); list.Errors() > 0 {
		return list
	}
	site, said := Open(t.Context(), dir, now)
	if site == nil {
		t.Fatal(said)
	}
	defer site.Close()
	e, list := NewVerifier(site).Verify(r, false)
	if list.Errors() > 0 {
		return list
	}
	list, err := Write(t.Context(), dir, []*Entry{e})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// rows reads the kept rows, and fails if any is not whole.
func rows(t *testing.T, dir string) [][]string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(dir, "run.csv"))
	if os.IsNotExist(err) {
		return nil
	}
	all, err := csv.NewReader(strings.NewReader(string(raw))).ReadAll()
	if err != nil || len(all) < 2 || raw[len(raw)-1] != '\n' {
		t.Fatalf("the file is there in part: %v\n%s", err, raw)
	}
	f, _ := source.New("run.csv", raw)
	if _, list := page.ReadTable(f); len(list) > 0 {
		t.Fatal(list)
	}
	return all[1:]
}

// Each hostile record is refused with its reason and its place, and nothing is written.
func TestHostileRecords(t *testing.T) {
	swap := func(old, new string) string {
		if !strings.Contains(good(0), old) {
			panic(old)
		}
		return strings.Replace(good(0), old, new, 1)
	}
	step := `{"do": "Develop", "planned": 240, "begin": "2026-11-28T09:00:00Z", "end": "2026-11-28T09:04:05Z"}`
	for name, c := range map[string]struct{ text, says string }{
		"100 MB":                  {strings.Repeat(" ", record.MostBytes+1), "run.json:1:1: error: a record has at most 512 KiB"},
		"a million steps":         {strings.Repeat(step+",", 10_000), "a record has at most 512 KiB"},
		"a thousand steps":        {swap(step, strings.Repeat(step+",", 1000)+step), "its steps are not a list of at most 500"},
		"deep":                    {strings.Repeat("[", 100_000), "nested too deeply"},
		"many":                    {`{"record": [` + strings.Repeat("1,", 100_000) + `1]}`, "more than any run could"},
		"empty":                   {"", "it ends too soon"},
		"cut short":               {good(0)[:300], "it ends too soon"},
		"no JSON":                 {"record: 1", "it is not JSON here"},
		"two":                     {good(0) + good(1), "something follows its end"},
		"a list":                  {"[]", "it is not a set of keys"},
		"another form":            {swap(`"record": 1`, `"record": 2`), "it is in form 2"},
		"said twice":              {swap(`"revision": 2`, `"revision": 2, "revision": 3`), "it says revision twice"},
		"unknown key":             {swap(`"note"`, `"notes"`), `there is no key "notes" here`},
		"another lab":             {swap("Osterby", "Elsewhere"), "run.json:1:22: error: the record is from Elsewhere, and this is Osterby"},
		"another page":            {swap(`"page": "run"`, `"page": "ran"`), "there is no page ran here"},
		"a way out":               {swap(`"page": "run"`, `"page": "../../run"`), "there is no page ../../run here"},
		"a page without":          {strings.NewReplacer(`"page": "run"`, `"page": "other"`, "X-001", "", `"revision": 2`, `"revision": 0`).Replace(good(0)), "other.md keeps no records"},
		"another number":          {swap("X-001", "X-002"), "the record is for number X-002, and the number of run.md is X-001"},
		"another revision":        {swap(`"revision": 2`, `"revision": 1`), "the record is for revision 1; run.md is now revision 2"},
		"no revision":             {swap(`"revision": 2`, `"revision": "two"`), "its revision is not a whole number"},
		"changed figure":          {swap("6 ml", "7 ml"), "run.json:5:22: error: part: the record says 7 ml, and revision 2 gives 6 ml"},
		"no figure":               {swap(`"part": "6 ml"`, ``), "part: the record says none, and revision 2 gives 6 ml"},
		"a figure more":           {swap(`"part"`, `"whole": "1 ml", "part"`), "run.md has no figure whole"},
		"changed setting":         {swap(`"600 ml"`, `"700 ml"`), "part: the record says 6 ml, and revision 2 gives 7 ml"},
		"out of range":            {swap(`"600 ml"`, `"2 l"`), "run.json:3:23: error: tank is tested from 300 ml to 1 L, not at 2 L"},
		"drawn without a drawing": {swap(`"by": "KM"`, `"by": "drawn"`), "initials are typed or drawn, and these are neither or both"},
		"typed and drawn":         {swap(`"by": "KM"`, `"by": "KM", "drawn": "M1 1L20 20"`), "initials are typed or drawn, and these are neither or both"},
		"a drawing that is none":  {swap(`"by": "KM"`, `"by": "drawn", "drawn": "<svg onload=alert(1)>"`), "a drawing of initials may hold only straight lines"},
		"no number":               {swap(`"1.24"`, `"NaN"`), "run.json:4:26: error:"},
		"no reading":              {swap(`"density": "1.24"`, ``), "the record has no reading density"},
		"refused":                 {swap(`"1.24"`, `"2.95"`), "run.md refuses these values: Too dense to be read."},
		"an unknown reading":      {swap(`"density": "1.24"`, `"density": "1.24", "x": "1"`), "run.md has no reading x"},
		"before its begin":        {swap(`"2026-11-28T09:04:05Z"`, `"2026-11-28T08:59:00Z"`), "run.json:7:77: error: Develop ended at 2026-11-28T08:59:00Z, before it began"},
		"before the run":          {swap(`"begin": "2026-11-28T09:00:00Z"`, `"begin": "2026-11-28T08:00:00Z"`), "Develop began at 2026-11-28T08:00:00Z, earlier than the moment before it"},
		"to come":                 {swap(`"made": "2026`, `"made": "2027`), "which is still to come"},
		"no moment":               {swap(`"made": "2026-11-28T09:00:00Z"`, `"made": "yesterday"`), "which is not a moment like"},
		"saved before":            {swap(`"saved": "2026-11-28`, `"saved": "2026-11-27`), "before it began"},
		"a step less":             {swap(step+",", ""), "the record has 1 steps and the page has 2"},
		"another step":            {swap(`"Develop"`, `"Rinse"`), "the record has the step Rinse where the page has Develop"},
		"a hold less":             {swap(`"hold": "process lead"`, `"hold": ""`), "Fix is held by nobody in the record, and by process lead on the page"},
		"another time":            {swap(`"planned": 240`, `"planned": 24`), "Develop has a different time"},
		"an endless time":         {swap(`"planned": 240`, `"planned": 1e999`), "not a number of seconds"},
		"a text of a thousand":    {swap("a note", strings.Repeat("x", 1001)), "a text of more than 1,000 bytes"},
		"initials like a speech":  {swap("KM", "the process lead himself"), "initials have at most 12 characters"},
		"no text in the encoding": {swap("a note", "\xff\xfe"), "run.json:"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := lab(t)
			list := take(t, dir, c.text)
			said := fmt.Sprint(list)
			if list.Errors() == 0 || !strings.Contains(said, c.says) {
				t.Errorf("it says %s\nwant %s", said[:min(len(said), 600)], c.says)
			}
			if rows(t, dir) != nil {
				t.Error("something was written")
			}
		})
	}
}

// Markup, quotes, and what spreadsheets and terminals act on are kept as plain text.
func TestMarkupInARecord(t *testing.T) {
	dir := lab(t)
	text := strings.Replace(good(0), "a note", `<script>alert(1)</script>\n\"a, b\" \u001b[31m\u202e {tank} [x](y)`, 1)
	if list := take(t, dir, text); len(list) > 0 {
		t.Fatal(list)
	}
	got := rows(t, dir)
	if len(got) != 1 || got[0][len(got[0])-1] != `<script>alert(1)</script> "a, b" [31m {tank} [x](y)` {
		t.Errorf("kept is %q", got)
	}
}

// Initials that were drawn are kept as drawn; the drawing stays in the record's own file.
func TestDrawnInitials(t *testing.T) {
	dir := lab(t)
	text := strings.Replace(good(0), `"by": "KM"`, `"by": "drawn", "drawn": "M48 64L60 48L72 32M80 10L90 12"`, 1)
	if list := take(t, dir, text); len(list) > 0 {
		t.Fatal(list)
	}
	if got := rows(t, dir); len(got) != 1 || got[0][len(got[0])-2] != record.Drawn {
		t.Errorf("kept is %q", got)
	}
}

// A record made without a run sheet has no steps: the initials of whoever saved it stand for the
// holds, and without them it is unfinished.
func TestWithoutARunSheet(t *testing.T) {
	dir := lab(t)
	without := func(minute int, by string) string {
		text := good(minute)
		return text[:strings.Index(text, ` "steps"`)] + fmt.Sprintf(` "by": %q, "note": ""}`, by)
	}
	for i, by := range []string{"KM", ""} {
		if list := take(t, dir, without(i*10, by)); len(list) > 0 {
			t.Fatal(list)
		}
	}
	got := rows(t, dir)
	if len(got) != 2 || got[0][len(got[0])-2] != "KM" || got[1][len(got[1])-2] != Unfinished {
		t.Errorf("kept is %q", got)
	}
}

// The same record is kept once.
func TestTheSameTwice(t *testing.T) {
	dir := lab(t)
	if list := take(t, dir, good(0)); len(list) > 0 {
		t.Fatal(list)
	}
	other := strings.Replace(strings.ReplaceAll(good(0), "09:", "10:"), "Z\"", "+01:00\"", -1) // the same moments in another time zone
	for _, text := range []string{good(0), other} {
		if said := fmt.Sprint(take(t, dir, text)); !strings.Contains(said, "is already kept: run.csv:2") {
			t.Errorf("it says %s", said)
		}
	}
	if n := len(rows(t, dir)); n != 1 {
		t.Errorf("%d records are kept", n)
	}
}

// What somebody wrote into the file by hand stays, and mistakes in it are reported with their line.
func TestAFileByHand(t *testing.T) {
	head := "made,revision,tank,density,part,by [text],note [text]\n"
	for name, c := range map[string]struct{ text, says string }{
		"without an end":  {head + "2026-11-27T09:00:00Z,2, 0.5 l ,1.1,5 ml,KM,\"by\nhand\"", ""},
		"another column":  {"made,revision,tank,part,by,note\n2026-11-27T09:00:00Z,2,500 ml,5 ml,KM,-\n", "the page keeps other columns now: made, revision, tank, density"},
		"a field less":    {head + "2026-11-27T09:00:00Z,2,500 ml\n", "run.csv:2:1: error:"},
		"another kind":    {head + "2026-11-27T09:00:00Z,2,500 g,1.1,5 ml,KM,-\n", "run.csv:"},
		"an open quote":   {head + "2026-11-27T09:00:00Z,2,\"500 ml\n", "run.csv:"},
		"an empty column": {head + "2026-11-27T09:00:00Z,2,500 ml,,5 ml,KM,-\n", "run.csv:2:"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := lab(t)
			at := filepath.Join(dir, "run.csv")
			os.WriteFile(at, []byte(c.text), 0o640)
			said := fmt.Sprint(take(t, dir, good(0)))
			raw, _ := os.ReadFile(at)
			if c.says == "" {
				if info, _ := os.Stat(at); !strings.HasPrefix(string(raw), c.text+"\n2026-11-28T09:00:00Z,") || runtime.GOOS != "windows" && info.Mode().Perm() != 0o640 {
					t.Errorf("it says %s, and the file is\n%s", said, raw)
				}
			} else if !strings.Contains(said, c.says) || string(raw) != c.text {
				t.Errorf("it says %s, and the file is\n%s", said, raw)
			}
		})
	}
}

// entry is an entry that agrees, made without a page.
func entry(minute int) *Entry {
	at := time.Date(2026, 11, 28, 9, minute, 0, 0, time.UTC)
	said := at.Format(time.RFC3339)
	return &Entry{Page: "run.md", File: "run.csv", Made: said, made: at, heads: []string{"made", "revision", "tank", "by [text]", "note [text]"},
		cells: []string{said, "2", "600 ml", "KM", strings.Repeat("x", 900)}}
}

// Many records at once all succeed, each row whole.
func TestManyAtOnce(t *testing.T) {
	dir := t.TempDir()
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			if list, err := Write(context.Background(), dir, []*Entry{entry(i)}); err != nil || len(list) > 0 {
				t.Error(list, err)
			}
		})
	}
	wait.Wait()
	if n := len(rows(t, dir)); n != 8 {
		t.Errorf("%d records are kept", n)
	}
}

// If the last of three files cannot be given its new state, the two that have theirs are as before.
func TestAllOrNone(t *testing.T) {
	dir := t.TempDir()
	if _, err := Write(t.Context(), dir, []*Entry{entry(1)}); err != nil {
		t.Fatal(err)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	before := rows(t, dir)
	fresh, hindered, kept := entry(2), entry(3), entry(4)
	fresh.File, hindered.File = "another.csv", "z/run.csv"
	os.MkdirAll(filepath.Join(dir, "z"), 0o755)
	var said []string
	w := &writer{root: root, step: func(at string) {
		if said = append(said, at); at == "named" && !slices.Contains(said[:len(said)-1], at) {
			os.Mkdir(filepath.Join(dir, "z", "run.csv"), 0o755) // no file can take its place
		}
	}}
	if list, err := w.write(t.Context(), []*Entry{hindered, kept, fresh}); err == nil || len(list) > 0 {
		t.Errorf("it says %v %v", list, err)
	}
	if got := rows(t, dir); !slices.EqualFunc(got, before, slices.Equal) {
		t.Errorf("kept now: %v\nbefore: %v", got, before)
	}
	if _, err := os.Stat(filepath.Join(dir, "another.csv")); !os.IsNotExist(err) {
		t.Errorf("a file that was new is still there: %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, ".*.next-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

const (
	dieAt  = "RECORD_TEST_DIE_AT"
	dieDir = "RECORD_TEST_DIR"
)

// TestMain has a copy of the test program write a record and kill itself on the way.
func TestMain(m *testing.M) {
	if step := os.Getenv(dieAt); step != "" {
		root, err := os.OpenRoot(os.Getenv(dieDir))
		if err != nil {
			panic(err)
		}
		w := &writer{root: root, step: func(at string) {
			if at == step {
				self, _ := os.FindProcess(os.Getpid())
				self.Kill()
				select {}
			}
		}}
		fmt.Println(w.write(context.Background(), []*Entry{entry(2)}))
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// Killed at any step, the program has kept the record whole or not at all, earlier ones stay, and
// the next one is kept.
func TestAKilledRecord(t *testing.T) {
	for step, want := range map[string]int{"begun": 1, "half": 1, "written": 1, "named": 2} {
		t.Run(step, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			if _, err := Write(t.Context(), dir, []*Entry{entry(1)}); err != nil {
				t.Fatal(err)
			}
			cmd := exec.Command(os.Args[0])
			cmd.Env = append(os.Environ(), dieAt+"="+step, dieDir+"="+dir)
			if out, err := cmd.CombinedOutput(); err == nil {
				t.Fatalf("it was not killed: %s", out)
			}
			if got := len(rows(t, dir)); got != want {
				t.Errorf("%d records are kept, want %d", got, want)
			}
			if list, err := Write(t.Context(), dir, []*Entry{entry(3)}); err != nil || len(list) > 0 || len(rows(t, dir)) != want+1 {
				t.Errorf("the next record: %v %v", list, err)
			}
			if left, _ := filepath.Glob(filepath.Join(dir, ".*.next-*")); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}
