package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A lab that has every kind of file once.
var labOfAllKinds = map[string]string{
	"labsite.yaml":           "name: Brindle Weir Film Lab\ntheme: dress\n",
	"hazards.yaml":           "",
	"formulary/own.yaml":     "",
	"dress/lab.css":          "p { margin: 0 }\n",
	"dress/instruction.html": "",
	"weir.svg":               `<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"></svg>`,
	"notes.pdf":              "%PDF-1.4\n",
	"times.csv":              "film,minutes [min]\nslow,8\nfast,9\n",
	"index.md":               "---\ntitle: Front\naudience: customers\n---\n\n![A weir](weir.svg)\n\n[Notes](notes.pdf)\n",
	"times.md":               "---\ntitle: Times\naudience: customers\ndata: {times: times.csv}\ngiven:\n  film: {label: Film, value: slow, choices: times.film}\nfigures:\n  time: {label: Time, formula: \"lookup(times.minutes, times.film, film)\"}\n---\n\n{time}\n",
}

func writeLab(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for p, text := range files {
		full := filepath.Join(dir, filepath.FromSlash(p))
		if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
			t.Fatal(err)
		}
		if text == "" {
			continue
		}
		if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A file beyond the bound of its kind is reported with its size and the bound, and not read: these
// are larger than the memory that a command may take.
func TestAFileBeyondItsBound(t *testing.T) {
	for p, says := range map[string]string{
		"labsite.yaml":           "the limit is 65536 bytes",
		"hazards.yaml":           "the limit is 1.0 MiB",
		"formulary/own.yaml":     "the limit is 1.0 MiB",
		"dress/lab.css":          "the limit is 4.0 MiB",
		"dress/instruction.html": "the limit is 262144 bytes",
		"weir.svg":               "the limit is 2.0 MiB",
		"notes.pdf":              "the limit is 64.0 MiB",
		"times.csv":              "at most 16 MiB",
		"times.md":               "less than 1 MiB",
	} {
		t.Run(p, func(t *testing.T) {
			dir := writeLab(t, labOfAllKinds)
			full := filepath.Join(dir, filepath.FromSlash(p))
			if err := os.WriteFile(full, nil, 0o666); err != nil {
				t.Fatal(err)
			}
			if err := os.Truncate(full, 1<<40); err != nil { // takes no space on disk
				t.Skip(err)
			}
			var out, said bytes.Buffer
			status := run(t.Context(), []string{"check", "--from", dir}, &out, &said)
			if text := said.String(); status != wrong || !strings.Contains(text, says) {
				t.Errorf("check ends with %d and says %s", status, text)
			}
		})
	}
}
