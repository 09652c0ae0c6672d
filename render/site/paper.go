package site

import (
	"html/template"
	"path"
	"strconv"
	"strings"

	qr "github.com/piglig/go-qr"

	"labsite/recipes/hazard"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// cardAddress and labelAddress are where a page's papers stand, beside it.
func cardAddress(t *Topic) string {
	return strings.TrimSuffix(path.Base(t.Address()), ".html") + ".card.html"
}

func labelAddress(t *Topic) string {
	return strings.TrimSuffix(path.Base(t.Address()), ".html") + ".labels.html"
}

// hasCard tells whether a page has a bench card: every page with figures has.
func hasCard(t *Topic) bool { return t.Sheet != nil && len(t.Sheet.Figures) > 0 && t.Proof != nil }

// hasLabels tells whether labels are made from a page: it names a substance or a mixture of
// the lab's own, and has figures.
func hasLabels(t *Topic) bool { return hasCard(t) && len(t.Sheet.Substances) > 0 }

// papers lists what can be printed beside the page.
func papers(t *Topic) []Link {
	var out []Link
	if hasCard(t) {
		out = append(out, Link{"Bench card", urlPath(cardAddress(t))}) // its sizes are chosen there
	}
	if hasLabels(t) {
		out = append(out, Link{"Labels", urlPath(labelAddress(t))})
	}
	return out
}

// card makes a page's bench card at its own values.
func (r *renderer) card(t *Topic) ([]byte, source.List) {
	p := r.pager(t)
	v := &Card{Page: Link{t.Title(), urlPath(path.Base(t.Address()))}, Made: date(r.site.Today), Staff: t.Staff()}
	r.shell(t.Folder.Path, &v.Shell)
	v.Styles = []string{up(t.Folder.Path) + "card.css"}
	p.handled(&v.Shell)
	v.Title, v.Canonical = t.Title(), r.canonical(t.Address())
	if c := t.Sheet.Control; c != nil {
		v.Number, v.Revision = c.Number, revision(c)
		if c.Status == sheet.Draft {
			v.Status = string(c.Status)
		}
	}
	if v.Canonical != "" {
		v.Short = strings.TrimPrefix(strings.TrimPrefix(v.Canonical, "https://"), "http://")
		v.Code = qrCode(v.Canonical)
	}
	v.Notice = p.notice()
	v.Hazards = p.hazardView()
	for i, c := range t.Sheet.Cautions {
		v.Cautions = append(v.Cautions, Caution{Word: c.Word, Text: p.fill.html(p.b.cautions[i], markdown.RenderOptions{})})
	}
	for _, c := range t.Sheet.AllCautions() {
		v.Cautions = append(v.Cautions, p.usedCaution(c))
	}
	sortByWord(v.Cautions)
	v.Given, v.Figures = p.givenView(), p.figuresView()
	if len(t.Sheet.Steps) > 0 {
		steps := p.stepsView()
		v.Steps = &steps
	}
	b, list := r.site.templates.Card(v)
	return b, append(p.list, list...)
}

// labels makes a sheet of labels for containers of what a page mixes. GHS elements come
// only from the lab's own entry for that mixture; nothing is worked out for one.
func (r *renderer) labels(t *Topic) ([]byte, source.List) {
	p := r.pager(t)
	v := &Labels{Page: Link{t.Title(), urlPath(path.Base(t.Address()))}, Made: date(r.site.Today)}
	r.shell(t.Folder.Path, &v.Shell)
	v.Styles = []string{up(t.Folder.Path) + "labels.css"}
	v.Title, v.Canonical = t.Title(), r.canonical(t.Address())
	number, rev := "", ""
	if c := t.Sheet.Control; c != nil {
		number, rev = c.Number, revision(c)
	}
	for _, x := range t.Sheet.Substances {
		label := Label{Lab: r.site.Settings.Name, Name: x.Name, Number: number, Revision: rev}
		if x.StrengthText != "" {
			label.Strength = quantityHTML(x.StrengthText, "")
		}
		if found, _ := r.site.Hazards.Find(x.Name); found != nil {
			label.Name = found.Name
			if found.Sheet != nil {
				block := hazard.BlockFor([]hazard.Use{{Name: x.Name, Strength: x.Strength}}, r.site.Hazards)
				view := hazardsOf(block, p.notice())
				label.Hazards = &view
			}
		}
		for range max(1, 8/len(t.Sheet.Substances)) {
			v.Items = append(v.Items, label)
		}
	}
	b, list := r.site.templates.Labels(v)
	return b, append(p.list, list...)
}

// qrCode draws an address as a QR code (ISO/IEC 18004), medium correction, with its quiet
// zone of four modules.
func qrCode(address string) template.HTML {
	code, err := qr.EncodeText(address, qr.Medium)
	if err != nil {
		return ""
	}
	const quiet = 4
	size := code.Size() + 2*quiet
	var b strings.Builder
	n := strconv.Itoa(size)
	b.WriteString(`<svg class="code" role="img" aria-label="QR code of the page's address" viewBox="0 0 ` + n + ` ` + n + `" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h` + n + `v` + n + `H0z"/><path fill="#000" d="`)
	for y := range code.Size() {
		for x := range code.Size() {
			if code.Module(x, y) {
				b.WriteString("M" + strconv.Itoa(x+quiet) + " " + strconv.Itoa(y+quiet) + "h1v1h-1z")
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return template.HTML(b.String())
}
