package approval

import "strings"

// Record is an approved revision of a page.
type Record struct {
	Number   string `json:"number"`
	Revision int    `json:"revision"`
	// Page is the page's path in the content folder.
	Page  string `json:"page"`
	Title string `json:"title"`
	// By is the role that approved it, Owner the one that answers for it.
	By    string `json:"by"`
	Owner string `json:"owner,omitempty"`
	// Approved and Effective are the days that the page gives, Recorded is the one on which the
	// record was written; all as 2026-11-28.
	Approved  string `json:"approved"`
	Effective string `json:"effective,omitempty"`
	Recorded  string `json:"recorded"`

	// Numbers are all that the page prints at its own values and in its tables.
	Numbers []Number `json:"numbers"`
	// Over are the labelled figures over all cases that the page is tested in.
	Over     []Over   `json:"over_cases"`
	Limits   []string `json:"limits"`
	Cautions []string `json:"cautions"`
	Steps    []string `json:"steps"`
	Text     []string `json:"text"`
	Checks   []string `json:"checks"`
	// Pages are what the numbers come from: the page itself, then those that it draws on.
	Pages []Page `json:"pages"`
	// Bench are the bench formulas that they call.
	Bench []Bench `json:"bench_formulas"`
	// Sources are the files that the revision can be printed from again: the page, its data,
	// the pages that it draws on and their data.
	Sources []Source `json:"sources"`
}

// Number is one number that a page prints.
type Number struct {
	Name  string `json:"name"`
	Label string `json:"label,omitempty"`
	// Shown is how it is printed; "" for one that moves by itself, with the day or with what is
	// measured, and is not compared with the record.
	Shown string `json:"shown"`
	// Of is the formula that it is worked out by, if Name is not that of a figure.
	Of string `json:"of,omitempty"`
	// Table says which table the number is in; "" for one at the page's own values.
	Table string `json:"table,omitempty"`
	// Moves says why the number is not compared with the record.
	Moves string `json:"moves,omitempty"`
}

// Over is a labelled figure over the cases of a page.
type Over struct {
	Name  string `json:"name"`
	Label string `json:"label,omitempty"`
	// Cases is how many were tried, Refused how many of them have no number.
	Cases   int    `json:"cases"`
	Refused int    `json:"refused"`
	Least   string `json:"least,omitempty"`
	Most    string `json:"most,omitempty"`
	// Sum is the digest of its values in all cases: where two are equal, so are all values.
	Sum string `json:"sum"`
}

// Page is what a page works out.
type Page struct {
	Path    string   `json:"path"`
	Given   []Given  `json:"given"`
	Figures []Figure `json:"figures"`
	Draws   []Draw   `json:"draws_on,omitempty"`
	Data    []Data   `json:"data,omitempty"`
}

// Given is a constant, or a value that a reader may set.
type Given struct {
	Name  string `json:"name"`
	Label string `json:"label,omitempty"`
	// Value is the page's own, for a reading the example that checks use.
	Value   string   `json:"value"`
	Reading bool     `json:"reading,omitempty"`
	Within  string   `json:"within,omitempty"`
	From    string   `json:"from,omitempty"`
	To      string   `json:"to,omitempty"`
	Step    string   `json:"step,omitempty"`
	Choices []string `json:"choices,omitempty"`
	Source  string   `json:"source,omitempty"`
	Owner   string   `json:"owner,omitempty"`
	Review  string   `json:"review,omitempty"`
}

// Figure is a name and its formula.
type Figure struct {
	Name    string `json:"name"`
	Label   string `json:"label,omitempty"`
	Formula string `json:"formula"`
	Show    string `json:"show,omitempty"`
}

// Draw is a page drawn on, with the given values that are set there.
type Draw struct {
	Name string   `json:"name"`
	Page string   `json:"page"`
	At   []Figure `json:"at,omitempty"`
}

// Data is a data file, by its name on the page.
type Data struct {
	Name string `json:"name"`
	File string `json:"file"`
	// Adds are the columns that are worked out for each row.
	Adds []Figure `json:"adds,omitempty"`
}

// Bench is a bench formula with its valid range.
type Bench struct {
	// Name is how it is called, with its parameters.
	Name    string   `json:"name"`
	Formula string   `json:"formula"`
	Fixed   []string `json:"fixed,omitempty"`
	Refuses []string `json:"refuses,omitempty"`
}

// Source is a file as it was, line by line.
type Source struct {
	Path  string   `json:"path"`
	Lines []string `json:"lines"`
}

// page finds a page of the record; nil if there is none.
func (r *Record) page(path string) *Page {
	for i := range r.Pages {
		if r.Pages[i].Path == path {
			return &r.Pages[i]
		}
	}
	return nil
}

// NumberNamed finds a number at the page's own values, or in a table.
func (r *Record) NumberNamed(name string) (Number, bool) {
	for _, n := range r.Numbers {
		if n.Name == name {
			return n, true
		}
	}
	return Number{}, false
}

func (p *Page) given(name string) *Given {
	if p == nil {
		return nil
	}
	for i := range p.Given {
		if p.Given[i].Name == name {
			return &p.Given[i]
		}
	}
	return nil
}

func (p *Page) figure(name string) *Figure {
	if p == nil {
		return nil
	}
	for i := range p.Figures {
		if p.Figures[i].Name == name {
			return &p.Figures[i]
		}
	}
	return nil
}

func (p *Page) draw(name string) *Draw {
	if p == nil {
		return nil
	}
	for i := range p.Draws {
		if p.Draws[i].Name == name {
			return &p.Draws[i]
		}
	}
	return nil
}

func (p *Page) data(name string) *Data {
	if p == nil {
		return nil
	}
	for i := range p.Data {
		if p.Data[i].Name == name {
			return &p.Data[i]
		}
	}
	return nil
}

// Outside is the path that a file of a record has in the content folder; any other path is
// unchanged.
func Outside(p string) string {
	rest, is := strings.CutPrefix(p, Folder+"/")
	if !is {
		return p
	}
	_, rest, is = strings.Cut(rest, "/")
	if _, inside, ok := strings.Cut(rest, "/"); is && ok {
		return inside
	}
	return p
}
