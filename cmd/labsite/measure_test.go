package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/pprof"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
)

// BenchmarkPublish compares publishes of 1,000, 2,000 and 10,000 pages with what no site can do
// without: a loop over the same files that renders their bodies with goldmark, tables included, on
// two workers, and writes as many plain files as the site has. It prints ratios, since times say
// more about the machine than about the program, and each publish is a process of its own, so that
// it starts cold, like the command, and its peak memory can be read. On some disks making thousands
// of files takes longer than everything else; TMPDIR=/dev/shm leaves the disk out, and shows the
// program's own share. MEASURED_SIZES sets other sizes, such as "1000 4000".
func BenchmarkPublish(b *testing.B) {
	sizes := []int{1000, 2000, 10000}
	if text := os.Getenv("MEASURED_SIZES"); text != "" {
		sizes = nil
		for _, field := range strings.Fields(text) {
			n, err := strconv.Atoi(field)
			if err != nil {
				b.Fatal(err)
			}
			sizes = append(sizes, n)
		}
	}
	fmt.Printf("\npages of %d figures in folders of %d, and %d that draw on one; medians on %d processors\n",
		measuredFigures, measuredFolder, measuredDrawn, runtime.GOMAXPROCS(0))
	work := map[int]float64{}
	for _, n := range sizes {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				work[n] = measurePublish(b, n)
			}
		})
	}
	first, last := sizes[0], sizes[len(sizes)-1]
	fmt.Printf("  %d pages take %.1f times the processors' work of %d\n", last, work[last]/work[first], first)
}

// measuredRuns are the publishes of one site, in order: what is done to the content before each,
// and its name.
var measuredRuns = []struct {
	name, says string
	change     func(content string, round, n int) error
}{
	{"first", "first publish", nil},
	{"again", "again, nothing changed", nil},
	{"one page", "again, one page changed", func(content string, round, n int) error {
		at := filepath.Join(content, filepath.FromSlash(measuredPath(round)))
		return os.WriteFile(at, []byte(measuredFront(round)+measuredBody(round, n)+"\nOne line more.\n"), 0o666)
	}},
	{"a constant", fmt.Sprintf("again, a constant changed that %d draw on", measuredDrawn), func(content string, round, _ int) error {
		return writeMeasuredConstant(content, 4+round)
	}},
}

// measurePublish measures the publishes of a site of n pages, prints each relative to the bare loop
// and to the first, and returns the processor time of the first, in seconds.
func measurePublish(b *testing.B, n int) float64 {
	rounds := max(1, min(5, 10000/n))
	dir := b.TempDir()
	content := filepath.Join(dir, "content")
	if err := errors.Join(measuredContent(content, n), writeMeasuredConstant(content, 3)); err != nil {
		b.Fatal(err)
	}
	b.Setenv("MEASURED_PAGES", strconv.Itoa(n))
	results := map[string][]measured{}
	for round := range rounds {
		site := filepath.Join(dir, fmt.Sprint("site", round))
		b.Setenv("XDG_CACHE_HOME", filepath.Join(dir, fmt.Sprint("cache", round))) // each round begins with an empty cache
		for _, r := range measuredRuns {
			if r.change != nil {
				if err := r.change(content, round, n); err != nil {
					b.Fatal(err)
				}
			}
			results[r.name] = append(results[r.name], measure(b, "publish", content, site))
		}
		b.Setenv("MEASURED_FILES", strconv.Itoa(filesIn(b, site)))
		results["bare"] = append(results["bare"], measure(b, "bare", content, filepath.Join(dir, fmt.Sprint("bare", round))))
	}
	table := measuredTable{results}
	fmt.Printf("  %d pages, %d rounds; the bare loop takes %.2f s, %.2f s of a processor\n", n, rounds,
		table.middle("bare", seconds), table.middle("bare", processors))
	for _, r := range measuredRuns {
		fmt.Printf("    %-44s %6.2f times the bare loop by the clock, %6.2f by the processors' work; %5.3f and %5.3f of the first; %4.0f MiB at its peak\n", r.says,
			table.ratio(r.name, "bare", seconds), table.ratio(r.name, "bare", processors), table.ratio(r.name, "first", seconds), table.ratio(r.name, "first", processors), table.middle(r.name, peak))
	}
	b.ReportMetric(table.ratio("first", "bare", processors), "first/bare")
	b.ReportMetric(table.ratio("again", "first", processors), "again/first")
	b.ReportMetric(table.ratio("one page", "first", processors), "one/first")
	b.ReportMetric(table.middle("first", peak), "MiB")
	fmt.Println("    where the processors were in a first publish:")
	for _, s := range stagesOf(b, content, filepath.Join(dir, "profiled")) {
		fmt.Printf("      %5.1f %%  %s\n", 100*s.share, s.name)
	}
	return table.middle("first", processors)
}

// filesIn counts the files of a published site.
func filesIn(b *testing.B, site string) int {
	files := 0
	err := filepath.WalkDir(site, func(_ string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files++
		}
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	return files
}

// measuredTable holds what was measured, by the name of the run.
type measuredTable struct{ results map[string][]measured }

func seconds(m measured) float64    { return m.Seconds }
func processors(m measured) float64 { return m.Work }
func peak(m measured) float64       { return float64(m.Peak) / (1 << 20) }

func median(all []float64) float64 {
	slices.Sort(all)
	return all[len(all)/2]
}

// middle is the median over the rounds.
func (t measuredTable) middle(name string, of func(measured) float64) float64 {
	var all []float64
	for _, m := range t.results[name] {
		all = append(all, of(m))
	}
	return median(all)
}

// ratio is the median over the rounds of one run relative to another of the same round, so that
// both met the same machine.
func (t measuredTable) ratio(name, to string, of func(measured) float64) float64 {
	var all []float64
	for i, m := range t.results[name] {
		all = append(all, of(m)/of(t.results[to][i]))
	}
	return median(all)
}

// measured is what one process found.
type measured struct {
	Seconds float64 // of wall time
	Work    float64 // seconds of all processors together, including the system's
	Peak    int64   // bytes; 0 if the system does not say
}

// measure does a job in a process of its own, by starting the test program again.
func measure(b *testing.B, job, from, to string) measured {
	b.Helper()
	_ = exec.Command("sync").Run() // so that no job pays for what the one before left to write; fails where there is no such command
	cmd := exec.Command(os.Args[0], "-test.run=^TestMeasuredJob$", "-test.v=false")
	cmd.Env = append(os.Environ(), "MEASURED_JOB="+job, "MEASURED_FROM="+from, "MEASURED_TO="+to)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		b.Fatalf("%s: %v\n%s%s", job, err, out, &stderr)
	}
	_, after, _ := strings.Cut(string(out), "measured ")
	line, _, _ := strings.Cut(after, "\n")
	var m measured
	if err := json.Unmarshal([]byte(line), &m); err != nil {
		b.Fatalf("%s: %v\n%s", job, err, out)
	}
	m.Work = (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	return m
}

// TestMeasuredJob is what the process that measure starts runs; otherwise it has nothing to do.
func TestMeasuredJob(t *testing.T) {
	job, from, to := os.Getenv("MEASURED_JOB"), os.Getenv("MEASURED_FROM"), os.Getenv("MEASURED_TO")
	if job == "" {
		t.Skip("only a part of BenchmarkPublish")
	}
	publish := func(to string, more ...string) {
		var stdout, stderr bytes.Buffer
		if status := run(t.Context(), append([]string{"publish", "--from", from, "--to", to}, more...), &stdout, &stderr); status != 0 {
			t.Fatalf("publish ended with status %d\n%.2000s", status, &stderr)
		}
	}
	begun := time.Now()
	switch job {
	case "bare":
		bareLoop(t, from, to)
	case "publish":
		publish(to)
	case "profile":
		f, err := os.Create(to + ".profile")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := pprof.StartCPUProfile(f); err != nil {
			t.Fatal(err)
		}
		publish(to, "--fresh")
		pprof.StopCPUProfile()
	}
	m := measured{Seconds: time.Since(begun).Seconds(), Peak: peakMemory()}
	line, _ := json.Marshal(m)
	fmt.Printf("measured %s\n", line)
}

// bareLoop reads the pages of a folder and writes a file for each, and then as many more
// of 4 KB as the site has beside its pages: cards, scripts, pages of folders.
func bareLoop(t *testing.T, from, to string) {
	files, _ := strconv.Atoi(os.Getenv("MEASURED_FILES"))
	n, _ := strconv.Atoi(os.Getenv("MEASURED_PAGES"))
	folders := n / measuredFolder
	for i := range folders {
		if err := os.MkdirAll(filepath.Join(to, filepath.Dir(filepath.FromSlash(measuredPath(i*measuredFolder)))), 0o777); err != nil {
			t.Error(err)
		}
	}
	var wait sync.WaitGroup
	pages := make(chan int)
	for range 2 {
		wait.Go(func() {
			m := goldmark.New(goldmark.WithExtensions(extension.Table))
			var out bytes.Buffer
			for i := range pages {
				if i >= n {
					at := filepath.Join(to, filepath.Dir(filepath.FromSlash(measuredPath(i%n))), fmt.Sprint(i))
					if err := os.WriteFile(at, make([]byte, 4<<10), 0o666); err != nil {
						t.Error(err)
					}
					continue
				}
				raw, err := os.ReadFile(filepath.Join(from, filepath.FromSlash(measuredPath(i))))
				if err != nil {
					t.Error(err)
					continue
				}
				out.Reset()
				_, body, _ := bytes.Cut(raw, []byte("\n---\n"))
				if err := m.Convert(body, &out); err != nil {
					t.Error(err)
				}
				at := filepath.Join(to, filepath.FromSlash(strings.TrimSuffix(measuredPath(i), ".md")+".html"))
				if err := os.WriteFile(at, out.Bytes(), 0o666); err != nil {
					t.Error(err)
				}
			}
		})
	}
	for i := range max(files, n) {
		pages <- i
	}
	close(pages)
	wait.Wait()
}

// peakMemory is the most memory that the process ever held, as Linux tells it.
func peakMemory() int64 {
	raw, _ := os.ReadFile("/proc/self/status")
	_, after, _ := strings.Cut(string(raw), "VmHWM:")
	var kilobytes int64
	fmt.Sscan(after, &kilobytes)
	return kilobytes << 10
}

// stage is a part of a publish and its share of the processors' time.
type stage struct {
	name  string
	share float64
}

// stages names the functions under which a stage's work is done; a sample counts for the first one
// found on its stack, from the innermost frame outwards.
var stages = []struct {
	name      string
	functions []string
}{
	{"read pages' files and heads", []string{"content.(*Content).readPages"}},
	{"read front matter", []string{"page.Decode"}},
	{"read bodies", []string{"markdown.Parse"}},
	{"resolve names and kinds", []string{"work.(*Desk).resolve"}},
	{"prove over all cases", []string{"prove.Sheet"}},
	{"bind placements, check links and texts", []string{"work.(*Desk).bind"}},
	{"look for substances", []string{"work.(*Desk).substances"}},
	{"run the pages' scripts and hold them to the figures", []string{"build.(*worker).agree"}},
	{"search", []string{"search.(*Index)"}},
	{"fill the theme's templates", []string{"theme.(*Templates).fill"}},
	{"write bodies and texts", []string{"write.(*filler).html"}},
	{"write pages, the rest", []string{"routes.Page"}},
	{"hand files on", []string{"publish.(*Staging)"}},
	{"what is kept of a page", []string{"build.resultOf", "build.(*Store)"}},
	{"what tells of all pages", []string{"build.(*run).makeShared"}},
	{"load the rest: theme, substances, bench formulas", []string{"build.Open"}},
	{"collect garbage", []string{"runtime.gcBgMarkWorker", "runtime.bgsweep", "runtime.bgscavenge"}},
}

// stagesOf profiles a few publishes and gets the stacks from go tool pprof.
func stagesOf(b *testing.B, from, to string) []stage {
	measure(b, "profile", from, to)
	out, err := exec.Command("go", "tool", "pprof", "-traces", "-nodecount=0", to+".profile").Output()
	if err != nil {
		b.Fatalf("go tool pprof: %v", err)
	}
	times := make([]time.Duration, len(stages)+1)
	var all time.Duration
	for _, stack := range strings.Split(string(out), "-----------+")[1:] {
		_, stack, _ = strings.Cut(stack, "\n")
		first, _, _ := strings.Cut(strings.TrimLeft(stack, " "), " ")
		took, err := time.ParseDuration(first)
		if err != nil {
			continue
		}
		all += took
		times[stageOf(stack)] += took
	}
	if all == 0 {
		b.Fatalf("go tool pprof gave no stacks:\n%s", out)
	}
	var shares []stage
	for i, took := range times {
		name := "the system and the rest"
		if i < len(stages) {
			name = stages[i].name
		}
		shares = append(shares, stage{name, float64(took) / float64(all)})
	}
	return shares
}

// stageOf finds the stage of a stack, given one frame to a line, the innermost first.
func stageOf(stack string) int {
	for line := range strings.Lines(stack) {
		for i, s := range stages {
			for _, f := range s.functions {
				if strings.Contains(line, f) {
					return i
				}
			}
		}
	}
	return len(stages)
}
