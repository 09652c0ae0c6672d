package write

import (
	"html/template"
	"path"
	"strconv"
	"strings"

	qr "github.com/piglig/go-qr"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/markdown"
	"labsite/render/theme"
	"labsite/render/work"
)

// CardAddress and labelAddress are where a page's papers stand, beside it.
func CardAddress(p *content.Page) string {
	return strings.TrimSuffix(path.Base(p.Address()), ".html") + ".card.html"
}

func labelAddress(p *work.Page) string {
	return strings.TrimSuffix(path.Base(p.Address()), ".html") + ".labels.html"
}

// hasCard reports whether a page has a bench card: every page with figures has one.
func hasCard(p *work.Page) bool { return p.Sheet != nil && len(p.Sheet.Figures) > 0 && p.Proof != nil }

// hasLabels reports whether a page has labels: it must have figures and name substances, which may be
// the lab's own mixtures.
func hasLabels(p *work.Page) bool { return hasCard(p) && len(p.Sheet.Substances) > 0 }

// papers lists what can be printed beside the page.
func papers(p *work.Page) []theme.Link {
	var out []theme.Link
	if hasCard(p) {
		out = append(out, theme.Link{Title: "Bench card", Href: content.URLPath(CardAddress(p.Page))}) // its sizes are chosen there
	}
	if hasProducts(p) {
		out = append(out, theme.Link{Title: "Labels of what it makes", Href: content.URLPath(productAddress(p))})
	}
	if hasLabels(p) {
		out = append(out, theme.Link{Title: "Labels", Href: content.URLPath(labelAddress(p))})
	}
	return out
}

// card makes a page's bench card at its own values.
func (w *Writer) card(full *work.Page) ([]byte, source.List) {
	p := w.pager(full)
	v := &theme.Card{Page: theme.Link{Title: full.Title(), Href: content.URLPath(path.Base(full.Address()))}, Staff: full.Staff()}
	w.shell(full.Folder.Path, &v.Shell)
	v.Styles = []string{content.Up(full.Folder.Path) + "card.css"}
	p.linkScripts(&v.Shell)
	if !v.StaffSite {
		v.Scripts = append(v.Scripts, content.Up(full.Folder.Path)+theme.TodayFile)
	}
	v.Title, v.Canonical = full.Title(), w.Canonical(full.Address())
	if c := full.Sheet.Control; c != nil {
		v.Number, v.Revision = c.Number, Revision(c)
		if c.Status == page.Draft {
			v.Status = string(c.Status)
		}
	}
	if v.Canonical != "" {
		v.Short = strings.TrimPrefix(strings.TrimPrefix(v.Canonical, "https://"), "http://")
		v.Code = p.paperCode(&v.Shell)
	}
	v.Notice = p.notice()
	v.Hazards = p.hazardView()
	for i, c := range full.Sheet.Cautions {
		v.Cautions = append(v.Cautions, theme.Caution{Name: c.Name, Word: c.Word, Text: p.filler.html(p.texts.Cautions[i], markdown.RenderOptions{})})
	}
	for _, c := range full.Sheet.AllCautions() {
		v.Cautions = append(v.Cautions, p.usedCaution(c))
	}
	v.Cautions = inOrder(v.Cautions)
	v.Given, v.Figures = p.givenView(), p.figuresView()
	if len(full.Sheet.Steps) > 0 {
		steps := p.stepsView()
		v.Steps = &steps
	}
	b, list := w.Theme.Card(v)
	return b, append(p.list, list...)
}

// paperCode makes the code of what is printed from a page, and links to the script that updates it
// when a reader sets something; nil if the page has no address.
func (p *pager) paperCode(v *theme.Shell) *theme.PaperCode {
	address := p.Canonical(p.page.Address())
	if address == "" {
		return nil
	}
	anchor := paperAnchor(p.page.Sheet.Control)
	c := &theme.PaperCode{Tested: qrCode(address + anchor), Follows: p.page.Script != nil, Address: address, Paper: strings.TrimPrefix(anchor, "#paper=")}
	if c.Follows {
		v.Scripts = append(v.Scripts, content.Up(p.page.Folder.Path)+theme.CodeFile)
	}
	return c
}

// labelScripts links to the scripts that update a sheet of labels when a reader sets something.
func (p *pager) labelScripts(v *theme.Shell) {
	if p.page.Script == nil {
		return
	}
	p.linkScripts(v)
	v.Scripts = append(v.Scripts, content.Up(p.page.Folder.Path)+theme.LabelsFile)
}

// labels makes a sheet of labels for containers of the substances that a page names. The GHS elements
// of a mixture come only from the lab's own entry for it: none are worked out. A strength belongs to
// the name of what is handled, as in the hazards, so it stays whatever is set.
func (w *Writer) labels(full *work.Page) ([]byte, source.List) {
	p := w.pager(full)
	v := &theme.Labels{Page: theme.Link{Title: full.Title(), Href: content.URLPath(path.Base(full.Address()))}}
	w.shell(full.Folder.Path, &v.Shell)
	v.Styles = []string{content.Up(full.Folder.Path) + "labels.css"}
	v.Title, v.Canonical = full.Title(), w.Canonical(full.Address())
	number, rev := "", ""
	if c := full.Sheet.Control; c != nil {
		number, rev = c.Number, Revision(c)
	}
	p.labelScripts(&v.Shell)
	code := p.paperCode(&v.Shell)
	v.Refused = p.filler.run.Refused()
	for _, x := range full.Sheet.Substances {
		label := theme.Label{Lab: w.Content.Settings.Name, Name: x.Name, Number: number, Revision: rev, Code: code}
		if x.StrengthText != "" {
			label.Strength = quantityHTML(x.StrengthText, "")
		}
		if found, _ := w.Content.Substances.Find(x.Name); found != nil {
			label.Name = found.Name
			if found.Sheet != nil {
				block := hazard.BlockFor([]hazard.Use{{Name: x.Name, Strength: x.Strength}}, w.Content.Substances)
				view := hazardsOf(block, p.notice(), p.sees("reviewer"))
				label.Hazards = &view
			}
		}
		for range max(1, 8/len(full.Sheet.Substances)) {
			v.Items = append(v.Items, label)
		}
	}
	b, list := w.Theme.Labels(v)
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
