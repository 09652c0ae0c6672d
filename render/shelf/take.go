package shelf

import (
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// Taken is what a lab takes off the shelf.
type Taken struct {
	// Files are the pages, data files and pages of sections, by path in the content folder.
	Files map[string][]byte
	// Pages counts the pages, except those of sections; Marks counts the values, ranges, files and
	// expected values that are marked as not yet measured.
	Pages, Marks int
}

// Take copies the pages for a lab that works in the named trades, with the pages that they draw on,
// their data files and the pages of their sections. Each is a draft, as the package's comment says.
// lab replaces the demo lab's name. The list says what is wrong with the shelf itself.
func Take(from fs.FS, does []string, lab string) (*Taken, source.List, error) {
	pages, list, err := read(from)
	if err != nil || list.Errors() > 0 {
		return nil, list, err
	}
	taken := map[string]bool{}
	for _, p := range slices.Sorted(maps.Keys(pages)) {
		if o := pages[p]; !o.section() && o.text("control", "status") != string(page.Withdrawn) && belongs(o.topics(), does) {
			follow(pages, p, taken)
		}
	}
	out := &Taken{Files: map[string][]byte{}, Pages: len(taken)}
	for p := range maps.Clone(taken) {
		for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
			if section := dir + "/index.md"; pages[section] != nil {
				taken[section] = true
			}
		}
	}
	names := strings.NewReplacer("Brindle Weir Film Lab", lab, "Brindle Weir staining", "Staining", "Brindle Weir", lab)
	for p := range taken {
		o := pages[p]
		text, marks := o.draft()
		out.Marks += marks
		text = o.linked(text+o.file.Text[o.body:], pages, taken)
		if o.section() {
			text = invented.ReplaceAllString(text, "")
		}
		out.Files[p] = []byte(names.Replace(text))
		if err := o.copyData(from, out.Files); err != nil {
			return nil, list, err
		}
	}
	return out, list, nil
}

// section reports whether the page is that of a section.
func (o *original) section() bool { return path.Base(o.path) == "index.md" }

// follow takes a page and those that it draws on.
func follow(pages map[string]*original, p string, taken map[string]bool) {
	o := pages[p]
	if o == nil || taken[p] {
		return
	}
	taken[p] = true
	for _, name := range o.files("draws_on", "page") {
		follow(pages, o.fromTop(name), taken)
	}
}

// copyData copies a page's data files, each from where the page finds it: beside it, or in the
// folders above. The records that a page keeps are left out, since they are of another lab's work.
func (o *original) copyData(from fs.FS, files map[string][]byte) error {
	for _, name := range o.files("data", "file") {
		if name == o.text("keeps") {
			continue
		}
		for dir := path.Dir(o.path); ; dir = path.Dir(dir) {
			at := path.Join(dir, name)
			raw, err := fs.ReadFile(from, at)
			if err == nil {
				files[at] = raw
				break
			}
			if dir == "." {
				return err
			}
		}
	}
	return nil
}

// invented matches the lines in which the page of a section says that the demo is invented, which
// is not true of another lab.
var invented = regexp.MustCompile(`(?m)^\n?>[^\n]* invented[^\n]*\n`)

// link is a link in Markdown, whose text may run over two lines.
var link = regexp.MustCompile(`\[([^\[\]]*)\]\(([^()\s]+)\)`)

// linked replaces a link to a page that was not taken by its text. A page without document control
// is published at once and must not link to drafts, so it keeps no link to a page with document
// control.
func (o *original) linked(text string, pages map[string]*original, taken map[string]bool) string {
	return link.ReplaceAllStringFunc(text, func(whole string) string {
		m := link.FindStringSubmatch(whole)
		target, _, _ := strings.Cut(m[2], "#")
		if path.Ext(target) != ".md" || strings.Contains(target, ":") {
			return whole
		}
		to := o.fromTop(target)
		if other := pages[to]; other != nil && taken[to] && (o.front.Get("control") != nil || other.front.Get("control") == nil) {
			return whole
		}
		return m[1]
	})
}
