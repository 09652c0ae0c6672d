//go:build browser

package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"labsite/recipes/script/chromium"
)

// BenchmarkProof measures the preview as a writer meets it, in a real Chromium, on sites of
// 100, 2,000 and 10,000 pages:
//
//   - from the start of the command to its first page;
//   - from the write of a page's file to its new number on the screen, over 100 edits, of
//     which the first are made while the other pages are still being worked out. The number
//     counts as on the screen when a frame after it was set has begun;
//   - the memory of the preview after 100 edits and after 1,000.
func BenchmarkProof(b *testing.B) {
	dir := b.TempDir()
	command := filepath.Join(dir, "labsite-measured")
	if out, err := exec.Command("go", "build", "-o", command, ".").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	tab := measuredTab(b)
	for b.Loop() {
		fmt.Printf("\nthe preview, on %d processors\n", runtime.GOMAXPROCS(0))
		var slowest float64
		for _, n := range []int{100, 2000, 10000} {
			content := filepath.Join(dir, fmt.Sprint("content", n))
			if err := measuredContent(content, n); err != nil {
				b.Fatal(err)
			}
			slowest = measureProof(b, tab, command, content, n)
		}
		b.ReportMetric(slowest, "ms/edit-p95")
	}
}

// measureProof measures one site and returns the 95th percentile of its edits, in ms.
func measureProof(b *testing.B, tab context.Context, command, content string, n int) float64 {
	begun := time.Now()
	cmd := exec.Command(command, "proof", "--from", content, "--port", "0", "--json")
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		b.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		b.Fatal(err)
	}
	defer func() {
		cmd.Process.Signal(os.Interrupt)
		cmd.Wait()
	}()
	var told struct{ Address string }
	if err := json.NewDecoder(bufio.NewReader(out)).Decode(&told); err != nil {
		b.Fatal(err)
	}
	address := told.Address + "customers/" + strings.TrimSuffix(measuredPath(3), ".md") + ".html"
	fetch := func() string {
		r, err := http.Get(address)
		if err != nil {
			b.Fatal(err)
		}
		defer r.Body.Close()
		body, err := io.ReadAll(r.Body)
		if err != nil || r.StatusCode != http.StatusOK {
			b.Fatalf("%s: status %d, %v", address, r.StatusCode, err)
		}
		return string(body)
	}
	fetch()
	first := time.Since(begun)
	if err := chromedp.Do(tab, chromedp.Navigate(address)); err != nil {
		b.Fatal(err)
	}
	time.Sleep(500 * time.Millisecond) // a writer looks at the page before the first edit

	front, body := measuredFront(3), measuredBody(3, n)
	save := func(edit int) (shown string) {
		tank := 500 + 50*(edit%30)
		text := strings.Replace(front, "value: 500 ml, from", fmt.Sprintf("value: %d ml, from", tank), 1) + body + fmt.Sprintf("\nEdit %d.\n", edit)
		if err := os.WriteFile(filepath.Join(content, filepath.FromSlash(measuredPath(3))), []byte(text), 0o666); err != nil {
			b.Fatal(err)
		}
		return fmt.Sprintf("%d", tank)
	}
	ask := func(js string) {
		ctx, stop := context.WithTimeout(tab, 30*time.Second)
		defer stop()
		if _, err := chromedp.Run(ctx, chromedp.Evaluate[bool](js, chromedp.EvalAwaitPromise)); err != nil {
			b.Fatalf("%.80s: %v", js, err)
		}
	}
	var took []float64
	for edit := 1; edit <= 100; edit++ {
		// The page is watched for the number that the next save brings, and for a text that is
		// unique to this edit.
		tank := 500 + 50*(edit%30)
		ask(fmt.Sprintf(`window.shown = new Promise((done) => {
			const look = () => {
				const main = document.querySelector('main'), q = main && main.querySelector('.q[data-given-value="tank"]');
				if (q && q.textContent.replace(/\D/g, '').startsWith('%d') && main.textContent.includes('Edit %d.') && main.style.visibility !== 'hidden') requestAnimationFrame(() => done(true));
				else requestAnimationFrame(look);
			};
			requestAnimationFrame(look);
		}); true`, tank, edit))
		at := time.Now()
		save(edit)
		ask(`window.shown`)
		took = append(took, float64(time.Since(at).Microseconds())/1e3)
		time.Sleep(20 * time.Millisecond)
	}
	early := residentMemory(cmd.Process.Pid)
	for edit := 101; edit <= 1000; edit++ {
		save(edit)
		want := fmt.Sprintf("Edit %d.", edit)
		for late := time.Now().Add(30 * time.Second); !strings.Contains(fetch(), want); time.Sleep(2 * time.Millisecond) {
			if time.Now().After(late) {
				b.Fatalf("edit %d does not show", edit)
			}
		}
	}
	late := residentMemory(cmd.Process.Pid)
	slices.Sort(took)
	p95 := took[len(took)*95/100]
	fmt.Printf("  %6d pages: first page after %4.2f s; from the write to the screen %5.1f ms at the median, %5.1f ms at the 95th percentile; %d MiB after 100 edits, %d MiB after 1,000\n",
		n, first.Seconds(), took[len(took)/2], p95, early>>20, late>>20)
	return p95
}

// residentMemory is the resident memory of a process, from Linux.
func residentMemory(pid int) int64 {
	raw, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	_, after, _ := strings.Cut(string(raw), "VmRSS:")
	var kilobytes int64
	fmt.Sscan(after, &kilobytes)
	return kilobytes << 10
}

// measuredTab is an empty tab of a Chromium.
func measuredTab(b *testing.B) context.Context {
	ctx, end, err := chromium.Start(b.TempDir())
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(end)
	return ctx
}
