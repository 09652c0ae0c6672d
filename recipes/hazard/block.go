package hazard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"
)

// Use is a substance as a page names it: by name, synonym or CAS number, with
// its strength where the page gives one (a fraction by weight, 0.28 for 28 %).
type Use struct {
	Name     string
	Strength *float64
}

// Hazard is a hazard statement with the substances of the page that bring it.
type Hazard struct {
	Code       string
	Text       string
	SignalWord string // of the statement: Danger, Warning or ""
	Substances []string
}

// Precautionary is a precautionary statement with the substances that bring it.
// Text is ready to read; Official is the wording of the law where Text fills its
// open places, and "" if the two are one.
type Precautionary struct {
	Code       string
	Text       string
	Official   string
	Substances []string
}

// PrecautionGroup is one of general, prevention, response, storage, disposal.
type PrecautionGroup struct {
	Name  string
	Title string
	Items []Precautionary
}

// Pictogram is a GHS symbol with the substances that bring it.
type Pictogram struct {
	Code       string // `GHS05`
	Name       string // `Corrosion`
	Substances []string
}

// Waste is a kind of waste with the substances that belong to it.
type Waste struct {
	Kind       WasteKind
	FromMemory bool
	Substances []string
}

// Item is one substance of a page.
type Item struct {
	Name       string // with its strength, where one is given
	Substance  *Substance
	Strength   float64 // per cent by weight, 0 if none is given
	SignalWord string
	Pictograms []string
	Hazards    []Hazard
	Advice     Advice
	Remarks    []string
	// Basis says what the classification rests on, Review who signed the row or
	// that nobody has, Reviewed the same without the signer; FromMemory is true if the
	// classification was recalled.
	Basis      string
	Review     string
	Reviewed   string
	Signed     bool
	FromMemory bool
	Sources    []Source
	// Doubts say what is unknown or undecided, in sentences.
	Doubts []string
}

// Block is what the GHS part of a page says. It gives content, not layout; every
// list is in the order to show.
type Block struct {
	SignalWord    string // the highest: Danger or Warning; "" where the list has none
	Pictograms    []Pictogram
	Hazards       []Hazard
	Precautions   []PrecautionGroup
	Meet          []Clash // both sides are on the page
	Order         []Clash // orders of addition
	KeepApart     []Clash // one side is on the page: what it must not meet
	SheetWarnings []SheetWarning
	AcidIntoWater string // the rule, where an acid that burns as used is on the page; else ""
	Waste         []Waste
	WasteApart    string // the rule, where the page has several kinds of waste; else ""
	Items         []Item
	// Unknown says what is not known of just these substances, in sentences. It must always
	// be shown.
	Unknown []string
	// Bounds says how far the list reaches, whatever the substances, in sentences. It is never
	// empty if the page names a substance.
	Bounds  []string
	Missing []string // names that are not in the list
}

// SheetWarning is what a shop's sheet says must be kept apart.
type SheetWarning struct {
	Substance string
	From      []string
}

// Empty tells that a page names no substance.
func (b Block) Empty() bool { return len(b.Items) == 0 && len(b.Missing) == 0 }

// NotReviewed is what a row says of itself until a role and a date sign it.
const NotReviewed = "not yet reviewed by a qualified person"

// BlockFor gathers what the list and the shop's own sheets (which may be nil)
// say of a page's substances. Names that nothing lists are in Missing and make
// the block say so. Nothing is calculated for a mixture.
func BlockFor(uses []Use, own *OwnSheets) Block {
	g := gatherer{own: own, list: Built(), present: side{}, strong: side{}}
	for _, u := range uses {
		g.add(u)
	}
	g.finish()
	return g.block
}

type gatherer struct {
	own     *OwnSheets
	list    *List
	block   Block
	present side
	strong  side // of present, what is corrosive as used

	hazards     []Hazard
	precautions []Precautionary
	textless    []string
}

func (g *gatherer) add(u Use) {
	s, _ := g.own.Find(u.Name)
	if s == nil {
		if !slices.Contains(g.block.Missing, u.Name) {
			g.block.Missing = append(g.block.Missing, u.Name)
		}
		return
	}
	it := g.item(s, u.Strength)
	for _, other := range g.block.Items {
		if other.Name == it.Name {
			return
		}
	}
	g.block.Items = append(g.block.Items, it)
	for _, h := range it.Hazards {
		g.hazards = addHazard(g.hazards, h, it.Name)
	}
	for _, code := range it.Pictograms {
		g.pictogram(code, it.Name)
	}
	for _, p := range g.precautionary(it) {
		g.precautions = addPrecaution(g.precautions, p, it.Name)
	}
	g.block.SignalWord = higherWord(g.block.SignalWord, it.SignalWord)
	corrosive := slices.ContainsFunc(it.Hazards, func(h Hazard) bool { return h.Code == "H314" })
	for _, id := range append([]string{it.Substance.ID}, s.Contains...) {
		g.present[id] = append(g.present[id], it.Name)
		if corrosive {
			g.strong[id] = append(g.strong[id], it.Name)
		}
	}
	if len(s.KeepApart) > 0 {
		g.block.SheetWarnings = append(g.block.SheetWarnings, SheetWarning{it.Name, s.KeepApart})
	}
	g.waste(it)
}

// item works out one substance: its row, its statements at its strength, and
// what is in doubt.
func (g *gatherer) item(s *Substance, strength *float64) Item {
	it := Item{Name: s.Name, Substance: s}
	percent := 0.0
	if strength != nil {
		percent = *strength * 100
		if !(percent > 0 && percent <= 100+1e-9) {
			it.Doubts = append(it.Doubts, fmt.Sprintf("A strength of %s is not possible; the pure substance is shown.", percentText(percent)))
			percent = 0
		}
	}
	if percent > 0 {
		it.Strength = percent
		s = s.row(percent)
		it.Substance = s
		it.Name = cmp.Or(s.Generic, s.Name) + ", " + percentText(percent)
	}
	statements, classes := s.Statements, s.Classes
	decided := s.Sheet == nil && percent > 0 && len(s.Limits) > 0 // by concentration limits
	var undecided []string
	if decided {
		statements, classes, undecided = s.at(percent)
	}
	it.Doubts = append(it.Doubts, s.strengthDoubts(percent, undecided)...)
	for _, c := range s.Pure {
		if !slices.Contains(statements, c.Statement) && family(c.Class, c.Statement) != "skin" {
			it.Doubts = append(it.Doubts, fmt.Sprintf("The undiluted substance also has %s; no limit decides whether it holds at this strength. Check the supplier's sheet.", quoted(c.Statement)))
		}
	}
	switch {
	case s.Sheet != nil:
		it.SignalWord, it.Pictograms = s.sheetLabel()
	case decided:
		it.SignalWord, it.Pictograms = LabelOf(statements, classes)
	default:
		it.SignalWord, it.Pictograms = s.SignalWord, inOrder(s.Pictograms)
	}
	for _, code := range statements {
		st := g.list.statements[code]
		if st == nil {
			continue
		}
		word, _ := demanded(code, classes)
		if s.Sheet != nil && wordRank(word) > wordRank(it.SignalWord) {
			word = it.SignalWord // a lower category of the same statement
		}
		it.Hazards = append(it.Hazards, Hazard{Code: code, Text: st.Text, SignalWord: word})
	}
	sortHazards(it.Hazards)
	it.Advice, it.Remarks = s.Advice, s.Remarks
	g.provenance(&it)
	it.Doubts = append(it.Doubts, g.doubts(s, it)...)
	return it
}

// strengthDoubts says what is uncertain about a substance at a strength in percent, 0 for none
// given. undecided are the statements that no concentration limit decides.
func (s *Substance) strengthDoubts(percent float64, undecided []string) (out []string) {
	switch {
	case s.Sheet != nil:
		if percent > 0 {
			out = append(out, "Shown as its sheet classifies it; a strength changes nothing here.")
		}
	case percent > 0 && len(s.Limits) > 0:
		out = append(out, fmt.Sprintf("At %s the specific concentration limits of CLP Annex VI decide. A supplier's sheet for this strength overrules them.", percentText(percent)))
		if len(undecided) > 0 {
			out = append(out, fmt.Sprintf("No limit in the list decides %s at this strength: shown as for the substance as listed.", and(undecided)))
		}
	case percent > 0 && percent < 100:
		out = append(out, "The list has no concentration limits for it: shown as for the substance as listed. A supplier's sheet for this strength overrules it.")
	case percent == 0:
		var more []string
		for _, l := range s.Limits {
			if l.holds(100) && !slices.Contains(s.Statements, l.Statement) && slices.Contains(absorb(append(slices.Clone(s.Statements), l.Statement)), l.Statement) {
				more = append(more, l.text())
			}
		}
		if len(more) > 0 {
			out = append(out, "By its concentration limits "+and(more)+" can apply as well.")
		}
		if len(s.Limits) > 0 {
			out = append(out, "No strength is given: the statements of the substance as listed are shown, and a solution may have others.")
		}
	}
	return out
}

// sheetLabel gives the word and symbols of a shop's own sheet. A label that is weaker
// than the statements require at the least is raised to that, and none is lowered; a
// sheet without a label gets the most severe one that its statements can require.
func (s *Substance) sheetLabel() (word string, pictograms []string) {
	if s.SignalWord == "" && s.Pictograms == nil {
		return LabelOf(s.Statements, nil)
	}
	least, drawn := leastLabel(s.Statements)
	return higherWord(s.SignalWord, least), inOrder(append(slices.Clone(s.Pictograms), drawn...))
}

func inOrder(codes []string) []string {
	var out []string
	for _, p := range pictogramOrder {
		if slices.Contains(codes, p) {
			out = append(out, p)
		}
	}
	return out
}

// quoted gives a code with its text in brackets.
func quoted(code string) string {
	if text, ok := StatementText(code); ok {
		return code + " (" + strings.TrimSuffix(text, ".") + ")"
	}
	return code
}

// doubts says what a row leaves open. It never says that a thing is safe.
func (g *gatherer) doubts(s *Substance, it Item) []string {
	var out []string
	if len(it.Hazards) == 0 {
		where := "The list gives"
		switch {
		case s.Sheet != nil:
			where = "Its sheet gives"
		case it.Strength > 0:
			where = "At " + percentText(it.Strength) + " the list gives"
		}
		out = append(out, where+" no hazard statement. That does not mean that it is harmless.")
	}
	if s.Sheet != nil {
		return out
	}
	var minimum []string
	for _, c := range s.Classes {
		if c.Minimum {
			minimum = append(minimum, c.Statement)
		}
	}
	if len(minimum) > 0 {
		out = append(out, "Annex VI gives "+and(minimum)+" as a minimum: the supplier may have to classify more severely.")
	}
	if s.Elsewhere != nil && len(s.Elsewhere.Adds) > 0 {
		var adds []string
		for _, code := range s.Elsewhere.Adds {
			adds = append(adds, quoted(code))
		}
		out = append(out, "A regulator outside the sources of this list also gives "+and(adds)+".")
	}
	return out
}

func (g *gatherer) provenance(it *Item) {
	s := it.Substance
	it.Review, it.Reviewed = NotReviewed, NotReviewed
	if r, ok := g.own.Reviewed(s); ok {
		it.Review, it.Signed = r.String(), true
		it.Reviewed = "reviewed by a qualified person on " + r.Date.Format(time.DateOnly)
	}
	if s.Sheet != nil {
		it.Basis = fmt.Sprintf("Safety data sheet of %s, %s", s.Sheet.Author, s.Sheet.Date.Format("2006-01-02"))
		if s.Sheet.Edition != "" {
			it.Basis += ", edition " + s.Sheet.Edition
		}
		return
	}
	it.Basis = upperFirst(s.Basis)
	if s.Basis == "harmonised" {
		it.Basis = "Harmonised classification of the EU"
	}
	if s.Index != "" {
		it.Basis += ", CLP Annex VI, index number " + s.Index
	}
	p := s.Provenance["classification"]
	it.FromMemory = p.Status != "read"
	if it.FromMemory {
		it.Basis += "; from memory"
	}
	for _, key := range p.Source {
		if key == "MEMORY" {
			continue
		}
		if src, ok := g.list.Sources[key]; ok {
			it.Sources = append(it.Sources, src)
		}
	}
}

func (g *gatherer) pictogram(code, name string) {
	for i := range g.block.Pictograms {
		if g.block.Pictograms[i].Code == code {
			g.block.Pictograms[i].Substances = append(g.block.Pictograms[i].Substances, name)
			return
		}
	}
	p := Pictogram{Code: code, Substances: []string{name}}
	for _, n := range g.list.Pictograms {
		if n.Code == code {
			p.Name = n.Name
		}
	}
	g.block.Pictograms = append(g.block.Pictograms, p)
}

func (g *gatherer) waste(it Item) {
	kind := g.list.waste[it.Substance.Waste]
	if kind == nil {
		return
	}
	for i := range g.block.Waste {
		if g.block.Waste[i].Kind.ID == kind.ID {
			g.block.Waste[i].Substances = append(g.block.Waste[i].Substances, it.Name)
			return
		}
	}
	g.block.Waste = append(g.block.Waste, Waste{Kind: *kind, FromMemory: kind.Provenance["rule"].Status != "read", Substances: []string{it.Name}})
}

// finish orders what was gathered and says what the page as a whole leaves open.
func (g *gatherer) finish() {
	b := &g.block
	if b.Empty() {
		return
	}
	sortHazards(g.hazards)
	b.Hazards = gravest(g.hazards)
	slices.SortStableFunc(b.Pictograms, func(x, y Pictogram) int {
		return cmp.Compare(slices.Index(pictogramOrder, x.Code), slices.Index(pictogramOrder, y.Code))
	})
	b.Precautions = grouped(g.precautions, g.list)
	b.Meet, b.KeepApart, b.Order = clashes(g.present, g.strong)
	for _, c := range b.Order {
		if c.ID == "acid-water" {
			b.AcidIntoWater = g.list.AcidIntoWater
		}
	}
	if len(b.Waste) > 1 {
		for _, inc := range g.list.Incompatibilities {
			if inc.ID == "mixed-waste" {
				b.WasteApart = "Wastes that meet can give off gas, heat or pressure. " + inc.Do
			}
		}
	}
	for _, name := range b.Missing {
		b.Unknown = append(b.Unknown, fmt.Sprintf("%s is not in the hazard list: nothing is known here of what it does.", upperFirst(name)))
	}
	if b.SignalWord == "" {
		b.Unknown = append(b.Unknown, "No signal word is listed. That does not mean that these substances are harmless.")
	}
	for _, it := range b.Items {
		if it.Substance.Waste == "" {
			b.Unknown = append(b.Unknown, it.Name+": no kind of waste is known; ask the supplier and a licensed contractor.")
		}
	}
	if len(g.textless) > 0 {
		b.Unknown = append(b.Unknown, "The list has no text for "+and(g.textless)+": take these statements from the supplier's sheet.")
	}
	if len(b.Items)+len(b.Missing) > 1 {
		b.Bounds = append(b.Bounds, "The list holds the reactions it knows. Where it names none, two substances are not known to be safe together.")
	}
	b.Bounds = append(b.Bounds, "The statements are those of the substances as listed, not of a mixture or a working solution made from them.")
}

// gravest applies absorb to all substances of a page together: what one of them does to eyes and
// skin goes without saying beside a worse one. Each substance keeps its own statements.
func gravest(all []Hazard) []Hazard {
	codes := make([]string, len(all))
	for i, h := range all {
		codes[i] = h.Code
	}
	kept := absorb(codes)
	return slices.DeleteFunc(slices.Clone(all), func(h Hazard) bool { return !slices.Contains(kept, h.Code) })
}

// addHazard adds a statement, or its substance to a statement already there.
func addHazard(all []Hazard, h Hazard, name string) []Hazard {
	for i := range all {
		if all[i].Code == h.Code {
			all[i].Substances = append(all[i].Substances, name)
			all[i].SignalWord = higherWord(all[i].SignalWord, h.SignalWord)
			return all
		}
	}
	h.Substances = []string{name}
	return append(all, h)
}

// sortHazards puts Danger before Warning before supplemental information before
// statements without a word; within each, health before physical hazards before
// the environment, then by code.
func sortHazards(all []Hazard) {
	kind := func(code string) int { return strings.Index("324", code[1:2]) }
	rank := func(h Hazard) int {
		switch {
		case strings.HasPrefix(h.Code, "EUH"):
			return 2
		case h.SignalWord == "":
			return 3
		}
		return 2 - wordRank(h.SignalWord)
	}
	slices.SortStableFunc(all, func(a, b Hazard) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(kind(a.Code), kind(b.Code)), cmp.Compare(a.Code, b.Code))
	})
}
