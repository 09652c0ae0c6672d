package content

import (
	"net/url"
	"path"
	"path/filepath"
	"strings"
)

// Elsewhere reports whether a destination has a scheme or a host.
func Elsewhere(destination string) bool {
	u, err := url.Parse(destination)
	return err == nil && (u.Scheme != "" || u.Host != "")
}

// Relative is the relative path from one file of the content to another; "" if there is no other.
func Relative(from, to string) string {
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

// SiteHref turns a destination in the content into one on the site, where pages end in html.
func SiteHref(destination string) string {
	if Elsewhere(destination) || strings.HasPrefix(destination, "#") {
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

// URLPath escapes a path for an address.
func URLPath(p string) string { return (&url.URL{Path: p}).EscapedPath() }

// Up is the way from a folder to the site's top: "", "../", "../../" …
func Up(folder string) string {
	if folder == "" || folder == "." {
		return ""
	}
	return strings.Repeat("../", strings.Count(folder, "/")+1)
}

// Within reports whether a path is a folder or something in it.
func Within(p, folder string) bool {
	return folder == "." || p == folder || strings.HasPrefix(p, folder+"/")
}

// mostLinks is how many symbolic links in a row are followed; systems follow about as many.
const mostLinks = 40

// realPath follows all symbolic links in a path of the folder. A path that leads nowhere, or out of the
// folder, is returned as far as it was followed.
func (c *Content) realPath(p string) string {
	rest, done := strings.Split(p, "/"), "."
	for links := 0; len(rest) > 0; {
		next := path.Join(done, rest[0])
		rest = rest[1:]
		to, err := c.root.Readlink(next)
		if err != nil { // no link
			done = next
			continue
		}
		if links++; links > mostLinks || path.IsAbs(to) {
			return next
		}
		rest = append(strings.Split(filepath.ToSlash(to), "/"), rest...)
	}
	return done
}
