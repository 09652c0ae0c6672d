package hazard

import (
	_ "embed"
	"encoding/json"
	"sync"
)

// Provenance tells how a value was obtained.
type Provenance struct {
	Status string   `json:"status"` // read, memory or computed
	Source []string `json:"source"` // keys of Sources
	Note   string   `json:"note,omitempty"`
}

// Source is a work that values were taken from, and what may be done with them.
type Source struct {
	Title   string `json:"title"`
	Edition string `json:"edition"`
	Section string `json:"section"`
	Reuse   string `json:"reuse"`
	Note    string `json:"note,omitempty"`
}

// Class is one hazard class of a classification, with the statement it brings.
type Class struct {
	Class     string `json:"class"`             // as in Annex VI: `Skin Corr. 1A`
	Statement string `json:"statement"`         // `H314`
	Minimum   bool   `json:"minimum,omitempty"` // the supplier may have to classify more severely
	Mark      string `json:"mark,omitempty"`    // ** route not stated, *** other effects not excluded
}

// Limit is a specific concentration limit, in per cent by weight: the statement
// holds from From up to, not including, Below (0: no upper end).
type Limit struct {
	Class     string  `json:"class,omitempty"`
	Statement string  `json:"statement"`
	From      float64 `json:"from"`
	Below     float64 `json:"below,omitempty"`
}

func (l Limit) holds(percent float64) bool {
	return percent >= l.From-1e-9 && (l.Below == 0 || percent < l.Below-1e-9)
}

// Range is a range of strengths in per cent by weight; Below 0 has no upper end.
type Range struct {
	From  float64 `json:"from"`
	Below float64 `json:"below,omitempty"`
}

// Form is a hydrate or other form of the same substance.
type Form struct {
	Name      string  `json:"name"`
	CAS       string  `json:"cas"`
	Formula   string  `json:"formula"`
	MolarMass float64 `json:"molar_mass"` // g/mol
}

// Related is another substance that the row speaks of.
type Related struct {
	Name string `json:"name"`
	CAS  string `json:"cas,omitempty"`
	EC   string `json:"ec,omitempty"`
	Note string `json:"note,omitempty"`
}

// Elsewhere is what a regulator outside the chosen sources gives: evidence only.
type Elsewhere struct {
	Source     string   `json:"source"`
	Status     string   `json:"status"`
	Statements []string `json:"statements"`
	Adds       []string `json:"adds,omitempty"`
}

// Advice is what to wear and how to handle a substance, in short phrases; empty is unknown.
type Advice struct {
	Gloves      string `json:"gloves,omitempty"`
	Eyes        string `json:"eyes,omitempty"`
	Ventilation string `json:"ventilation,omitempty"`
	Dust        string `json:"dust,omitempty"`
	Heat        string `json:"heat,omitempty"`
	Sensitiser  string `json:"sensitiser,omitempty"` // `yes`, or a doubt in words
	Pregnancy   string `json:"pregnancy,omitempty"`  // `yes`, or a doubt in words
}

// Substance is one row: of the built-in list, or of the shop's own file, where
// Sheet is set.
type Substance struct {
	ID         string                `json:"id"`
	Name       string                `json:"name"`
	Synonyms   []string              `json:"synonyms,omitempty"`
	CAS        string                `json:"cas,omitempty"`
	EC         string                `json:"ec,omitempty"`
	Formula    string                `json:"formula,omitempty"`
	MolarMass  float64               `json:"molar_mass,omitempty"` // g/mol; 0 is unknown
	Forms      []Form                `json:"forms,omitempty"`
	Related    []Related             `json:"related,omitempty"`
	Roles      []string              `json:"roles,omitempty"`
	Basis      string                `json:"basis,omitempty"` // what the classification rests on
	Index      string                `json:"index,omitempty"` // index number of Annex VI
	Classes    []Class               `json:"classes,omitempty"`
	Limits     []Limit               `json:"limits,omitempty"`
	Factors    []string              `json:"factors,omitempty"` // M factors and acute toxicity estimates
	Generic    string                `json:"generic,omitempty"` // the name to join a strength to
	Covers     *Range                `json:"covers,omitempty"`
	Pure       []Class               `json:"pure,omitempty"` // classes of the pure substance, where the row is a solution
	Superseded []Class               `json:"superseded,omitempty"`
	Annex      []string              `json:"annex_notes,omitempty"`
	Statements []string              `json:"statements,omitempty"` // label elements: H codes, then EUH codes
	SignalWord string                `json:"signal_word,omitempty"`
	Pictograms []string              `json:"pictograms,omitempty"`
	Elsewhere  *Elsewhere            `json:"elsewhere,omitempty"`
	Advice     Advice                `json:"advice"`
	Remarks    []string              `json:"remarks,omitempty"`
	Waste      string                `json:"waste,omitempty"` // key of a waste kind
	Water20C   string                `json:"water_20c,omitempty"`
	Sale       []string              `json:"sale,omitempty"`
	Note       string                `json:"note,omitempty"`
	Provenance map[string]Provenance `json:"provenance,omitempty"`

	// Of the shop's own file only.
	Contains      []string `json:"-"` // IDs of rows of the list
	Precautionary []string `json:"-"` // P codes as on the sheet; nil: those of the statements
	KeepApart     []string `json:"-"`
	Sheet         *Sheet   `json:"-"`
}

// Variant is a category of a statement that differs in word or pictogram.
type Variant struct {
	Class      string   `json:"class"`
	Category   string   `json:"category"`
	SignalWord string   `json:"signal_word"`
	Pictograms []string `json:"pictograms,omitempty"`
}

// Statement is a hazard statement (H) or supplemental information (EUH).
type Statement struct {
	Code             string                `json:"code"`
	Text             string                `json:"text"`
	TextUS           string                `json:"text_us,omitempty"` // United States spelling, where it differs
	Class            string                `json:"class,omitempty"`
	Category         string                `json:"category,omitempty"`
	SignalWord       string                `json:"signal_word,omitempty"`
	Pictograms       []string              `json:"pictograms,omitempty"`
	Variants         []Variant             `json:"variants,omitempty"`
	UNRev10          string                `json:"un_rev10,omitempty"`
	CLP              string                `json:"clp"` // yes, no or a doubt in words
	PrecautionaryCLP []string              `json:"precautionary_clp,omitempty"`
	PrecautionaryUN  []string              `json:"precautionary_un_rev10,omitempty"`
	AppliesWhen      string                `json:"applies_when,omitempty"`
	Note             string                `json:"note,omitempty"`
	Provenance       map[string]Provenance `json:"provenance,omitempty"`
}

// Precaution is a precautionary statement (P), single or combined.
type Precaution struct {
	Code       string                `json:"code"`
	Group      string                `json:"group"` // general, prevention, response, storage or disposal
	Text       string                `json:"text"`  // official, with the places that the supplier fills
	Completed  string                `json:"completed,omitempty"`
	UNRev10    string                `json:"un_rev10,omitempty"`
	ReplacedBy []string              `json:"replaced_in_un_rev10_by,omitempty"`
	CLP        string                `json:"clp"`
	Note       string                `json:"note,omitempty"`
	Provenance map[string]Provenance `json:"provenance,omitempty"`
}

// Gas is what a reaction gives off.
type Gas struct {
	ID         string                `json:"id"`
	Name       string                `json:"name"`
	CAS        string                `json:"cas,omitempty"`
	EC         string                `json:"ec,omitempty"`
	Index      string                `json:"index,omitempty"`
	Classes    []Class               `json:"classes,omitempty"` // where the statement alone does not tell the category
	Statements []string              `json:"statements,omitempty"`
	SignalWord string                `json:"signal_word,omitempty"`
	Pictograms []string              `json:"pictograms,omitempty"`
	Substance  string                `json:"substance,omitempty"` // the row of the list that it is
	Note       string                `json:"note,omitempty"`
	Provenance map[string]Provenance `json:"provenance,omitempty"`
}

// Incompatibility is a pair of things that must not meet. A page that names a
// substance of OneIs and one of OtherIs gets the notice.
type Incompatibility struct {
	ID         string                `json:"id"`
	Kind       string                `json:"kind"` // do-not-mix, do-not-contact, order-of-addition, ignition, property
	Word       string                `json:"word"` // ANSI Z535.6
	One        string                `json:"one"`
	OneIs      []string              `json:"one_is,omitempty"`
	Other      string                `json:"other"`
	OtherIs    []string              `json:"other_is,omitempty"`
	Happens    string                `json:"happens"`
	Do         string                `json:"do"`
	Gases      []string              `json:"gases,omitempty"`
	Note       string                `json:"note,omitempty"`
	Provenance map[string]Provenance `json:"provenance,omitempty"`
}

// WasteKind is a kind of waste and how it leaves the lab.
type WasteKind struct {
	ID          string                `json:"id"`
	Name        string                `json:"name"`
	Rule        string                `json:"rule"`
	USReference string                `json:"us_reference,omitempty"`
	Provenance  map[string]Provenance `json:"provenance,omitempty"`
}

// PictogramName is the name that the law gives a symbol.
type PictogramName struct {
	Code   string `json:"code"`
	Name   string `json:"name"`
	Status string `json:"status"`
}

// List is everything that the data files hold.
type List struct {
	Reuse             map[string]string `json:"reuse"`
	Sources           map[string]Source `json:"sources"`
	Pictograms        []PictogramName   `json:"pictograms"`
	Hazard            []Statement       `json:"hazard"`
	Precautionary     []Precaution      `json:"precautionary"`
	Waste             []WasteKind       `json:"waste"`
	Substances        []*Substance      `json:"substances"`
	Gases             []Gas             `json:"gases"`
	Incompatibilities []Incompatibility `json:"incompatibilities"`
	Notice            string            `json:"notice"`
	AcidIntoWater     string            `json:"acid_into_water"`
	Cautions          []Caution         `json:"cautions"`

	statements  map[string]*Statement
	precautions map[string]*Precaution
	waste       map[string]*WasteKind
	gases       map[string]*Gas
	ids         map[string]*Substance
	names       *names
}

//go:generate go test -run TestPackedIsTheData -update
//go:embed packed.json
var packed []byte

// Built gives the built-in list, read once. Callers must not change it.
var Built = sync.OnceValue(func() *List {
	list := new(List)
	if err := json.Unmarshal(packed, list); err != nil {
		// packed.json is part of the program and a test reads it, so this cannot
		// reach a user; an empty list would look safe, so it must not pass.
		panic("hazard: packed.json: " + err.Error())
	}
	list.index()
	return list
})

func (l *List) index() {
	l.statements = byKey(l.Hazard, func(s *Statement) string { return s.Code })
	l.precautions = byKey(l.Precautionary, func(p *Precaution) string { return p.Code })
	l.waste = byKey(l.Waste, func(w *WasteKind) string { return w.ID })
	l.gases = byKey(l.Gases, func(g *Gas) string { return g.ID })
	l.ids = make(map[string]*Substance, len(l.Substances))
	for _, s := range l.Substances {
		l.ids[s.ID] = s
	}
	for i := range l.Gases {
		if s := l.ids[l.Gases[i].Substance]; s != nil {
			l.Gases[i].CAS, l.Gases[i].Statements, l.Gases[i].SignalWord, l.Gases[i].Pictograms = s.CAS, s.Statements, s.SignalWord, s.Pictograms
		}
	}
	l.names = newNames(l.Substances)
}

func byKey[T any](rows []T, key func(*T) string) map[string]*T {
	m := make(map[string]*T, len(rows))
	for i := range rows {
		m[key(&rows[i])] = &rows[i]
	}
	return m
}

// StatementText gives the official text of an H or EUH code, false for another.
func StatementText(code string) (string, bool) {
	if s := Built().statements[code]; s != nil {
		return s.Text, true
	}
	return "", false
}
