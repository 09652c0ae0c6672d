package work

import (
	"slices"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// substances checks the names of a page's substances and looks for others in its text.
func (d *Desk) substances(p *Page) {
	own := d.Content.Substances
	var declared []string
	for _, x := range p.Sheet.AllSubstances() {
		declared = append(declared, x.Name)
		d.ask(p, Declared, x.Name)
		found, _ := own.Find(x.Name)
		p.unlistedSubstance = p.unlistedSubstance || found == nil
	}
	for _, m := range p.Sheet.Makes {
		d.ask(p, Declared, ProductName(m)) // its label shows what the lab's own safety data sheet says
	}
	for _, x := range p.Sheet.Substances {
		if found, near := own.Find(x.Name); found == nil && !d.Content.SubstancesBroken {
			p.report(source.UnknownSubstance(x.Name, near).At(x.Span))
		}
	}
	texts := p.Texts.plain
	p.Texts.plain = nil // they are not needed any more
	for _, x := range p.Texts.handling() {
		if x.Document != nil {
			texts = append(texts, x.Document.Texts()...)
		}
	}
	for _, text := range texts {
		p.words.add(text.Text)
	}
	if blind := slices.ContainsFunc(p.Sheet.Uses, func(u *page.Use) bool { return u.Sheet == nil }); blind {
		return // a page drawn on that cannot be read may declare what is named here
	}
	p.undeclared(texts, hazard.NewLookout(declared, own))
}

// undeclared reports each substance that the texts name and the page does not declare, once.
func (p *Page) undeclared(texts []markdown.Text, lookout *hazard.Lookout) {
	said := map[string]bool{}
	for _, text := range texts {
		for _, m := range lookout.NamedInText(text.Text) {
			if !said[m.Name] {
				said[m.Name] = true
				p.report(source.SubstanceUndeclared(text.Text[m.Start:m.End], m.Name).At(text.At(m.Start, m.End)))
			}
		}
	}
}
