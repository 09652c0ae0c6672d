package main

import (
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
	"labsite/render/preview"
)

// proofPort is where the preview listens, so that its address is the same every day.
const proofPort = 4127

func proofCommand(s *screen) *cobra.Command {
	var from, audience, editor, on string
	var port int
	var open bool
	c := &cobra.Command{
		Use:   "proof",
		Short: "Show the pages while they are written",
		Long: `Proof shows a content folder's pages in a browser on this machine while they are
written. Save a file, and the open page takes in what changed and stays where it
was; or a sheet over the page says what is wrong, at which place, and how to mend it.
Beside the page stands what a save changed in numbers, on this page and on others.
Click a number to see its formula, its line and its inputs.

Nothing is written to public/. Drafts are shown, and every page is marked as a preview.
The address can be reached from this machine only. Ctrl-C ends it.

With --editor each place is a link that opens your editor: give the address that it
understands, with {file}, {line} and {column} where they go.`,
		Example: `  labsite proof
  labsite proof --from lab/pages --open
  labsite proof --audience customers --editor "edit://open?file={file}&line={line}"`,
		Args: noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			s.from = from
			a := page.Audience(audience)
			if a != page.Customers && a != page.Staff {
				return fmt.Errorf("--audience is customers or staff, not %q", audience)
			}
			if editor != "" && (!strings.Contains(editor, "{file}") || !strings.Contains(editor, ":")) {
				return fmt.Errorf("--editor is an address with {file} in it, such as \"edit://open?file={file}&line={line}\"")
			}
			opt := preview.Options{Dir: from, Audience: a, Port: port, Editor: editor, Say: func(text string) {
				fmt.Fprintln(s.err, text)
			}}
			if day, err := dayOf(on); err != nil {
				return err
			} else if on != "" || os.Getenv(epochVariable) != "" {
				opt.Now = func() time.Time { return day }
			}
			p, list, err := preview.Start(cmd.Context(), opt)
			if err != nil && !cmd.Flags().Changed("port") && cmd.Context().Err() == nil {
				var taken *net.OpError
				if errors.As(err, &taken) {
					opt.Port = 0
					p, list, err = preview.Start(cmd.Context(), opt)
				}
			}
			if err != nil {
				var taken *net.OpError
				switch {
				case cmd.Context().Err() != nil:
					return nil
				case errors.As(err, &taken) && errors.Is(err, syscall.EADDRINUSE):
					return s.broken(fmt.Errorf("port %d is taken, perhaps by another preview; choose another one with --port, or --port 0 for any that is free", opt.Port))
				case errors.As(err, &taken):
					return s.broken(fmt.Errorf("port %d cannot be listened at (%w); choose another one with --port, or --port 0 for any that is free", opt.Port, taken.Err))
				}
				return s.broken(err)
			}
			if p == nil {
				return s.refused(list, "")
			}
			if s.json {
				s.object(map[string]any{"diagnostics": []any{}, "address": p.Address()})
			} else {
				fmt.Fprintf(s.out, "%s the %s view of %s at\n\n  %s\n\nSave a page and look. Ctrl-C ends it.\n", paint(s.out, green, "Showing"), whose(a), from, p.Address())
			}
			if open {
				if err := show(p.Address()); err != nil {
					fmt.Fprintf(s.err, "No browser could be opened (%s); open the address yourself.\n", err)
				}
			}
			if err := p.Serve(cmd.Context()); err != nil {
				return s.broken(err)
			}
			if !s.json {
				fmt.Fprintln(s.out, "The preview has ended.")
			}
			return nil
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
	go cmd.Wait() // the browser goes on by itself
	return nil
}
