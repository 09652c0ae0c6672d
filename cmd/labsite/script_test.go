package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets scripts run the command as a process: the test binary under the name labsite.
func TestMain(m *testing.M) {
	testscript.Main(tests{m}, map[string]func(){
		"labsite": main,
		"deaf":    deaf,
	})
}

// tests runs all tests with a cache folder of their own, so that they neither find nor leave
// anything in the user's, and then clears away what they shared.
type tests struct{ *testing.M }

func (t tests) Run() int {
	if os.Getenv("MEASURED_JOB") != "" {
		return t.M.Run() // the benchmark that started this process chose the cache folder
	}
	dir, err := os.MkdirTemp("", "labsite-cache-")
	if err != nil {
		panic(err)
	}
	os.Setenv("XDG_CACHE_HOME", dir)
	afterwards.add(func() { os.RemoveAll(dir) })
	status := t.M.Run()
	for _, clear := range slices.Backward(afterwards.all) {
		clear()
	}
	return status
}

// afterwards are called once all tests have run, the last one first.
var afterwards cleanups

type cleanups struct {
	mu  sync.Mutex
	all []func()
}

func (c *cleanups) add(clear func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.all = append(c.all, clear)
}

// TestScripts runs the acceptance tests of the command, testdata/scripts/*.txtar. In them
// $DEMO is the demo's content folder, $XDG_CACHE_HOME a cache folder of the script's own, and
// $DEMO_CACHE one in which the demo was worked out before all scripts. Beside the commands of
// the script language there are:
//
//	bad PAGE LINE:COLUMN CODE MESSAGE [HINT]   the page stops a publish, see badPage
//	told PAGE LINE:COLUMN CODE MESSAGE [HINT]  the page is reported and published, see toldPage
//	machine WHAT                               the last output keeps the contract, see machineOutput
//	bytes FILE TEXT [SIZE]                     writes a file, see writeBytes
//	status N COMMAND…                          runs a command that must end with status N
//	value NAME SHOWN [NUMBER UNIT]             what the last figure says of a name, see valueIs
//	readback [coarse]                          what the last figure shows can be read again, see readBack
//	remember NAME FOLDER                       keeps a folder's bytes in mind
//	unchanged NAME FOLDER                      compares them, byte for byte
//	await FILE PATTERN                         waits until a file holds a text, see await
//	framed MESSAGES FILE                       writes the messages of an editor as it sends them, see framed
//	nowhere FOLDER WORD…                       no name and no byte of a folder holds a word
func TestScripts(t *testing.T) {
	demo, err := filepath.Abs(filepath.Join("..", "..", "content"))
	if err != nil {
		t.Fatal(err)
	}
	cache := t.TempDir()
	workDemoOut(t, demo, filepath.Join(cache, "demo"))
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "scripts"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", demo)
			e.Setenv("XDG_CACHE_HOME", filepath.Join(cache, filepath.Base(e.WorkDir)))
			e.Setenv("DEMO_CACHE", filepath.Join(cache, "demo"))
			e.Setenv("NO_COLOR", "")
			e.Values[remembered{}] = map[string]map[string]string{}
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"bad":       badPage,
			"told":      toldPage,
			"machine":   machineOutput,
			"readback":  readBack,
			"bytes":     writeBytes,
			"status":    status,
			"value":     valueIs,
			"remember":  remember,
			"unchanged": unchanged,
			"await":     await(lastLook(t)),
			"damage":    damage,
			"nowhere":   nowhere,
			"framed":    framed,
		},
	})
}

// workDemoOut checks the demo, so that scripts find its results: several that started at once would
// each work all of it out.
func workDemoOut(t *testing.T, demo, cache string) {
	t.Helper()
	before := os.Getenv("XDG_CACHE_HOME")
	os.Setenv("XDG_CACHE_HOME", cache) // t.Setenv would keep scripts from running in parallel
	defer os.Setenv("XDG_CACHE_HOME", before)
	var out, said bytes.Buffer
	if status := run(t.Context(), []string{"check", "--from", demo}, &out, &said); status != good {
		t.Fatalf("the demo does not hold: %d\n%s%s", status, &out, &said)
	}
}

// status runs a command and requires an exit status; `! exec` accepts any but 0.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, not %d", got, want)
	}
}
