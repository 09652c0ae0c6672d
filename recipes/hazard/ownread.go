package hazard

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"labsite/recipes/molar"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// Bounds of the shop's own file, besides those of every YAML file.
const (
	largestFile = 256 << 10 // bytes; some four hundred sheets
	longestLine = 4096      // bytes; the YAML library's time grows with its square
)

// shapes are the words for what a value is.
var shapes = map[tree.Shape]string{tree.Scalar: "a text", tree.Nothing: "nothing", tree.List: "a list", tree.Mapping: "a set of keys"}

// ReadOwn reads a shop's own file (see the package comment for its keys). What is
// wrong is reported with its place; what could be read is returned all the same,
// and is never nil.
func ReadOwn(file *source.File) (*OwnSheets, source.List) {
	r := ownReader{file: file, own: &OwnSheets{Precautionary: "clp", reviews: map[*Substance]Review{}}, taken: map[string]bool{}}
	r.own.names = newNames(nil)
	if r.list = bounded(file); r.list != nil {
		return r.own, r.list
	}
	root, list := tree.Parse(file, 0, len(file.Text))
	r.list = list
	if root == nil {
		return r.own, r.list
	}
	if r.keys(root, ownFile.Known()...) {
		r.edition(get(root, "precautionary"))
		for _, t := range r.items(get(root, "substances"), "substances") {
			if s := r.substance(t); s != nil {
				r.own.substances = append(r.own.substances, s)
			}
		}
		r.own.names = newNames(r.own.substances)
		for _, t := range r.items(get(root, "reviewed"), "reviewed") {
			r.reviewOf(t)
		}
	}
	return r.own, r.list.Sorted()
}

// bounded reports a file or a line that is too long to be read.
func bounded(f *source.File) source.List {
	if len(f.Text) > largestFile {
		return source.List{source.SheetTooLarge(largestFile).At(f.Span(0, 1))}
	}
	for n := 1; n <= f.Lines(); n++ {
		if len(f.Line(n)) > longestLine {
			return source.List{source.SheetLongLine(longestLine).At(f.Span(f.Offset(n), f.Offset(n)+1))}
		}
	}
	return nil
}

// get gives the value of a key, nil if it is missing or holds nothing.
func get(t *tree.Value, key string) *tree.Value {
	if v := t.Get(key); v != nil && v.Shape != tree.Nothing {
		return v
	}
	return nil
}

type ownReader struct {
	file  *source.File
	own   *OwnSheets
	list  source.List
	taken map[string]bool // folded names of the shop's own
}

// report places a problem at a value; a set of keys without braces is marked at its first key.
func (r *ownReader) report(p source.Problem, at *tree.Value) {
	span := at.Span
	if at.Shape == tree.Mapping && !at.Flow && len(at.Keys) > 0 {
		span = at.Keys[0].Span
	}
	r.list = append(r.list, p.At(span))
}

// keys checks that a value is a mapping of known keys.
func (r *ownReader) keys(t *tree.Value, known ...string) bool {
	if t.Shape != tree.Mapping {
		r.report(source.SheetShape("an entry here", "a set of keys", shapes[t.Shape]), t)
		return false
	}
	for _, k := range t.Keys {
		if !slices.Contains(known, k.Text) {
			r.report(source.SheetUnknownKey(k.Text, source.Nearest(k.Text, known), known), k)
		}
	}
	return true
}

func (r *ownReader) items(t *tree.Value, key string) []*tree.Value {
	if t == nil {
		return nil
	}
	if t.Shape != tree.List {
		r.report(source.SheetShape(key, "a list, each item after `- `", shapes[t.Shape]), t)
		return nil
	}
	return t.Items
}

// text reads a text; a missing one is "".
func (r *ownReader) text(parent *tree.Value, key string) (string, *tree.Value) {
	t := get(parent, key)
	if t == nil {
		return "", nil
	}
	if t.Shape != tree.Scalar {
		r.report(source.SheetShape(key, "a text", shapes[t.Shape]), t)
		return "", nil
	}
	return strings.Join(strings.Fields(t.Text), " "), t
}

// needs is text for a key that must be there.
func (r *ownReader) needs(parent *tree.Value, key, why string) (string, *tree.Value) {
	text, t := r.text(parent, key)
	if t == nil && (get(parent, key) == nil) || t != nil && text == "" {
		at := parent
		if t != nil {
			at = t
		}
		r.report(source.SheetMissing(key, why), at)
		return "", nil
	}
	return text, t
}

// texts reads a list of texts, or one text for a list of one.
func (r *ownReader) texts(parent *tree.Value, key string) (all []string, places []*tree.Value) {
	t := get(parent, key)
	if t == nil {
		return nil, nil
	}
	items := []*tree.Value{t}
	if t.Shape == tree.List {
		items = t.Items
		all = []string{}
	}
	for _, i := range items {
		if i.Shape != tree.Scalar || strings.TrimSpace(i.Text) == "" {
			r.report(source.SheetShape(key, "a list of texts", shapes[i.Shape]), i)
			continue
		}
		all = append(all, strings.Join(strings.Fields(i.Text), " "))
		places = append(places, i)
	}
	return all, places
}

func (r *ownReader) edition(t *tree.Value) {
	if t == nil {
		return
	}
	switch {
	case t.Shape == tree.Scalar && (t.Text == "clp" || t.Text == "un-rev-10"):
		r.own.Precautionary = t.Text
	default:
		r.report(source.SheetChoice("precautionary", t.Text, "clp or un-rev-10"), t)
	}
}

// substance reads one item; nil if it has no usable name.
func (r *ownReader) substance(t *tree.Value) *Substance {
	if !r.keys(t, ownSubstance.Known()...) {
		return nil
	}
	name, at := r.needs(t, "name", "pages name it by this")
	if at == nil {
		return nil
	}
	s := &Substance{ID: "own:" + Fold(name), Name: name, Sheet: &Sheet{}}
	var places []*tree.Value
	s.Synonyms, places = r.texts(t, "synonyms")
	r.name(name, at)
	for i, p := range places {
		r.name(s.Synonyms[i], p)
	}
	s.EC, _ = r.text(t, "ec")
	s.Note, _ = r.text(t, "note")
	s.Roles, _ = r.texts(t, "roles")
	s.Remarks, _ = r.texts(t, "remarks")
	s.KeepApart, _ = r.texts(t, "keep_apart")
	r.number(t, s)
	r.mass(t, s)
	r.contains(t, s)
	r.label(t, s)
	r.advice(get(t, "advice"), s)
	if kind, at := r.text(t, "waste"); at != nil {
		s.Waste = kind
		if Built().waste[kind] == nil {
			var kinds []string
			for _, w := range Built().Waste {
				kinds = append(kinds, w.ID)
			}
			r.report(source.SheetUnknownWaste(kind, source.Nearest(kind, kinds), kinds), at)
			s.Waste = ""
		}
	}
	r.sheet(t, s)
	if review := get(t, "reviewed"); review != nil && r.keys(review, ownSubstance.Under("reviewed").Known()...) {
		r.sign(review, s)
	}
	return s
}

func (r *ownReader) name(name string, at *tree.Value) {
	if r.taken[Fold(name)] {
		r.report(source.SheetNameTwice(name), at)
	}
	r.taken[Fold(name)] = true
}

func (r *ownReader) number(t *tree.Value, s *Substance) {
	cas, at := r.text(t, "cas")
	if at == nil {
		return
	}
	digit, ok := casDigit(cas)
	switch {
	case !ok:
		r.report(source.SheetCASShape(cas), at)
	case cas[len(cas)-1] != digit:
		r.report(source.SheetCASDigit(cas, digit), at)
	default:
		s.CAS = cas
	}
}

func (r *ownReader) mass(t *tree.Value, s *Substance) {
	formula, at := r.text(t, "formula")
	written, massAt := r.text(t, "molar_mass")
	if at == nil {
		if massAt != nil {
			r.report(source.SheetMassAlone(), massAt)
		}
		return
	}
	mass, err := molar.Mass(formula)
	if err != nil {
		r.report(source.SheetFormula(err.Error()), at)
		return
	}
	s.Formula, s.MolarMass = formula, mass
	if massAt == nil {
		return
	}
	stated, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(written, "g/mol")), 64)
	switch {
	case err != nil || math.IsNaN(stated) || math.IsInf(stated, 0):
		r.report(source.SheetShape("molar_mass", "a number of grams per mole", strconv.Quote(written)), massAt)
	case math.Abs(stated-mass) > 1e-3*mass:
		r.report(source.SheetMassDiffers(written, formula, strconv.FormatFloat(mass, 'f', 3, 64)), massAt)
	}
}

func (r *ownReader) contains(t *tree.Value, s *Substance) {
	names, places := r.texts(t, "contains")
	for i, name := range names {
		in, near := Find(name)
		if in == nil {
			r.report(source.UnknownSubstance(name, near), places[i])
			continue
		}
		if !slices.Contains(s.Contains, in.ID) {
			s.Contains = append(s.Contains, in.ID)
		}
	}
}

// label reads what the sheet puts on the label, and compares it with what its
// statements require.
func (r *ownReader) label(t *tree.Value, s *Substance) {
	r.statements(t, s)
	word, wordAt := r.signalWord(t, s)
	symbols, places := r.texts(t, "pictograms")
	s.Pictograms = symbols
	for i, p := range symbols {
		if !slices.Contains(pictogramOrder, p) {
			r.report(source.SheetUnknownCode("pictogram", p, source.Nearest(p, pictogramOrder)), places[i])
		}
	}
	least, drawn := leastLabel(s.Statements)
	if wordAt != nil && wordRank(s.SignalWord) < wordRank(least) {
		r.report(source.SheetWordLow(word, least, and(s.Statements)), wordAt)
	}
	if symbols != nil {
		var missing []string
		for _, p := range drawn {
			if !slices.Contains(symbols, p) {
				missing = append(missing, p)
			}
		}
		if len(missing) > 0 {
			r.report(source.SheetPictogramsLow(and(missing), and(s.Statements)), get(t, "pictograms"))
		}
	}
	r.precautions(t, s)
}

// statements reads the codes of hazard statements.
func (r *ownReader) statements(t *tree.Value, s *Substance) {
	list := Built()
	if get(t, "statements") == nil {
		r.report(source.SheetMissing("statements", "the codes of section 2 of the sheet, [] where it has none"), t)
	}
	var known []string
	for _, h := range list.Hazard {
		known = append(known, h.Code)
	}
	codes, places := r.texts(t, "statements")
	for i, code := range codes {
		switch {
		case list.statements[code] == nil:
			r.report(source.SheetUnknownCode("hazard statement", code, source.Nearest(code, known)), places[i])
		case !slices.Contains(s.Statements, code):
			s.Statements = append(s.Statements, code)
		}
	}
}

// signalWord reads the signal word, and gives it as written with its place; nil if there is
// none, or none that GHS knows.
func (r *ownReader) signalWord(t *tree.Value, s *Substance) (string, *tree.Value) {
	word, at := r.text(t, "signal_word")
	if at == nil {
		return word, nil
	}
	switch strings.ToLower(word) {
	case "danger":
		s.SignalWord = "Danger"
	case "warning":
		s.SignalWord = "Warning"
	case "none":
	default:
		r.report(source.SheetChoice("signal_word", word, "Danger, Warning or none, the words of GHS"), at)
		return word, nil
	}
	return word, at
}

// precautions reads the codes of precautionary statements.
func (r *ownReader) precautions(t *tree.Value, s *Substance) {
	list := Built()
	var known []string
	for _, p := range list.Precautionary {
		known = append(known, p.Code)
	}
	codes, places := r.texts(t, "precautionary")
	s.Precautionary = codes
	for i, code := range codes {
		if list.precautions[code] == nil {
			r.report(source.SheetUnknownCode("precautionary statement", code, source.Nearest(code, known)), places[i])
		}
	}
}

func (r *ownReader) advice(t *tree.Value, s *Substance) {
	if t == nil || !r.keys(t, ownSubstance.Under("advice").Known()...) {
		return
	}
	a := &s.Advice
	for key, into := range map[string]*string{"gloves": &a.Gloves, "eyes": &a.Eyes, "ventilation": &a.Ventilation, "dust": &a.Dust,
		"heat": &a.Heat, "sensitiser": &a.Sensitiser, "pregnancy": &a.Pregnancy} {
		*into, _ = r.text(t, key)
	}
}

func (r *ownReader) sheet(t *tree.Value, s *Substance) {
	sheet := get(t, "sheet")
	if sheet == nil {
		r.report(source.SheetMissing("sheet", "author and date of the supplier's safety data sheet"), t)
		return
	}
	if !r.keys(sheet, ownSubstance.Under("sheet").Known()...) {
		return
	}
	s.Sheet.Author, _ = r.needs(sheet, "author", "who issued the safety data sheet")
	s.Sheet.Edition, _ = r.text(sheet, "edition")
	if text, at := r.needs(sheet, "date", "the day of issue, as 2026-10-01"); at != nil {
		s.Sheet.Date, s.Sheet.dated = r.day("date", text, at), at.Span
	}
	text, at := r.text(sheet, "review")
	if at == nil {
		return
	}
	s.Sheet.Period, s.Sheet.place = text, at.Span
	due, ok := after(s.Sheet.Date, text)
	if !ok {
		r.report(source.SheetPeriod(text), at)
		return
	}
	if !s.Sheet.Date.IsZero() {
		s.Sheet.Due = due
	}
}

func (r *ownReader) day(key, text string, at *tree.Value) time.Time {
	d, err := time.Parse(time.DateOnly, text)
	if err != nil || d.Year() < 1900 {
		r.report(source.SheetDay(key, text), at)
		return time.Time{}
	}
	return d
}

var period = regexp.MustCompile(`^([1-9][0-9]{0,3}) (day|week|month|year)s?$`)

// after adds a calendar period. A month without the day gives its last one.
func after(from time.Time, text string) (time.Time, bool) {
	m := period.FindStringSubmatch(text)
	if m == nil {
		return time.Time{}, false
	}
	n, _ := strconv.Atoi(m[1])
	months := 0
	switch m[2] {
	case "day":
		return from.AddDate(0, 0, n), true
	case "week":
		return from.AddDate(0, 0, 7*n), true
	case "month":
		months = n
	case "year":
		months = 12 * n
	}
	first := time.Date(from.Year(), from.Month()+time.Month(months), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return first.AddDate(0, 0, min(from.Day(), last)-1), true
}

func (r *ownReader) reviewOf(t *tree.Value) {
	if !r.keys(t, signedRow.Known()...) {
		return
	}
	name, at := r.needs(t, "name", "the row that is signed")
	if at == nil {
		return
	}
	s, near := Find(name)
	if s == nil {
		r.report(source.UnknownSubstance(name, near), at)
		return
	}
	if _, twice := r.own.reviews[s]; twice {
		r.report(source.SheetNameTwice(name), at)
		return
	}
	r.sign(t, s)
}

// sign needs both a role and a day: half a signature signs nothing.
func (r *ownReader) sign(t *tree.Value, s *Substance) {
	by, byAt := r.needs(t, "by", "the role that checked it")
	text, at := r.needs(t, "date", "the day it was checked, as 2026-10-01")
	if byAt == nil || at == nil {
		return
	}
	if day := r.day("date", text, at); !day.IsZero() {
		r.own.reviews[s] = Review{By: by, Date: day}
	}
}
