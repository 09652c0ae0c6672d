package theme

import (
	"html/template"
	"strings"

	"labsite/recipes/source"
)

// Products is a sheet of labels for the containers of what a page makes, the data of
// products.html. Its look is labels.css. It prints on A4 and on letter paper.
type Products struct {
	Shell                // Styles is labels.css
	Page  Link           // the page that it is made from, relative to the sheet
	Items []ProductLabel // one for each label, in order; the same one may stand several times
}

// ProductLabel is one label of a product. The theme shows the hazards above the first number, and
// leaves lines for lot, day of mixing, initials and anything that is not known. What depends on values
// that a reader can set changes with them; labels.js writes these values, and takes all numbers away
// if they are refused.
type ProductLabel struct {
	Lab      string // the lab's name
	Name     string // "Staining syrup"
	Number   string // number of the page that it is mixed by; empty: none
	Revision string
	Code     *PaperCode // nil: none
	// Hazards are those that the lab's own safety data sheet of the product states; nil: the label
	// has Parts, and room to copy the product's classification from its data sheet.
	Hazards *Hazards
	Parts   []ProductPart // what it contains, each with its own hazards
	Amount  template.HTML // "1 l"; empty: a line
	Refused bool          // the page refuses its own values: the label has no number
	UseBy   template.HTML // the last day of use; empty: a line
	Lasts   template.HTML // the rule for it, "12 months"; empty: none
	Opened  template.HTML // how long it keeps once opened, "3 months"; empty: not said
	Store   string        // "dark and cool"; empty: not said
}

// ProductPart is a substance that a product contains. Its hazards are the substance's own, not
// the product's.
type ProductPart struct {
	Name string // "Pyrogallol, 5 %"
	Word string // its signal word; empty: none is listed
	Says string // its hazard statements in full, one after another; empty: none is listed
}

// Sheets are the labels by sheet: four on each, since hazards need room.
func (l Products) Sheets() [][]ProductLabel {
	const each = 4
	var out [][]ProductLabel
	for rest := l.Items; len(rest) > 0; {
		n := min(each, len(rest))
		out = append(out, rest[:n])
		rest = rest[n:]
	}
	return out
}

// pieces are the texts that must stand on the label above its first number.
func (l ProductLabel) pieces() []string {
	if l.Hazards != nil {
		return l.Hazards.pieces(false)
	}
	var out []string
	for _, p := range l.Parts {
		out = append(out, p.Name, p.Word, p.Says)
	}
	return out
}

// Products fills products.html. It refuses the result if hazards of a label are missing, or stand below
// its amount.
func (t *Templates) Products(v *Products) ([]byte, source.List) {
	out, list := t.fill("products", v)
	if list.Errors() > 0 {
		return nil, list
	}
	path := t.files["products"].Path
	rest := string(out)
	for _, label := range v.Items {
		above := rest
		if label.Amount != "" {
			before, after, found := strings.Cut(rest, string(label.Amount))
			if !found {
				continue // a theme may leave amounts out
			}
			above, rest = before, after
		}
		if lost := missingFrom(above, label.pieces()); lost != "" {
			if missingFrom(string(out), []string{lost}) == "" {
				return nil, append(list, source.ThemeOrder("what a label says of hazards: "+lost).AtFile(path))
			}
			return nil, append(list, source.ThemeDrops("of the hazards: "+lost).AtFile(path))
		}
	}
	return out, list
}
