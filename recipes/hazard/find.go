package hazard

import (
	"slices"
	"strings"
	"unicode"

	"labsite/recipes/source"
)

// Find gives the row of the built-in list with a generic name, a synonym, a form
// (`sodium carbonate monohydrate`) or a CAS number. Case, runs of spaces and the
// spellings sulph/sulf and aluminum/aluminium make no difference. Where there is
// none the substance is nil, and nearest is the name spelled most like it, or "".
// A CAS number that is not listed offers none: a wrong one looks too much like
// the right one.
func Find(name string) (found *Substance, nearest string) { return (*OwnSheets)(nil).Find(name) }

// Find is like the function of that name, with the shop's own substances before
// those of the list. The sheets may be nil.
func (o *OwnSheets) Find(name string) (found *Substance, nearest string) {
	key := Fold(name)
	if o != nil {
		if s := o.names.exact[key]; s != nil {
			return s, ""
		}
	}
	list := Built()
	if s := list.names.exact[key]; s != nil {
		return s, ""
	}
	if key == "" || IsCAS(key) {
		return nil, ""
	}
	spelled, folded := list.names.spelled, list.names.folded
	if o != nil {
		spelled, folded = slices.Concat(o.names.spelled, spelled), slices.Concat(o.names.folded, folded)
	}
	if near := source.Nearest(key, folded); near != "" {
		for i, f := range folded {
			if f == near {
				return nil, spelled[i]
			}
		}
	}
	return nil, ""
}

// names is what the substances of a list are called.
type names struct {
	exact   map[string]*Substance // by folded name and by CAS number
	spelled []string              // as written, for offers
	folded  []string              // the same, folded
	tree    *letter               // for finding names in text
}

// newNames indexes substances. Where two share a name or a CAS number the first
// keeps it.
func newNames(substances []*Substance) *names {
	n := &names{exact: map[string]*Substance{}, tree: new(letter)}
	add := func(name string, s *Substance) {
		key := Fold(name)
		if key == "" || n.exact[key] != nil {
			return
		}
		n.exact[key] = s
		n.spelled, n.folded = append(n.spelled, name), append(n.folded, key)
		n.tree.add(name, s)
	}
	for _, s := range substances {
		add(s.Name, s)
	}
	for _, s := range substances {
		for _, name := range s.Synonyms {
			add(name, s)
		}
	}
	for _, s := range substances {
		if s.CAS != "" && n.exact[s.CAS] == nil {
			n.exact[s.CAS] = s
		}
		for _, f := range s.Forms {
			kind, _, _ := strings.Cut(f.Name, " (")
			add(s.Name+" "+kind, s)
			add(kind+" "+s.Name, s)
			if n.exact[f.CAS] == nil {
				n.exact[f.CAS] = s
			}
		}
	}
	return n
}

var spellings = strings.NewReplacer("sulph", "sulf", "aluminum", "aluminium")

// Fold makes spellings of one name equal.
func Fold(name string) string {
	name = strings.ToLower(strings.Join(strings.FieldsFunc(name, unicode.IsSpace), " "))
	return spellings.Replace(name)
}

// IsCAS reports whether a name has the form of a CAS number.
func IsCAS(s string) bool {
	digits := 0
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r != '-':
			return false
		}
	}
	return digits > 3 && strings.Count(s, "-") == 2
}

// casDigit gives the check digit for the rest of a CAS number: the sum of its
// digits from the right times 1, 2, 3 …, modulo 10 (CAS, check digit
// verification). ok is false for a text that is not like 1234-56-7.
func casDigit(cas string) (want byte, ok bool) {
	parts := strings.Split(cas, "-")
	if len(parts) != 3 || len(parts[0]) < 2 || len(parts[0]) > 7 || len(parts[1]) != 2 || len(parts[2]) != 1 {
		return 0, false
	}
	sum, digits := 0, parts[0]+parts[1]
	for i := range len(digits) {
		d := digits[len(digits)-1-i]
		if d < '0' || d > '9' {
			return 0, false
		}
		sum += int(d-'0') * (i + 1)
	}
	if d := parts[2][0]; d < '0' || d > '9' {
		return 0, false
	}
	return byte('0' + sum%10), true
}
