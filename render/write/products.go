package write

import (
	"html/template"
	"path"
	"strconv"
	"strings"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/content"
	"labsite/render/theme"
	"labsite/render/work"
)

// productAddress is where the labels of what a page makes stand, beside the page.
func productAddress(p *work.Page) string {
	return strings.TrimSuffix(path.Base(p.Address()), ".html") + ".products.html"
}

// hasProducts reports whether a page makes something whose container can be labelled.
func hasProducts(p *work.Page) bool {
	return p.Sheet != nil && len(p.Sheet.Makes) > 0 && p.Proof != nil
}

// products makes a sheet of labels for what a page makes: four for a product, or fewer of each if
// there are several. A mixture is never classified: its GHS elements are those of the lab's own
// entry for it, and without one the label gives the hazards of its parts, as such.
func (w *Writer) products(full *work.Page) ([]byte, source.List) {
	p := w.pager(full)
	v := &theme.Products{Page: theme.Link{Title: full.Title(), Href: content.URLPath(path.Base(full.Address()))}}
	w.shell(full.Folder.Path, &v.Shell)
	v.Styles = []string{content.Up(full.Folder.Path) + "labels.css"}
	v.Title, v.Canonical = full.Title(), w.Canonical(full.Address())
	p.labelScripts(&v.Shell)
	code := p.paperCode(&v.Shell)
	for _, m := range full.Sheet.Makes {
		label := p.productLabel(m)
		label.Code = code
		for range max(1, 4/len(full.Sheet.Makes)) {
			v.Items = append(v.Items, label)
		}
	}
	b, list := w.Theme.Products(v)
	return b, append(p.list, list...)
}

func (p *pager) productLabel(m *page.Product) theme.ProductLabel {
	run := p.page.Proof.Own
	label := theme.ProductLabel{Lab: p.Content.Settings.Name, Name: work.ProductName(m), Store: strings.TrimSpace(m.Store.Text),
		Refused: run.Refused(), Amount: p.productValue(m.Amount), Opened: p.productValue(m.Opened)}
	if c := p.page.Sheet.Control; c != nil {
		label.Number, label.Revision = c.Number, Revision(c)
	}
	switch lasts := m.Lasts; {
	case lasts == nil || lasts.Node == nil:
	case lasts.Node.Kind != quantity.Date:
		label.Lasts = p.productValue(lasts)
	case !p.page.Sheet.DependsOnToday(lasts.Node): // a sheet is not printed on the day on which it is built
		label.UseBy = p.productValue(lasts)
	}
	if found, _ := p.Content.Substances.Find(label.Name); found != nil && found.Sheet != nil {
		view := hazardsOf(hazard.BlockFor([]hazard.Use{{Name: label.Name}}, p.Content.Substances), p.notice(), p.sees("reviewer"))
		label.Hazards = &view
		return label
	}
	for _, s := range m.Contains {
		label.Parts = append(label.Parts, p.productPart(s))
	}
	return label
}

// productValue is a value for a label; empty if there is none, which leaves a line to write on. The
// page's script updates it when a reader changes what it depends on.
func (p *pager) productValue(v *page.ProductValue) template.HTML {
	if v == nil || p.page.Sheet.DependsOnToday(v.Node) {
		return ""
	}
	shown, ok := p.page.Proof.Own.Product(v)
	attributes, n := "", p.page.Script.Product(v)
	switch {
	case n > 0:
		attributes = ` data-placed="` + strconv.Itoa(n-1) + `"`
	case !ok || shown.Missing:
		return ""
	}
	if !ok {
		return template.HTML(`<span class="q q-none"` + attributes + `>no number</span>`)
	}
	return shownHTML(shown, attributes)
}

// productPart is a substance with its own hazards.
func (p *pager) productPart(s page.Substance) theme.ProductPart {
	part := theme.ProductPart{Name: s.Name}
	for _, it := range hazard.BlockFor([]hazard.Use{{Name: s.Name, Strength: s.Strength}}, p.Content.Substances).Items {
		part.Name, part.Word = it.Name, it.SignalWord // the name has its strength
		var says []string
		for _, h := range it.Hazards {
			says = append(says, h.Text)
		}
		part.Says = strings.Join(says, " ")
	}
	return part
}
