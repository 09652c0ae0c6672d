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
	path := os.Getenv("CHROMIUM")
	if path == "" {
		if path, err = exec.LookPath("chromium"); err != nil {
			return nil, nil, fmt.Errorf("%w: run `make tools`, or set CHROMIUM to the path of a Chromium", err)
		}
	}
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
