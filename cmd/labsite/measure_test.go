package main

import (
	"bytes"
	"encoding/json"
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

// BenchmarkPublish sets a publish of 2,000 pages beside what no site can do without: a
// loop over the same files that hands their bodies to goldmark, with tables, on two
// workers, and writes as many plain files as the site has. It prints ratios, since times say more of the
// machine than of the program, and runs in rounds of a process each, so that every
// publish starts cold, as the command does, and peak memory can be read. Making
// thousands of files can take longer than all else on some disks; TMPDIR=/dev/shm leaves
// the disk out, and shows the program's own share.
func BenchmarkPublish(b *testing.B) {
	const rounds = 5
	dir := b.TempDir()
	content := filepath.Join(dir, "content")
	if err := measuredContent(content, measuredPages); err != nil {
		b.Fatal(err)
	}
	one := filepath.Join(dir, "one")
	if err := measuredContent(one, 1); err != nil {
		b.Fatal(err)
	}
	results := map[string][]measured{}
	for b.Loop() {
		for round := range rounds {
			site, bare := filepath.Join(dir, fmt.Sprint("site", round)), filepath.Join(dir, fmt.Sprint("bare", round))
			add := func(name, job, from, to string) {
				results[name] = append(results[name], measure(b, job, from, to))
			}
			add("new", "publish", content, site)
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
			b.Setenv("MEASURED_FILES", strconv.Itoa(files))
			add("bare", "bare", content, bare)
			// One page says something else; the rest of the site is as it was.
			at := filepath.Join(content, measuredPath(round))
			if err := os.WriteFile(at, []byte(measuredFront(round)+measuredBody(round, measuredPages)+"\nOne line more.\n"), 0o666); err != nil {
				b.Fatal(err)
			}
			add("again", "publish", content, site)
			add("one page", "publish", one, filepath.Join(dir, fmt.Sprint("single", round)))
		}
	}
	middle := func(name string, of func(measured) float64) float64 {
		var all []float64
		for _, m := range results[name] {
			all = append(all, of(m))
		}
		slices.Sort(all)
		return all[len(all)/2]
	}
	seconds := func(m measured) float64 { return m.Seconds }
	peak := func(m measured) float64 { return float64(m.Peak) / (1 << 20) }
	work := func(m measured) float64 { return m.Work }
	ratio := func(name string, of func(measured) float64) float64 {
		var all []float64 // of the same round, so that both had the same machine
		for i, m := range results[name] {
			all = append(all, of(m)/of(results["bare"][i]))
		}
		slices.Sort(all)
		return all[len(all)/2]
	}
	fmt.Printf("\n%d pages of %d figures in folders of %d; medians of %d rounds on %d processors\n",
		measuredPages, measuredFigures, measuredFolder, len(results["bare"]), runtime.GOMAXPROCS(0))
	for _, row := range []struct{ name, says string }{
		{"bare", "bare loop, goldmark and plain writes"},
		{"new", "publish into an empty folder"},
		{"again", "publish again, one page changed"},
	} {
		fmt.Printf("  %-38s %5.2f times the bare loop by the clock (%.2f s), %5.2f times by the processors' work (%.2f s), %4.0f MiB at its peak\n",
			row.says, ratio(row.name, seconds), middle(row.name, seconds), ratio(row.name, work), middle(row.name, work), middle(row.name, peak))
	}
	single := middle("one page", seconds)
	fmt.Printf("  %-38s %5.1f ms, and %.3f ms for each further page (%.3f ms of a processor)\n", "publish a site of one page", single*1e3,
		(middle("new", seconds)-single)/(measuredPages-1)*1e3, (middle("new", work)-middle("one page", work))/(measuredPages-1)*1e3)
	fmt.Println("  where the processors were while publishing into an empty folder:")
	for _, s := range stagesOf(b, content, filepath.Join(dir, "profiled")) {
		fmt.Printf("    %5.1f %%  %s\n", 100*s.share, s.name)
	}
	b.ReportMetric(ratio("new", seconds), "new/bare")
	b.ReportMetric(ratio("again", seconds), "again/bare")
	b.ReportMetric(middle("new", peak), "MiB")
}

// measured is what one process found.
type measured struct {
	Seconds float64 // by the clock
	Work    float64 // seconds of all processors together, the system's among them
	Peak    int64   // bytes; 0 where the system does not tell
}

// measure does a job in a process of its own: this test's program, started again.
func measure(b *testing.B, job, from, to string) measured {
	b.Helper()
	_ = exec.Command("sync").Run() // no job pays for what the one before left to be written; not everywhere is there such a command
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

// TestMeasuredJob is the process that measure starts; without it there is nothing to do.
func TestMeasuredJob(t *testing.T) {
	job, from, to := os.Getenv("MEASURED_JOB"), os.Getenv("MEASURED_FROM"), os.Getenv("MEASURED_TO")
	if job == "" {
		t.Skip("only a part of BenchmarkPublish")
	}
	publish := func(to string) {
		var stdout, stderr bytes.Buffer
		if status := run(t.Context(), []string{"publish", "--from", from, "--to", to}, &stdout, &stderr); status != 0 {
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
		for i := range 4 {
			publish(to + strconv.Itoa(i))
		}
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
	folders := measuredPages / measuredFolder
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
				if i >= measuredPages {
					at := filepath.Join(to, filepath.Dir(filepath.FromSlash(measuredPath(i%measuredPages))), fmt.Sprint(i))
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
	for i := range max(files, measuredPages) {
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

// stages name the functions that a stage's work stands below; the first that is found on
// a stack, from the innermost frame out, has the sample.
var stages = []struct {
	name      string
	functions []string
}{
	{"read a page's file and its front matter", []string{"site.(*Site).readPage", "sheet.DecodeWith"}},
	{"read a page's body", []string{"markdown.Parse"}},
	{"resolve names and kinds", []string{"site.(*Site).resolve"}},
	{"prove over all cases", []string{"sheet.(*Sheet).Prove"}},
	{"bind placements, check links and texts", []string{"site.(*Site).bind"}},
	{"look for substances", []string{"site.(*Site).substances"}},
	{"run the pages' scripts and hold them to the figures", []string{"site.(*Site).Agree"}},
	{"render: search entries", []string{"site.(*renderer).entries"}},
	{"render: fill the theme's templates", []string{"site.(*Templates).fill"}},
	{"render: write bodies and texts", []string{"site.(*filler).html"}},
	{"render: the rest", []string{"site.(*Site).Render"}},
	{"write files", []string{"publish.Write", "publish.each"}},
	{"load the rest: theme, substances, bench formulas, order", []string{"site.Load"}},
	{"collect garbage", []string{"runtime.gcBgMarkWorker", "runtime.bgsweep", "runtime.bgscavenge"}},
}

// stagesOf profiles a few publishes and asks go tool pprof for the stacks.
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

// stageOf finds the stage of a stack, its frames a line each, the innermost first.
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
