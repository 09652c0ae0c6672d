package site

import (
	"html/template"
	"slices"
	"strings"

	"labsite/recipes/hazard"
)

// Hazards is the data of hazards.html: what GHS says of the page's substances.
// It never stands in one panel with cautions. A theme may change how it looks
// and what stands one tap away, but leave nothing of it out.
type Hazards struct {
	Word          string            // signal word of GHS, "Danger" or "Warning"; empty: the list has none, which Unknown says
	Pictograms    []Pictogram       // in the order of precedence
	Statements    []HazardStatement // hazard statements, the gravest first
	Wear          []Advice          // what to wear and how to work, in short phrases
	Precautions   []PrecautionGroup // precautionary statements; the group "response" is first aid and spills
	AcidIntoWater string            // the rule, where the page has an acid that burns; empty: none
	Meet          []Apart           // pairs of the page's own substances that must not meet
	Order         []Apart           // orders of addition
	KeepApart     []Apart           // what else the page's substances must not meet
	SheetSays     []SheetSays       // what the supplier's own sheet says must be kept apart
	Waste         []WasteWay        // how each kind of waste leaves the lab
	WasteApart    string            // the rule, where there are several kinds of waste; empty: none
	Substances    []HazardSubstance // each substance, and what its row rests on
	Unknown       []string          // what is not known, in sentences; always shown
	Notice        template.HTML     // the standing notice
}

// Pictogram is a symbol of GHS.
type Pictogram struct {
	Code    string        // "GHS05"
	Name    string        // "Corrosion"
	Drawing template.HTML // SVG of 200 by 200 units with its own white ground and its own text alternative
	Of      string        // the substances that bring it, "Pyrogallol and Triethanolamine"
}

// HazardStatement is a hazard or precautionary statement in full.
type HazardStatement struct {
	Code     string // "H314"
	Text     string // "Causes severe skin burns and eye damage."
	Official string // the wording of the law, where Text fills its open places; else empty
	Of       string // the substances that bring it
}

// PrecautionGroup is one group of precautionary statements.
type PrecautionGroup struct {
	Name       string // "general", "prevention", "response", "storage" or "disposal"
	Title      string // its heading, "First aid and spills"
	Statements []HazardStatement
}

// Advice is what to wear or how to work, "Gloves: nitrile".
type Advice struct {
	What string   // "Gloves", "Eyes", "Air", "Dust", "Heat", "Allergy", "Pregnancy"
	Says []Advise // what is advised; one where all substances agree
}

// Advise is what is advised for some of the page's substances.
type Advise struct {
	Text string // "nitrile, change often"
	Of   string // the substances; empty: all of them
}

// Apart is a pair that must not meet, or an order of addition.
type Apart struct {
	Word       string   // "DANGER", "WARNING", "CAUTION" or "NOTICE"
	One        string   // the page's substances on one side, or what stands there
	Other      string   // those on the other side, or what stands there
	Happens    string   // what happens, a sentence or two
	Do         string   // what to do, a sentence or two
	Gases      []string // the gases that are given off
	FromMemory bool     // recalled, not read in a source
}

// SheetSays is what a supplier's safety data sheet says must be kept apart.
type SheetSays struct {
	Substance string
	From      string
}

// WasteWay is how a kind of waste leaves the lab.
type WasteWay struct {
	Name       string
	Rule       string
	Of         string // the substances that belong to it
	FromMemory bool   // recalled, not read in a source
}

// HazardSubstance is one substance of the page.
type HazardSubstance struct {
	Name    string // with its strength, where one is given
	Word    string // its own signal word; empty: none
	Codes   string // its statements, "H302, H312"; empty: none
	Remarks []string
	Basis   string   // what its classification rests on
	Sources []string // where that was read
	Review  string   // who checked the row, or that nobody has
	Signed  bool     // somebody has
	Doubts  []string // what is unknown or undecided of it, in sentences
}

// FirstAid is the group of what to do when something has happened; nil: none.
func (h Hazards) FirstAid() *PrecautionGroup {
	for i := range h.Precautions {
		if h.Precautions[i].Name == "response" {
			return &h.Precautions[i]
		}
	}
	return nil
}

// Other are the groups of precautionary statements that FirstAid is not.
func (h Hazards) Other() []PrecautionGroup {
	return slices.DeleteFunc(slices.Clone(h.Precautions), func(g PrecautionGroup) bool { return g.Name == "response" })
}

// inPage leaves out of a drawing what only a file of its own needs.
var inPage = strings.NewReplacer(` xmlns="http://www.w3.org/2000/svg"`, "")

// hazardsOf fills the view of what the hazard list says; notice is the site's
// standing notice.
func hazardsOf(b hazard.Block, notice template.HTML) Hazards {
	v := Hazards{
		Word: b.SignalWord, AcidIntoWater: b.AcidIntoWater, WasteApart: b.WasteApart,
		Unknown: b.Unknown, Notice: notice,
		Meet: apart(b.Meet), Order: apart(b.Order), KeepApart: apart(b.KeepApart),
	}
	for _, p := range b.Pictograms {
		v.Pictograms = append(v.Pictograms, Pictogram{p.Code, p.Name, template.HTML(inPage.Replace(strings.TrimSpace(p.SVG()))), listed(p.Substances)})
	}
	for _, h := range b.Hazards {
		v.Statements = append(v.Statements, HazardStatement{Code: h.Code, Text: h.Text, Of: listed(h.Substances)})
	}
	for _, g := range b.Precautions {
		group := PrecautionGroup{Name: g.Name, Title: g.Title}
		for _, p := range g.Items {
			group.Statements = append(group.Statements, HazardStatement{p.Code, p.Text, p.Official, listed(p.Substances)})
		}
		v.Precautions = append(v.Precautions, group)
	}
	for _, s := range b.SheetWarnings {
		v.SheetSays = append(v.SheetSays, SheetSays{s.Substance, listed(s.From)})
	}
	for _, w := range b.Waste {
		v.Waste = append(v.Waste, WasteWay{w.Kind.Name, w.Kind.Rule, listed(w.Substances), w.FromMemory})
	}
	for _, it := range b.Items {
		s := HazardSubstance{Name: it.Name, Word: it.SignalWord, Remarks: it.Remarks, Basis: it.Basis, Review: it.Review, Signed: it.Signed, Doubts: it.Doubts}
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

// wear gathers short advice of all substances under a word each. Where several
// say the same, they share a line; what all of them say needs no names.
func wear(items []hazard.Item) []Advice {
	var out []Advice
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
		a := Advice{What: kind.what}
		for _, text := range texts {
			of := listed(names[text])
			if len(names[text]) == len(items) {
				of = ""
			}
			a.Says = append(a.Says, Advise{text, of})
		}
		out = append(out, a)
	}
	return out
}

// Short is what is advised, without saying for which substance and without saying anything
// twice: "nitrile" goes without saying beside "nitrile, change often", and "recommended"
// beside anything.
func (a Advice) Short() string {
	var all, kept []string
	for _, s := range a.Says {
		for phrase := range strings.SplitSeq(s.Text, ";") {
			if phrase = strings.TrimSpace(phrase); phrase != "" && !slices.Contains(all, phrase) {
				all = append(all, phrase)
			}
		}
	}
	for _, phrase := range all {
		said := phrase == "recommended" && len(all) > 1 || slices.ContainsFunc(all, func(other string) bool {
			return strings.HasPrefix(other, phrase+",")
		})
		if !said {
			kept = append(kept, phrase)
		}
	}
	return strings.Join(kept, "; ")
}

// First says whether the advice stands in the short part of the block: what to put
// on, and who should not be near. The rest of Wear is how to work.
func (a Advice) First() bool {
	return a.What == "Gloves" || a.What == "Eyes" || a.What == "Allergy" || a.What == "Pregnancy"
}

func saysYes(text, meaning string) string {
	if text == "yes" {
		return meaning
	}
	return text
}

func apart(clashes []hazard.Clash) []Apart {
	var out []Apart
	for _, c := range clashes {
		a := Apart{Word: c.Word, One: listed(c.One), Other: listed(c.Other), Happens: c.Happens, Do: c.Do, FromMemory: c.FromMemory}
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

// lowered is a name as it stands within a sentence; one that begins with a sign or a
// second capital stays.
func lowered(name string) string {
	if len(name) > 1 && 'A' <= name[0] && name[0] <= 'Z' && 'a' <= name[1] && name[1] <= 'z' {
		return strings.ToLower(name[:1]) + name[1:]
	}
	return name
}

// listed joins names as a sentence does; only the first begins with a capital.
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
