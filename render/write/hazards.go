package write

import (
	"html/template"
	"strings"

	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/render/theme"
)

// hazardsOf fills the view of what the hazard list says. notice is the site's standing notice;
// reviewers says that readers are told who reviewed an entry.
func hazardsOf(b hazard.Block, notice template.HTML, reviewers bool) theme.Hazards {
	v := theme.Hazards{
		Word: b.SignalWord, AcidIntoWater: b.AcidIntoWater, WasteApart: b.WasteApart,
		Unknown: b.Unknown, Bounds: b.Bounds, Notice: notice,
		Meet: clashViews(b.Meet), Order: clashViews(b.Order), KeepApart: clashViews(b.KeepApart),
	}
	for _, p := range b.Pictograms {
		v.Pictograms = append(v.Pictograms, theme.Pictogram{Code: p.Code, Name: p.Name, Drawing: template.HTML(theme.InPage.Replace(strings.TrimSpace(p.SVG()))), Of: listed(p.Substances)})
	}
	for _, h := range b.Hazards {
		v.Statements = append(v.Statements, theme.HazardStatement{Code: h.Code, Text: h.Text, Of: listed(h.Substances)})
	}
	for _, g := range b.Precautions {
		group := theme.PrecautionGroup{Name: g.Name, Title: g.Title}
		for _, p := range g.Items {
			group.Statements = append(group.Statements, theme.HazardStatement{Code: p.Code, Text: p.Text, Official: p.Official, Of: listed(p.Substances)})
		}
		v.Precautions = append(v.Precautions, group)
	}
	for _, s := range b.SheetWarnings {
		v.SheetSays = append(v.SheetSays, theme.SheetSays{Substance: s.Substance, From: listed(s.From)})
	}
	for _, w := range b.Waste {
		v.Waste = append(v.Waste, theme.WasteWay{Name: w.Kind.Name, Rule: w.Kind.Rule, Of: listed(w.Substances), FromMemory: w.FromMemory})
	}
	for _, it := range b.Items {
		s := theme.HazardSubstance{Name: it.Name, Word: it.SignalWord, Remarks: it.Remarks, Basis: it.Basis, Review: it.Review, Signed: it.Signed, Doubts: it.Doubts}
		if !reviewers {
			s.Review = it.Reviewed
		}
		var codes []string
		for _, h := range it.Hazards {
			codes = append(codes, h.Code)
		}
		s.Codes = strings.Join(codes, ", ")
		for _, src := range it.Sources {
			text := src.Title
			if src.Section != "" {
				text += ", " + src.Section
			}
			s.Sources = append(s.Sources, text)
		}
		v.Substances = append(v.Substances, s)
	}
	v.Wear = wear(b.Items)
	return v
}

// wear collects the short advice on all substances under headings. Substances with the same advice
// share a line, and advice that applies to all of them needs no names.
func wear(items []hazard.Item) []theme.Advice {
	var out []theme.Advice
	for _, kind := range []struct {
		what string
		of   func(hazard.Advice) string
	}{
		{"Gloves", func(a hazard.Advice) string { return a.Gloves }},
		{"Eyes", func(a hazard.Advice) string { return a.Eyes }},
		{"Air", func(a hazard.Advice) string { return a.Ventilation }},
		{"Dust", func(a hazard.Advice) string { return a.Dust }},
		{"Heat", func(a hazard.Advice) string { return a.Heat }},
		{"Allergy", func(a hazard.Advice) string { return saysYes(a.Sensitiser, "can cause one") }},
		{"Pregnancy", func(a hazard.Advice) string {
			return saysYes(a.Pregnancy, "a concern: read the safety data sheet first")
		}},
	} {
		var texts []string
		names := map[string][]string{}
		for _, it := range items {
			if text := kind.of(it.Advice); text != "" {
				if names[text] == nil {
					texts = append(texts, text)
				}
				names[text] = append(names[text], it.Name)
			}
		}
		if len(texts) == 0 {
			continue
		}
		a := theme.Advice{What: kind.what}
		for _, text := range texts {
			of := listed(names[text])
			if len(names[text]) == len(items) {
				of = ""
			}
			a.Says = append(a.Says, theme.Advise{Text: text, Of: of})
		}
		out = append(out, a)
	}
	return out
}

func saysYes(text, meaning string) string {
	if text == "yes" {
		return meaning
	}
	return text
}

func clashViews(clashes []hazard.Clash) []theme.Clash {
	var out []theme.Clash
	for _, c := range clashes {
		a := theme.Clash{Word: c.Word, One: listed(c.One), Other: listed(c.Other), Happens: c.Happens, Do: c.Do, FromMemory: c.FromMemory}
		if a.One == "" {
			a.One, a.Other = a.Other, c.OneWords
		} else if a.Other == "" {
			a.Other = c.OtherWords
		}
		for _, g := range c.Gases {
			a.Gases = append(a.Gases, lowered(g.Name))
		}
		a.Other = lowered(a.Other)
		out = append(out, a)
	}
	return out
}

// lowered is a name as it stands within a sentence; one whose second letter is no small letter stays
// as it is.
func lowered(name string) string {
	if len(name) > 1 && 'A' <= name[0] && name[0] <= 'Z' && 'a' <= name[1] && name[1] <= 'z' {
		return strings.ToLower(name[:1]) + name[1:]
	}
	return name
}

// listed joins names as in a sentence; only the first begins with a capital.
func listed(names []string) string {
	if len(names) == 0 {
		return ""
	}
	rest := []string{names[0]}
	for _, n := range names[1:] {
		rest = append(rest, lowered(n))
	}
	if len(rest) == 1 {
		return rest[0]
	}
	return strings.Join(rest[:len(rest)-1], ", ") + " and " + rest[len(rest)-1]
}

// uses lists the substances of a page and of those that it draws on.
func uses(sh *page.Sheet) []hazard.Use {
	var out []hazard.Use
	for _, x := range sh.AllSubstances() {
		out = append(out, hazard.Use{Name: x.Name, Strength: x.Strength})
	}
	return out
}
