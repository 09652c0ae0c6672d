package site

import (
	"net/url"
	"path"
	"strings"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// links checks where the links and pictures of a text lead.
func (s *Site) links(t *Topic, doc *markdown.Document) {
	report := func(p source.Problem, at source.Span) { t.list = append(t.list, p.At(at)) }
	for _, l := range doc.Links() {
		s.checkLink(t, l, report)
	}
	for _, p := range doc.Pictures() {
		s.checkPicture(t, p, report)
	}
}

// elsewhere tells whether a destination has a scheme or a host of its own.
func elsewhere(destination string) bool {
	u, err := url.Parse(destination)
	return err == nil && (u.Scheme != "" || u.Host != "")
}

// target turns a destination into a path in the content folder and an anchor; ok is
// false, after a report, where it leads out.
func (t *Topic) target(destination string, at source.Span, report func(source.Problem, source.Span)) (file, anchor string, ok bool) {
	file, anchor, _ = strings.Cut(destination, "#")
	if clean, err := url.PathUnescape(file); err == nil {
		file = clean
	}
	if strings.HasPrefix(file, "/") {
		report(source.LinkAbsolute(file), at)
		return "", "", false
	}
	if file == "" {
		return t.Path, anchor, true
	}
	full := path.Join(path.Dir(t.Path), file)
	if full == ".." || strings.HasPrefix(full, "../") {
		report(source.PathOutside(file), at)
		return "", "", false
	}
	return full, anchor, true
}

func (s *Site) checkLink(t *Topic, l *markdown.Link, report func(source.Problem, source.Span)) {
	if elsewhere(l.Destination) {
		return
	}
	full, anchor, ok := t.target(l.Destination, l.Span, report)
	if !ok {
		return
	}
	s.took(t, full, takesPlace)
	if to, ok := s.byPath[full]; ok {
		if anchor != "" {
			s.readFull(to)
		}
		switch {
		case !t.Staff() && to.saidStaff():
			report(source.LinkToStaff(full), l.Span)
		case t.Status() == sheet.Approved && to.unpublished():
			report(source.LinkToUnpublished(full, string(to.Status())), l.Span)
		case anchor != "" && to.Body != nil:
			var ids []string
			for _, h := range to.Body.Headings() {
				if h.ID == anchor {
					return
				}
				ids = append(ids, h.ID)
			}
			if unescaped, err := url.PathUnescape(anchor); err == nil {
				for _, id := range ids {
					if id == unescaped {
						return
					}
				}
			}
			report(source.AnchorNowhere(anchor, full, source.Nearest(anchor, ids)), l.Span)
		}
		return
	}
	if !s.checkFile(t, full, l.Span, report) {
		return
	}
	if isData(full) {
		report(source.DataLinked(full), l.Span)
		return
	}
	s.place(full, use{t, l.Span, false})
}

// isData tells files that are never published whole.
func isData(p string) bool {
	switch strings.ToLower(path.Ext(p)) {
	case ".csv", ".yaml", ".yml":
		return true
	}
	return false
}

// checkFile reports a file that is not there or that only staff may have.
func (s *Site) checkFile(t *Topic, full string, at source.Span, report func(source.Problem, source.Span)) bool {
	if !s.files[full] {
		t.state.searched = true
		var all []string
		for p := range s.byPath {
			all = append(all, p)
		}
		for p := range s.files {
			all = append(all, p)
		}
		near := source.Nearest(full, all)
		if near == "" {
			for _, p := range all {
				if path.Base(p) == path.Base(full) && (near == "" || p < near) {
					near = p
				}
			}
		}
		report(source.LinkNowhere(full, relative(t.Path, near)), at)
		return false
	}
	if !t.Staff() && s.staffFile(full) {
		report(source.LinkToStaff(full), at)
		return false
	}
	return true
}

// staffFile tells whether a file lies in a folder that is the staff's.
func (s *Site) staffFile(full string) bool {
	dir := path.Dir(full)
	staff := false
	var look func(f *Folder)
	look = func(f *Folder) {
		if f.Path == "" || dir == f.Path || strings.HasPrefix(dir, f.Path+"/") {
			staff = staff || f.Staff
			for _, sub := range f.Folders {
				look(sub)
			}
		}
	}
	look(s.Top)
	return staff
}

// relative is the way from one file of the content to another, "" for none.
func relative(from, to string) string {
	if to == "" {
		return ""
	}
	a, b := strings.Split(path.Dir(from), "/"), strings.Split(to, "/")
	if a[0] == "." {
		a = nil
	}
	for len(a) > 0 && len(b) > 1 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	return strings.Repeat("../", len(a)) + strings.Join(b, "/")
}

// siteHref turns a destination of the content into one of the site: pages end in html.
func (t *Topic) siteHref(destination string) string {
	if elsewhere(destination) || strings.HasPrefix(destination, "#") {
		return destination
	}
	file, anchor, has := strings.Cut(destination, "#")
	if strings.HasSuffix(file, ".md") {
		file = strings.TrimSuffix(file, ".md") + ".html"
	}
	if has {
		return file + "#" + anchor
	}
	return file
}

// urlPath writes a path for an address.
func urlPath(p string) string { return (&url.URL{Path: p}).EscapedPath() }
