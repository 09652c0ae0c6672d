//go:build browser

package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// TestPictures puts pictures of every page into the folder that PICTURES names, for a person to
// look at: each look on a screen, with forced colours and with more contrast, and each sheet of
// paper. It checks nothing and runs only if
// PICTURES is set: `make pictures`.
//
// PAGES, if set, is a part of the names of the pages to take.
func TestPictures(t *testing.T) {
	to := os.Getenv("PICTURES")
	if to == "" {
		t.Skip("PICTURES names no folder")
	}
	for _, audience := range []string{"customers", "staff"} {
		dir := demoSite(t, audience)
		var names []string
		for _, n := range pagesOf(t, dir) {
			if strings.Contains(n, os.Getenv("PAGES")) {
				names = append(names, n)
			}
		}
		inTabs(t, theChromium(t), dir, len(names), func(tab *tab, i int) {
			name := names[i]
			flat := strings.ReplaceAll(strings.TrimSuffix(name, ".html"), "/", "-")
			at := filepath.Join(to, audience, flat)
			if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
				t.Error(err)
				return
			}
			for _, w := range windows {
				tab.visit(t, tab.serverURL(name), w.looks(), func(l look) {
					keep(t, at+"-"+l.window.name+"-"+l.scheme+".png", func() ([]byte, error) { return picture(tab.ctx) })
				}, func(text string) { t.Errorf("%s: %s", name, text) })
			}
			for _, w := range windows {
				for _, as := range []emulation.MediaFeature{{Name: "forced-colors", Value: "active"}, {Name: "prefers-contrast", Value: "more"}} {
					tab.visit(t, tab.serverURL(name), w.looks()[:1], func(look) {
						must(t, call(tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{&as}}))
						keep(t, at+"-"+w.name+"-"+as.Name+".png", func() ([]byte, error) { return picture(tab.ctx) })
					}, func(text string) { t.Errorf("%s: %s", name, text) })
				}
			}
			keep(t, at+".pdf", func() ([]byte, error) { return printPage(tab.ctx) })
			if out, err := exec.Command("pdftoppm", "-r", "80", "-png", at+".pdf", at+"-paper").CombinedOutput(); err != nil {
				t.Errorf("pdftoppm: %v\n%s", err, out)
			}
		})
	}
	t.Logf("the pictures are in %s", to)
}

// picture is a picture of the whole page, including what is below the window.
func picture(ctx context.Context) ([]byte, error) {
	all := true
	r, err := chromedp.Call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{CaptureBeyondViewport: &all})
	return r.Data, err
}

func keep(t *testing.T, at string, take func() ([]byte, error)) {
	data, err := take()
	if err == nil {
		err = os.WriteFile(at, data, 0o666)
	}
	if err != nil {
		t.Errorf("%s: %v", at, err)
	}
}
