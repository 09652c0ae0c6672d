//go:build attack

package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/render/build"
	"labsite/render/preview"
)

// attack is one way of doing harm. do returns how often it was tried, and reports failures to t.
type attack struct {
	name string
	do   func(t *testing.T) (times int)
}

// attacks lists what the program withstands. Those that tests of other packages make are run there
// once more.
var attacks = []attack{
	{"publish killed at any moment", killedPublishes},
	{"publish killed at each step", elsewhere("./render/publish", "Kill|HalfAList|BeingBuilt|Meanwhile")},
	{"record killed at any moment", func(t *testing.T) int { return killedRecords(t, number("KILLS", 300)) }},
	{"hostile records, many at once, disks that fill up", elsewhere("./render/record ./recipes/record", ".")},
	{"approve killed, disks that fail", elsewhere("./render/approve", ".")},
	{"disks full and failing", elsewhere("./render/publish ./render/preview ./render/build", "Disk|WatchesRunOut|NothingToWatch|TooManyOpen|Store")},
	{"hostile pages and settings", elsewhere("./recipes/page ./render/markdown ./render/asset", "Hostile|TooLong|Deep|WhatIsHandedOut")},
	{"inputs without bound", elsewhere("./cmd/labsite", "Growth|BeyondItsBound|Pipe")},
	{"names", elsewhere("./cmd/labsite ./render/build", "Names|NothingActs|StaysWithin|LinksInto")},
	{"words of staff pages", elsewhere("./render/build", "Staff|Canaries|Withdrawn|WhatIsSeen")},
	{"preview under requests and saves", previewUnderLoad},
	{"10,000 pages with edits", manyEdits},
}

// TestAttack runs them all and prints a table; MEASURED.md keeps the last one.
func TestAttack(t *testing.T) {
	var table strings.Builder
	for _, a := range attacks {
		begun, times, ran := time.Now(), 0, false
		held := t.Run(a.name, func(t *testing.T) {
			ran = true
			times = a.do(t)
		})
		if !ran { // -run chose others
			continue
		}
		fmt.Fprintf(&table, "| %s | %d | %s | %s |\n", a.name, times, time.Since(begun).Round(time.Second), map[bool]string{true: "held", false: "FELL"}[held])
	}
	fmt.Printf("| attack | times | took | |\n|:--|--:|--:|:--|\n%s", table.String())
}

// elsewhere runs the matching tests of other packages, and counts them.
func elsewhere(packages, match string) func(t *testing.T) int {
	return func(t *testing.T) int {
		cmd := exec.Command("go", append([]string{"test", "-count=1", "-v", "-run", match}, strings.Fields(packages)...)...)
		cmd.Dir = filepath.Join("..", "..")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Errorf("%v\n%s", err, out)
		}
		return strings.Count(string(out), "--- PASS") + strings.Count(string(out), "--- FAIL")
	}
}

// sumOfTree is a sum over the names and bytes of a folder's files; "" if there is no folder.
func sumOfTree(dir string) string {
	sum := sha256.New()
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(p)
		rest, _ := filepath.Rel(dir, p)
		fmt.Fprintf(sum, "%q %x\n", rest, sha256.Sum256(b))
		return err
	})
	if err != nil {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// killedPublishes publishes two states of the demo in turn, kills each publish at a random moment,
// and requires one site or the other, whole.
func killedPublishes(t *testing.T) int {
	labsite, kills := program(t), number("KILLS", 500)
	var from, whole [2]string
	var lasts time.Duration
	for i := range from {
		from[i] = filepath.Join(t.TempDir(), "content")
		if err := os.CopyFS(from[i], os.DirFS("../../content")); err != nil {
			t.Fatal(err)
		}
		settings := fmt.Sprintf("name: Brindle Weir Film Lab %d\naddress: https://brindleweir.example\n", i)
		if err := os.WriteFile(filepath.Join(from[i], "labsite.yaml"), []byte(settings), 0o666); err != nil {
			t.Fatal(err)
		}
		to, begun := filepath.Join(t.TempDir(), "site"), time.Now()
		if out, err := labsite(t.Context(), "publish", "--from", from[i], "--to", to).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		whole[i], lasts = sumOfTree(to), time.Since(begun)
	}
	parent := t.TempDir()
	to := filepath.Join(parent, "site")
	publish := func(ctx context.Context, i int) ([]byte, error) {
		return labsite(ctx, "publish", "--from", from[i%2], "--to", to).CombinedOutput()
	}
	if out, err := publish(t.Context(), 1); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for n := range kills {
		ctx, cancel := context.WithTimeout(t.Context(), time.Duration(rand.Int64N(int64(lasts)*5/4)))
		publish(ctx, n)
		cancel()
		if got := sumOfTree(to); got != whole[0] && got != whole[1] {
			t.Fatalf("after kill %d the site is neither the one nor the other", n)
		}
	}
	if out, err := publish(t.Context(), 0); err != nil || sumOfTree(to) != whole[0] {
		t.Errorf("the publish after them: %v\n%s", err, out)
	}
	if entries, _ := os.ReadDir(parent); len(entries) != 1 {
		t.Errorf("beside the site lie %v", entries)
	}
	return kills
}

// previewUnderLoad requests pages of a preview from many clients while a page is saved again and
// again, and requires the last text in the end.
func previewUnderLoad(t *testing.T) int {
	dir, requests := filepath.Join(t.TempDir(), "content"), number("REQUESTS", 4000)
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	p, list, err := preview.Start(ctx, preview.Options{Dir: dir, Audience: page.Staff, Now: time.Now, Say: func(string) {}})
	if err != nil || p == nil {
		t.Fatal(err, list)
	}
	ended := make(chan error, 1)
	go func() { ended <- p.Serve(ctx) }()
	get := func(address string) string {
		r, err := http.Get(p.Address() + address)
		if err != nil {
			t.Error(err)
			return ""
		}
		defer r.Body.Close()
		b, _ := io.ReadAll(r.Body)
		if r.StatusCode >= 500 {
			t.Errorf("%s gets status %d", address, r.StatusCode)
		}
		return string(b)
	}
	save := func(n int) {
		text := fmt.Sprintf("---\ntitle: Storm\naudience: staff\n---\n\nSave %d.\n", n)
		if err := os.WriteFile(filepath.Join(dir, "storm.md"), []byte(text), 0o666); err != nil {
			t.Error(err)
		}
	}
	addresses := []string{"staff/index.html", "customers/", "staff/storm.html", "staff/register.html", "staff/developing/one-shot-developer.html", "../../etc/passwd", "staff/nowhere.html"}
	var work sync.WaitGroup
	for w := range 8 {
		work.Go(func() {
			for n := range requests / 8 {
				get(addresses[(n+w)%len(addresses)])
			}
		})
	}
	saves := requests / 2
	work.Go(func() {
		for n := range saves {
			save(n)
		}
	})
	work.Wait()
	for !strings.Contains(get("staff/storm.html"), fmt.Sprintf("Save %d.", saves-1)) {
		time.Sleep(askAgain)
	}
	stop()
	if err := <-ended; err != nil {
		t.Error(err)
	}
	return requests + saves
}

// askAgain is how long to wait before asking the preview once more.
const askAgain = 15 * time.Millisecond

// manyEdits follows a site of 10,000 pages through edits, and requires bounded memory and the pages
// of a fresh site.
func manyEdits(t *testing.T) int {
	pages, edits := number("PAGES", 10_000), number("EDITS", 1000)
	dir := t.TempDir()
	save := func(i, state int) string {
		name := measuredPath(i)
		full := filepath.Join(dir, filepath.FromSlash(name))
		os.MkdirAll(filepath.Dir(full), 0o777)
		if err := os.WriteFile(full, []byte(measuredFront(i)+measuredBody(i, pages)+fmt.Sprintf("\n\nState %d.\n", state)), 0o666); err != nil {
			t.Fatal(err)
		}
		return name
	}
	for i := range pages {
		save(i, 0)
	}
	f, list := build.Follow(t.Context(), dir, build.Options{Day: time.Now()})
	if f == nil {
		t.Fatal(list)
	}
	defer f.Close()
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	var first uint64
	for n := range edits {
		i := rand.IntN(pages)
		name := save(i, n+1)
		f.Update([]string{name})
		answer, ok := f.Answer(page.Customers, strings.TrimSuffix(name, ".md")+".html", false)
		if !ok || !strings.Contains(string(answer.Bytes), fmt.Sprintf("State %d.", n+1)) {
			t.Fatalf("after edit %d %s is not of that state", n, name)
		}
		if n == edits/10 {
			first = heap()
		}
	}
	if last := heap(); last > first*3/2+64<<20 {
		t.Errorf("memory grew from %d to %d MiB", first>>20, last>>20)
	}
	return edits
}
