package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/preview"
)

// proofPort is the usual port of the preview, so that its address is the same every day.
const proofPort = 4127

func proofCommand(s *screen) *cobra.Command {
	var from, audience, editor, on string
	var port int
	var open bool
	c := &cobra.Command{
		Use:   "proof",
		Short: "Show the pages while you write them",
		Long: `Proof shows a content folder's pages in a browser on this machine while you
write them. Save a file, and the open page shows what changed and stays where it was; or,
if something is wrong, a sheet over the page says what, where, and how to fix it. A panel
lists the numbers that a save changed, on this page and on others. Click a number to see
its formula, its line and its inputs.

Nothing is written to public/. Drafts are shown, and every page is marked as a preview.
The address can be reached only from this machine. Ctrl-C ends it.

With --editor each place is a link that opens your editor: give the address that the
editor understands, with {file}, {line} and {column} to be filled in.`,
		Example: `  labsite proof
  labsite proof --from lab/pages --open
  labsite proof --audience customers --editor "edit://open?file={file}&line={line}"`,
		Args: noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			s.from = from
			opt, err := s.previewed(from, audience, editor, on)
			if err != nil {
				return err
			}
			opt.Port = port
			p, list, err := startPreview(cmd.Context(), opt, !cmd.Flags().Changed("port"))
			switch {
			case err != nil && cmd.Context().Err() != nil:
				return nil
			case err != nil:
				return s.broken(err)
			case p == nil:
				return s.refused(list, "")
			}
			return s.preview(cmd.Context(), p, opt, open)
		},
	}
	onFlag(c, &on)
	pagesFlag(c, &from)
	audienceFlag(c, &audience, "staff", "show first what WHO see, customers or staff")
	c.Flags().IntVar(&port, "port", proofPort, "listen on port N, 0 for any that is free")
	takes(c, "port", "N")
	c.Flags().BoolVar(&open, "open", false, "open the address in a browser")
	c.Flags().StringVar(&editor, "editor", "", "make places links to ADDRESS, which opens an editor")
	takes(c, "editor", "ADDRESS")
	return c
}

// previewed makes the options of a preview from the flags.
func (s *screen) previewed(from, audience, editor, on string) (preview.Options, error) {
	opt := preview.Options{Dir: from, Audience: page.Audience(audience), Editor: editor, Say: func(text string) {
		fmt.Fprintln(s.err, text)
	}}
	if opt.Audience != page.Customers && opt.Audience != page.Staff {
		return opt, fmt.Errorf("--audience is customers or staff, not %q", audience)
	}
	if editor != "" && (!strings.Contains(editor, "{file}") || !strings.Contains(editor, ":")) {
		return opt, fmt.Errorf("--editor is an address with {file} in it, such as \"edit://open?file={file}&line={line}\"")
	}
	day, err := dayOf(on)
	if err == nil && (on != "" || os.Getenv(epochVariable) != "") {
		opt.Now = func() time.Time { return day }
	}
	return opt, err
}

// startPreview starts a preview, at any free port if anyPort is set and the usual one is taken.
func startPreview(ctx context.Context, opt preview.Options, anyPort bool) (*preview.Preview, source.List, error) {
	p, list, err := preview.Start(ctx, opt)
	var taken *net.OpError
	if err != nil && anyPort && ctx.Err() == nil && errors.As(err, &taken) {
		opt.Port = 0
		p, list, err = preview.Start(ctx, opt)
	}
	switch {
	case errors.As(err, &taken) && errors.Is(err, syscall.EADDRINUSE):
		err = fmt.Errorf("port %d is taken, perhaps by another preview; choose another one with --port, or --port 0 for any that is free", opt.Port)
	case errors.As(err, &taken):
		err = fmt.Errorf("cannot listen on port %d (%w); choose another one with --port, or --port 0 for any that is free", opt.Port, taken.Err)
	}
	return p, list, err
}

// preview prints the address of a preview and serves it until it is ended.
func (s *screen) preview(ctx context.Context, p *preview.Preview, opt preview.Options, open bool) error {
	if s.json {
		s.object(map[string]any{"diagnostics": []any{}, "address": p.Address()})
	} else {
		fmt.Fprintf(s.out, "%s the %s view of %s at\n\n  %s\n\nSave a page and look. Ctrl-C ends it.\n", paint(s.out, green, "Showing"), whose(opt.Audience), opt.Dir, p.Address())
	}
	if open {
		if err := show(p.Address()); err != nil {
			fmt.Fprintf(s.err, "No browser could be opened (%s); open the address yourself.\n", err)
		}
	}
	if err := p.Serve(ctx); err != nil {
		return s.broken(err)
	}
	if !s.json {
		fmt.Fprintln(s.out, "The preview has ended.")
	}
	return nil
}

// show asks the system to open an address.
func show(address string) error {
	name, args := "xdg-open", []string{address}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", address}
	}
	cmd := exec.Command(name, args...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go cmd.Wait() // so that no zombie is left; the browser runs on its own
	return nil
}
