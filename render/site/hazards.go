package site

import (
	"errors"
	"io/fs"
	"slices"

	"labsite/recipes/hazard"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/markdown"
)

// readHazards reads the lab's own substances and safety data sheets.
func (s *Site) readHazards() {
	s.hazardsBroken = false
	raw, err := fs.ReadFile(s.content, hazard.OwnFile)
	if errors.Is(err, fs.ErrNotExist) {
		return
	}
	if err != nil {
		s.report(source.CannotRead(systemError(err)).AtFile(hazard.OwnFile))
		s.hazardsBroken = true
		return
	}
	f, list := source.New(hazard.OwnFile, raw)
	if list.Errors() == 0 {
		own, more := hazard.ReadOwn(f)
		s.Hazards = own
		list = append(list, more...)
		list = append(list, own.Overdue(s.Today)...)
	}
	s.hazardsBroken = list.Errors() > 0
	s.List = append(s.List, list...)
}

// substances checks the names of a page's substances and looks for others in its text.
func (s *Site) substances(t *Topic) {
	var declared []string
	for _, x := range t.Sheet.AllSubstances() {
		declared = append(declared, x.Name)
	}
	for _, x := range t.Sheet.AllSubstances() {
		found, _ := s.Hazards.Find(x.Name)
		t.state.bare = t.state.bare || found == nil
	}
	for _, x := range t.Sheet.Substances {
		if found, near := s.Hazards.Find(x.Name); found == nil && !s.hazardsBroken {
			t.list = append(t.list, source.UnknownSubstance(x.Name, near).At(x.Span))
		}
	}
	// a page drawn on that cannot be read may declare what is named here
	blind := slices.ContainsFunc(t.Sheet.Uses, func(u *sheet.Use) bool { return u.Sheet == nil })
	s.tookSubstances(t, declared)
	said := map[string]bool{}
	lookout := hazard.NewLookout(declared, s.Hazards)
	look := func(texts []markdown.Text) {
		for _, text := range texts {
			if s.open != nil {
				t.state.words.hear(text.Text)
			}
			if blind {
				continue
			}
			for _, m := range lookout.NamedInText(text.Text) {
				if !said[m.Name] {
					said[m.Name] = true
					t.list = append(t.list, source.SubstanceUndeclared(text.Text[m.Start:m.End], m.Name).At(text.At(m.Start, m.End)))
				}
			}
		}
	}
	look(t.values.plain)
	t.values.plain = nil // nobody else wants them
	for _, x := range t.values.handling() {
		if x.document != nil {
			look(x.document.Texts())
		}
	}
}

// uses are the substances of a page and of those it draws on.
func uses(sh *sheet.Sheet) []hazard.Use {
	var out []hazard.Use
	for _, x := range sh.AllSubstances() {
		out = append(out, hazard.Use{Name: x.Name, Strength: x.Strength})
	}
	return out
}
