package hazard

import (
	"cmp"
	"slices"
	"strings"
)

// weaker names the statements that say less than another of the same substance
// and are left out beside it, as CLP Art. 28(1) requires of redundant ones (from
// memory; the pairs are ours).
var weaker = map[string][]string{
	"P260":      {"P261"},
	"P320":      {"P321"},
	"P310":      {"P311", "P312"},
	"P311":      {"P312"},
	"P301+P310": {"P301+P312"},
	"P316":      {"P317", "P319"},
	"P317":      {"P319"},
	"P301+P316": {"P301+P317"},
	"P264+P265": {"P264"},
	"P361+P364": {"P362+P364"},
}

// precautionary gives the P statements of one substance: those of its sheet, or
// those that its hazard statements call up in the set that is law.
func (g *gatherer) precautionary(it Item) []Precautionary {
	codes := it.Substance.Precautionary
	if codes == nil {
		for _, h := range it.Hazards {
			st := g.list.statements[h.Code]
			set := st.PrecautionaryCLP
			if g.own.useUN() || len(set) == 0 {
				set = st.PrecautionaryUN
			}
			for _, c := range set {
				if !slices.Contains(codes, c) {
					codes = append(codes, c)
				}
			}
		}
	}
	drop := map[string]bool{}
	for _, c := range codes {
		for _, w := range weaker[c] {
			drop[w] = true
		}
	}
	var out []Precautionary
	for _, c := range codes {
		p := g.list.precautions[c]
		switch {
		case drop[c]:
		case p == nil:
			if !slices.Contains(g.textless, c) {
				g.textless = append(g.textless, c)
			}
		case p.Completed != "":
			out = append(out, Precautionary{Code: c, Text: p.Completed, Official: p.Text})
		default:
			out = append(out, Precautionary{Code: c, Text: p.Text})
		}
	}
	return out
}

func addPrecaution(all []Precautionary, p Precautionary, name string) []Precautionary {
	for i := range all {
		if all[i].Code == p.Code {
			all[i].Substances = append(all[i].Substances, name)
			return all
		}
	}
	p.Substances = []string{name}
	return append(all, p)
}

var groupTitles = []struct{ name, title string }{
	{"general", "Before you start"},
	{"prevention", "What to wear and how to work"},
	{"response", "First aid and spills"},
	{"storage", "Storage"},
	{"disposal", "Disposal"},
}

// grouped sorts statements into groups, what to wear before the rest.
func grouped(all []Precautionary, list *List) []PrecautionGroup {
	var out []PrecautionGroup
	for _, t := range groupTitles {
		group := PrecautionGroup{Name: t.name, Title: t.title}
		for _, p := range all {
			if list.precautions[p.Code].Group == t.name {
				group.Items = append(group.Items, p)
			}
		}
		slices.SortStableFunc(group.Items, func(a, b Precautionary) int {
			return cmp.Or(cmp.Compare(equipmentFirst(a.Code), equipmentFirst(b.Code)), cmp.Compare(a.Code, b.Code))
		})
		if len(group.Items) > 0 {
			out = append(out, group)
		}
	}
	return out
}

// equipmentFirst puts protective equipment (P280 to P284) first.
func equipmentFirst(code string) int {
	if strings.HasPrefix(code, "P28") {
		return 0
	}
	return 1
}
