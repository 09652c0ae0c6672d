package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/build"
	"labsite/render/publish"
	"labsite/render/regular"
)

func publishCommand(s *screen) *cobra.Command {
	var from, to, audience, on string
	var fresh bool
	c := &cobra.Command{
		Use:   "publish",
		Short: "Work out all pages, check every number and write the site",
		Long: `Publish reads the pages of a content folder, works out and tests every number, and
writes the site of one audience into a folder. The new site is built beside the old
one and takes its place in one step: with an error anywhere, the old site stays as
it is. Nothing is ever deleted that this command did not write.

The customers' site goes to public/ by default, next to the content folder. The staff's
site has everything, and goes to public-staff/; it may not go inside the customers'
folder.`,
		Example: `  labsite publish
  labsite publish --from lab/pages --to /srv/lab
  labsite publish --audience staff --to /srv/lab-staff`,
		Args: noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			a := page.Audience(audience)
			if a != page.Customers && a != page.Staff {
				return fmt.Errorf("--audience is customers or staff, not %q", audience)
			}
			if to == "" {
				to = defaultSite(a, from, cmd.Flags().Changed("from"))
			}
			return untilStill(func(last bool) error { return s.publish(cmd.Context(), from, to, a, on, fresh, last) })
		},
	}
	pagesFlag(c, &from)
	freshFlag(c, &fresh)
	onFlag(c, &on)
	dirFlag(c, &to, "to", "", "write it to DIR; if left out, public, or public-staff")
	audienceFlag(c, &audience, "customers", "write the site of WHO, customers or staff")
	return c
}

// defaultSite is where a site goes if --to is left out: into the current folder if somebody named
// the content folder, else beside the content folder that was found, never into it.
func defaultSite(a page.Audience, from string, named bool) string {
	name := "public"
	if a == page.Staff {
		name = "public-staff"
	}
	if named {
		return name
	}
	return filepath.Join(from, "..", name)
}

// publish works out the pages of a folder and writes an audience's site into another. It returns
// errMoved if the folder changed meanwhile, except at the last try.
func (s *screen) publish(ctx context.Context, from, to string, a page.Audience, on string, fresh, last bool) error {
	begun := time.Now()
	giveRoom()
	if err := keepSitesApart(a, to); err != nil {
		return err
	}
	bar := s.bar("working out pages")
	st, list, err := s.open(ctx, from, on, !fresh, bar.at)
	if err != nil {
		return err
	}
	if st == nil {
		return s.refused(list, to)
	}
	staging, err := publish.Begin(ctx, to, publish.Options{Content: from})
	if err != nil {
		return s.notWritten(err, nil)
	}
	defer staging.Abandon()
	err = whileWanted(ctx, func() { list, err = st.Publish(ctx, a, staging) })
	bar.done()
	if stopped := ctx.Err(); stopped != nil {
		return stopped
	}
	if !last && moved(list) {
		st.Close()
		return errMoved
	}
	if list.Errors() > 0 {
		staging.Abandon()
		return s.refused(list, to)
	}
	if err == nil {
		err = staging.Put(audienceMark, []byte(a+"\n"))
	}
	var result publish.Result
	if err == nil {
		result, err = staging.Finish()
	}
	if err != nil {
		return s.notWritten(err, list)
	}
	s.published(st, list, result, a, to, time.Since(begun))
	return nil
}

// published prints what a publish wrote, after its reports.
func (s *screen) published(st *build.Site, list source.List, result publish.Result, a page.Audience, to string, lasted time.Duration) {
	pages, figures, checks := st.Count()
	all, drawn := cases(st)
	files := result.Written + result.Kept
	if s.json {
		s.object(map[string]any{"diagnostics": s.machine(list), "to": to, "audience": a, "pages": pages, "figures": figures,
			"checks": checks, "cases": all, "drawn": drawn, "refused": refusedCases(st), "files": files, "written": result.Written, "kept": result.Kept, "removed": result.Removed,
			"left": asList(result.Left), "returned": asList(result.Returned), "remembered": st.Remembered()})
		return
	}
	s.diagnostics(list)
	s.leftBehind(to, result)
	fmt.Fprintf(s.out, "%s %s with %s, %s in %s, %s refused: all hold.\n", paint(s.out, green, "Checked"), counted(pages, "page", "pages"),
		counted(figures, "figure", "figures"), counted(checks, "check", "checks"), casesText(st), strings.TrimSpace(counted(refusedCases(st), "", "")))
	fmt.Fprintf(s.out, "%s the %s site to %s: %s, %d new or changed, in %s.\n", paint(s.out, green, "Published"), whose(a), to,
		counted(files, "file", "files"), result.Written, lasted.Round(time.Millisecond))
	if n := len(list); n > 0 {
		fmt.Fprintf(s.out, "%s to look at, above.\n", counted(n, "report", "reports"))
	}
	fmt.Fprintf(s.out, "Open %s\n", filepath.Join(to, "index.html"))
}

// refused prints what is wrong, and that the old site stays.
func (s *screen) refused(list source.List, to string) error {
	if s.json {
		s.object(map[string]any{"diagnostics": s.machine(list)})
		return failed{wrong}
	}
	s.diagnostics(list)
	text := counted(list.Errors(), "error", "errors")
	if to != "" {
		text += "; nothing was published"
		if _, err := os.Stat(to); err == nil {
			text += ", and " + to + " is as it was"
		}
	}
	fmt.Fprintf(s.err, "%s.\n", paint(s.err, red, text))
	return failed{wrong}
}

// notWritten says why nothing was written.
func (s *screen) notWritten(err error, list source.List) error {
	if s.json {
		s.object(map[string]any{"diagnostics": s.machine(list), "error": err.Error()})
	} else {
		s.diagnostics(list)
		fmt.Fprintf(s.err, "labsite: %s\n", source.Visible(err.Error()))
	}
	var r *publish.Refusal
	if errors.As(err, &r) {
		return failed{wrongUse}
	}
	return failed{wrong}
}

// restore brings back a site that a killed publish left under a hidden name, in the folders that
// publish uses by default: the next publish may be days away.
func (s *screen) restore() {
	for _, dir := range []string{"public", "public-staff"} {
		if publish.Restore(dir) {
			fmt.Fprintf(s.err, "A publish was interrupted before its last step; %s is the earlier site again.\n", dir)
		}
	}
}

// audienceMark is a file in a published folder that says whose site it is.
const audienceMark = ".labsite-audience"

// mostMark is the most that is read of that file, in bytes.
const mostMark = 64

// keepSitesApart refuses to write one audience's site into the other's folder.
func keepSitesApart(a page.Audience, to string) error {
	full, err := filepath.Abs(to)
	if err != nil {
		return err
	}
	for dir := full; ; dir = filepath.Dir(dir) {
		mark, err := regular.ReadFile(filepath.Join(dir, audienceMark), mostMark)
		if err == nil {
			held := page.Audience(strings.TrimSpace(string(mark)))
			if held != a && (a == page.Staff || dir == full) {
				return fmt.Errorf("%s holds the %s site; choose another folder for the %s site with --to", dir, whose(held), whose(a))
			}
		}
		if a == page.Staff && filepath.Base(dir) == "public" && isDefaultPublic(dir) {
			return fmt.Errorf("public is the customers' folder; choose another one for the staff's site with --to")
		}
		if dir == filepath.Dir(dir) {
			return nil
		}
	}
}

// whose is an audience in the possessive: the customers' site.
func whose(a page.Audience) string {
	if a == page.Customers {
		return "customers'"
	}
	return "staff's"
}

// isDefaultPublic reports whether a folder is the one that publish uses by default here.
func isDefaultPublic(dir string) bool {
	here, err := filepath.Abs("public")
	return err == nil && here == dir
}
