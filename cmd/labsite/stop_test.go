package main

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
)

// asked is a context that ends after being asked a number of times whether it has.
type asked struct {
	context.Context
	end  context.CancelFunc
	left atomic.Int64
}

func endsWhenAsked(t *testing.T, times int64) *asked {
	ctx, end := context.WithCancel(t.Context())
	t.Cleanup(end)
	a := &asked{Context: ctx, end: end}
	a.left.Store(times)
	return a
}

func (a *asked) Err() error {
	if a.left.Add(-1) < 0 {
		a.end()
	}
	return a.Context.Err()
}

// Wherever a command is stopped, it ends with status 1, says so, changes nothing and leaves nothing
// behind. Each run gets a little further than the last one, through every stage, until one
// finishes.
func TestStoppedAnywhere(t *testing.T) {
	lab := maps.Clone(labOfAllKinds)
	for _, p := range []string{"hazards.yaml", "formulary/own.yaml", "dress/instruction.html"} {
		delete(lab, p)
	}
	from := writeLab(t, lab)
	for _, command := range []string{"publish", "check", "figure", "formula"} {
		t.Run(command, func(t *testing.T) {
			above := t.TempDir()
			to := filepath.Join(above, "site")
			args := map[string][]string{
				"publish": {"publish", "--from", from, "--to", to},
				"check":   {"check", "--from", from},
				"figure":  {"figure", "times", "--from", from},
				"formula": {"formula", "--outside"},
			}[command]
			stops := 0
			for times := int64(0); ; times += 1 + times/3 {
				var out, said bytes.Buffer
				status := run(endsWhenAsked(t, times), args, &out, &said)
				if status == good {
					break
				}
				stops++
				if status != wrong || !strings.Contains(said.String(), "stopped") || out.Len() > 0 {
					t.Fatalf("asked %d times, it ends with %d and says %s%s", times, status, out.String(), said.String())
				}
				if left, err := os.ReadDir(above); err != nil || len(left) > 0 {
					t.Fatalf("asked %d times, it leaves %v %v", times, left, err)
				}
			}
			if stops == 0 {
				t.Error("it was never stopped")
			}
		})
	}
}

// With --json a stopped command prints an object too.
func TestStoppedForMachines(t *testing.T) {
	from := writeLab(t, map[string]string{"index.md": "---\ntitle: Front\naudience: customers\n---\n\nText.\n"})
	var out, said bytes.Buffer
	if status := run(endsWhenAsked(t, 0), []string{"check", "--json", "--from", from}, &out, &said); status != wrong || !strings.Contains(out.String(), `"error": "stopped; nothing was changed"`) {
		t.Errorf("%d %s %s", status, out.String(), said.String())
	}
}

// laborious is a lab that is quick to read and slow to prove.
func laborious(t *testing.T) string {
	var page strings.Builder
	page.WriteString("---\ntitle: Work\naudience: customers\ngiven:\n")
	for i := range 8 {
		fmt.Fprintf(&page, "  g%d: {label: G%d, value: 1, from: 1, to: 2}\n", i, i)
	}
	page.WriteString("figures:\n")
	for i := range 450 {
		fmt.Fprintf(&page, "  f%d: g0 ** g1 + g2 ** g3 + g4 ** g5 + g6 ** g7\n", i)
	}
	page.WriteString("checks:\n  - always: f0 > 0\n---\n\n{f0}\n")
	lab := map[string]string{"index.md": "---\ntitle: Front\naudience: customers\n---\n\nText.\n"}
	for i := range 100 {
		lab[fmt.Sprintf("work%d.md", i)] = page.String()
	}
	return writeLab(t, lab)
}

// deaf is a program whose work ignores signals.
func deaf() {
	ctx, _ := untilSignal(os.Exit)
	fmt.Println("working")
	<-ctx.Done()
	fmt.Println("told")
	select {}
}
