package theme

import (
	"html/template"
	"slices"
	"strings"
)

// Hazards is the data of hazards.html and aftercare.html: what GHS says of the page's substances,
// before the work and after it. It is never in one panel with cautions. A theme may change how it
// looks and what is one tap away, but leave nothing out.
type Hazards struct {
	Word          string            // signal word of GHS, "Danger" or "Warning"; empty: the list has none, which Unknown says
	Pictograms    []Pictogram       // in the order of precedence
	Statements    []HazardStatement // hazard statements, the gravest first
	Wear          []Advice          // what to wear and how to work, in short phrases
	Precautions   []PrecautionGroup // precautionary statements; the group "response" is first aid and spills
	AcidIntoWater string            // the rule, where the page has an acid that burns; empty: none
	Meet          []Clash           // pairs of the page's own substances that must not meet
	Order         []Clash           // orders of addition
	KeepApart     []Clash           // what else the page's substances must not meet
	SheetSays     []SheetSays       // what the supplier's own sheet says must be kept apart
	Waste         []WasteWay        // how each kind of waste leaves the lab
	WasteApart    string            // the rule, where there are several kinds of waste; empty: none
	Substances    []HazardSubstance // each substance, and what its row rests on
	Unknown       []string          // what is not known of these substances, in sentences; always shown
	Bounds        []string          // how far the list reaches, in sentences, one tap away at most
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
	Official string // the wording of the law, if Text fills in its blanks; else empty
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
	Says []Advise // what is advised; a single one if all substances agree
}

// Advise is what is advised for some of the page's substances.
type Advise struct {
	Text string // "nitrile, change often"
	Of   string // the substances; empty: all of them
}

// Clash is a pair that must not meet, or an order of addition.
type Clash struct {
	Word       string   // "DANGER", "WARNING", "CAUTION" or "NOTICE"
	One        string   // the page's substances on one side, or words for what is there
	Other      string   // the same for the other side
	Happens    string   // what happens, a sentence or two
	Do         string   // what to do, a sentence or two
	Gases      []string // the gases that are given off
	FromMemory bool     // given from memory, not read in a source
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
	FromMemory bool   // given from memory, not read in a source
}

// HazardSubstance is one substance of the page.
type HazardSubstance struct {
	Name    string // with its strength, if one is given
	Word    string // its own signal word; empty: none
	Codes   string // its statements, "H302, H312"; empty: none
	Remarks []string
	Basis   string   // what its classification rests on
	Sources []string // where that was read
	Review  string   // who checked the row, or that nobody has
	Signed  bool     // somebody has checked it
	Doubts  []string // what is unknown or undecided about it, in sentences
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

// Other are all groups of precautionary statements except FirstAid.
func (h Hazards) Other() []PrecautionGroup {
	return slices.DeleteFunc(slices.Clone(h.Precautions), func(g PrecautionGroup) bool { return g.Name == "response" })
}

// Beforehand are the groups to read before the work begins; Later are those for after it and for
// accidents: first aid, storage, disposal.
func (h Hazards) Beforehand() []PrecautionGroup { return h.groups("general", "prevention") }
func (h Hazards) Later() []PrecautionGroup      { return h.groups("response", "storage", "disposal") }

func (h Hazards) groups(names ...string) (out []PrecautionGroup) {
	for _, g := range h.Precautions {
		if slices.Contains(names, g.Name) {
			out = append(out, g)
		}
	}
	return out
}

// InPage removes from a drawing what it needs only as a separate file.
var InPage = strings.NewReplacer(` xmlns="http://www.w3.org/2000/svg"`, "")

// Short is what is advised, without saying for which substance, and without what other advice covers:
// "nitrile, change often" covers "nitrile", goggles cover glasses and goggles for some reason, and
// anything covers "recommended".
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
		plain, _, _ := strings.Cut(phrase, " (")
		said := phrase == "recommended" && len(all) > 1 || slices.ContainsFunc(all, func(other string) bool {
			return strings.HasPrefix(other, phrase+",") || other == plain && plain != phrase ||
				phrase == "safety glasses" && strings.HasPrefix(other, "goggles")
		})
		if !said {
			kept = append(kept, phrase)
		}
	}
	return strings.Join(kept, "; ")
}

// Worn is the short part of the block: what to put on, and who should keep away. That a substance can
// cause an allergy is left out if a statement says so.
func (h Hazards) Worn() (out []Advice) {
	said := slices.ContainsFunc(h.Statements, func(s HazardStatement) bool { return s.Code == "H317" || s.Code == "H334" })
	for _, a := range h.Wear {
		if a.First() && !(said && a.What == "Allergy") {
			out = append(out, a)
		}
	}
	return out
}

// First reports whether the advice is about what to put on or who should keep away; the rest of Wear is
// about how to work.
func (a Advice) First() bool {
	return a.What == "Gloves" || a.What == "Eyes" || a.What == "Allergy" || a.What == "Pregnancy"
}
