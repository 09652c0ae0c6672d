package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/publish"
)

func publishCommand(s *screen) *cobra.Command {
	var from, to, audience string
	c := &cobra.Command{
		Use:   "publish",
		Short: "Work out all pages, check every number and write the site",
		Long: `Publish reads the pages of a content folder, works out and tests every number, and
writes the site of one audience into a folder. The new site is built beside the old
one and takes its place in one step: with an error anywhere, the old site stays as
it is. Nothing is ever deleted that this command did not write.

The customers' site goes to public/ by default. The staff's site holds everything,
and goes to public-staff/ by default; it is refused inside the customers' folder.`,
		Example: `  labsite publish
  labsite publish --from lab/pages --to /srv/lab
  labsite publish --audience staff --to /srv/lab-staff`,
		Args: noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			begun := time.Now()
			giveRoom()
			a := sheet.Audience(audience)
			if a != sheet.Customers && a != sheet.Staff {
				return fmt.Errorf("--audience is customers or staff, not %q", audience)
			}
			if to == "" {
				to = "public"
				if a == sheet.Staff {
					to = "public-staff"
				}
			}
			if err := apart(a, to); err != nil {
				return err
			}
			st, list, err := s.load(cmd.Context(), from)
			if err != nil {
				return err
			}
			var files map[string][]byte
			if list.Errors() == 0 {
				var more = list
				agreed := st.Agree(cmd.Context(), a) // before the files take up memory
				files, more = st.Render(cmd.Context(), a)
				list = append(append(list, more...), agreed...).Sorted()
			}
			if list.Errors() > 0 {
				return s.refused(list, to)
			}
			st.Keep(a, files)
			bar := s.bar("writing files")
			result, err := publish.Write(cmd.Context(), to, withMark(files, a), publish.Options{Content: from, Progress: bar.at})
			bar.done()
			if err != nil {
				if s.json {
					s.object(map[string]any{"diagnostics": s.machine(list), "error": err.Error()})
				} else {
					s.diagnostics(list)
					fmt.Fprintf(s.err, "labsite: %s\n", err)
				}
				var r *publish.Refusal
				if errors.As(err, &r) {
					return failed{wrongUse}
				}
				return failed{wrong}
			}
			pages, figures, checks := st.Count()
			all, drawn := cases(st)
			if s.json {
				s.object(map[string]any{"diagnostics": s.machine(list), "to": to, "audience": audience, "pages": pages, "figures": figures,
					"checks": checks, "cases": all, "drawn": drawn, "refused": refusedCases(st), "files": len(files), "written": result.Written, "kept": result.Kept, "removed": result.Removed})
				return nil
			}
			s.diagnostics(list)
			fmt.Fprintf(s.out, "%s %s with %s, %s in %s, %s refused: all hold.\n", paint(s.out, green, "Checked"), counted(pages, "page", "pages"),
				counted(figures, "figure", "figures"), counted(checks, "check", "checks"), casesText(st), strings.TrimSpace(counted(refusedCases(st), "", "")))
			fmt.Fprintf(s.out, "%s the %s site to %s: %s, %d new or changed, in %s.\n", paint(s.out, green, "Published"), whose(a), to,
				counted(len(files), "file", "files"), result.Written, time.Since(begun).Round(time.Millisecond))
			if n := len(list); n > 0 {
				fmt.Fprintf(s.out, "%s to look at, above.\n", counted(n, "report", "reports"))
			}
			fmt.Fprintf(s.out, "Open %s\n", filepath.Join(to, "index.html"))
			return nil
		},
	}
	c.Flags().StringVar(&from, "from", "content", "folder of pages")
	c.Flags().StringVar(&to, "to", "", "folder to publish to (public, or public-staff for staff)")
	c.Flags().StringVar(&audience, "audience", "customers", "customers or staff")
	c.RegisterFlagCompletionFunc("audience", cobra.FixedCompletions([]string{"customers", "staff"}, cobra.ShellCompDirectiveNoFileComp))
	c.MarkFlagDirname("from")
	c.MarkFlagDirname("to")
	return c
}

// refused prints what is wrong, and that the old site stands.
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

// audienceMark is a file in a published folder that says whose site it is.
const audienceMark = ".labsite-audience"

func withMark(files map[string][]byte, a sheet.Audience) publish.Files {
	files[audienceMark] = []byte(a + "\n")
	return files
}

// apart keeps the two audiences' sites out of each other's folders.
func apart(a sheet.Audience, to string) error {
	full, err := filepath.Abs(to)
	if err != nil {
		return err
	}
	for dir := full; ; dir = filepath.Dir(dir) {
		mark, err := os.ReadFile(filepath.Join(dir, audienceMark))
		if err == nil {
			held := sheet.Audience(strings.TrimSpace(string(mark)))
			if held != a && (a == sheet.Staff || dir == full) {
				return fmt.Errorf("%s holds the %s site; choose another folder for the %s site with --to", dir, whose(held), whose(a))
			}
		}
		if a == sheet.Staff && filepath.Base(dir) == "public" && isDefaultPublic(dir) {
			return fmt.Errorf("public is the customers' folder; choose another one for the staff's site with --to")
		}
		if dir == filepath.Dir(dir) {
			return nil
		}
	}
}

// whose is an audience as the owner of a site.
func whose(a sheet.Audience) string {
	if a == sheet.Customers {
		return "customers'"
	}
	return "staff's"
}

// isDefaultPublic tells whether a folder is the one that publish uses by default here.
func isDefaultPublic(dir string) bool {
	here, err := filepath.Abs("public")
	return err == nil && here == dir
}
