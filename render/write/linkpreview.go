package write

import (
	"html/template"
	"path"
	"strings"

	"labsite/render/content"
	"labsite/render/theme"
	"labsite/render/work"
)

// linkPreview says in a page's head what a link to it should show elsewhere, in the terms of the
// Open Graph protocol (ogp.me). It does so only on a site that says where it is published, since the
// protocol takes only full addresses. p is nil for a page that no Markdown page stands behind. The
// rest of the shell must already be filled.
func (w *Writer) linkPreview(v *theme.Shell, p *work.Page) {
	if v.Canonical == "" {
		return
	}
	kind := "article"
	if v.Canonical == w.Canonical("index.html") {
		kind = "website"
	}
	var b strings.Builder
	add := func(property, content string) {
		if content != "" {
			b.WriteString(`<meta property="og:` + property + `" content="` + template.HTMLEscapeString(content) + "\">\n")
		}
	}
	add("type", kind)
	add("title", v.Title)
	add("site_name", v.SiteName)
	add("url", v.Canonical)
	add("description", v.Description)
	if address, alt := w.firstPicture(p); address != "" {
		add("image", address)
		add("image:alt", alt)
	}
	v.Head = inHead(v.Head, template.HTML(strings.TrimSuffix(b.String(), "\n")))
}

// firstPicture is the full address of the first picture on a page that other sites can show, which
// leaves out drawings (SVG).
func (w *Writer) firstPicture(page *work.Page) (address, alt string) {
	if page == nil || page.Body == nil || !page.ShownTo(w.Audience) {
		return "", ""
	}
	for _, p := range page.Body.Pictures() {
		// the destination may already be the one on the site; for a picture that is the same as the
		// one written
		full, _, ok := page.Find(p.Destination)
		if !ok || content.Elsewhere(p.Destination) || !w.Content.HasFile(full) {
			continue
		}
		switch strings.ToLower(path.Ext(full)) {
		case ".jpg", ".jpeg", ".png", ".gif", ".webp":
			return w.Canonical(full), p.Alt()
		}
	}
	return "", ""
}

// inHead joins elements of the head.
func inHead(a, b template.HTML) template.HTML {
	if a == "" || b == "" {
		return a + b
	}
	return a + "\n" + b
}
