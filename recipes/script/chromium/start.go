//go:build browser

package chromium

import (
	"context"
	"fmt"
	"os"
	"os/exec"

	"github.com/chromedp/chromedp"
)

// Start starts the Chromium that CHROMIUM names, or the one on the path, with a profile in the
// caller's folder, and returns its first tab. end closes it.
func Start(profile string, options ...chromedp.ContextOption) (tab context.Context, end func(), err error) {
	path, err := find("CHROMIUM", "chromium")
	if err != nil {
		return nil, nil, err
	}
	return start(path, profile, options)
}

// StartShell starts Chromium's headless shell, or Chromium where CHROMIUM names one or the shell is
// missing. The shell is the same engine from the same source, with no windows, tabs and lists of
// visited pages around it, so that loading a page takes two thirds of the time. It is for looking at
// many pages; what a reader does with the browser is tested in Chromium itself.
func StartShell(profile string) (tab context.Context, end func(), err error) {
	path, err := find("CHROMIUM", "chromium-headless-shell", "chromium")
	if err != nil {
		return nil, nil, err
	}
	return start(path, profile, nil)
}

// find is the path that a variable names, or that of the first program on the path.
func find(variable string, programs ...string) (path string, err error) {
	if path = os.Getenv(variable); path != "" {
		return path, nil
	}
	for _, program := range programs {
		if path, err = exec.LookPath(program); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("%w: run `make tools`, or set %s to the path of a Chromium", err, variable)
}

func start(path, profile string, options []chromedp.ContextOption) (tab context.Context, end func(), err error) {
	flags := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.UserDataDir(profile),
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", false),
	)
	if os.Geteuid() == 0 {
		flags = append(flags, chromedp.NoSandbox) // Chromium's sandbox refuses the superuser
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(), flags...)
	tab, closeTab := chromedp.NewContext(allocator, options...)
	end = func() { closeTab(); stop() }
	if err := chromedp.Do(tab); err != nil { // starts it, in a context that outlives the first action
		end()
		return nil, nil, fmt.Errorf("starting %s: %w", path, err)
	}
	return tab, end, nil
}
