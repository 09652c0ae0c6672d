package formulary

import (
	"embed"
	"io/fs"
	"strings"
	"sync"

	"labsite/recipes/formula"
	"labsite/recipes/molar"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

//go:embed outside/*.yaml
var outsideFiles embed.FS

// OutsideCheck compares one value from outside the project (a published standard, a table of
// a handbook, a worked example, a library of general use) with what the bench formulas and
// the formula language give.
type OutsideCheck struct {
	// ID names the row; a row with several values has several checks.
	ID, What string
	// Formula is what was worked out.
	Formula string
	// Source names where the value comes from, Provenance how it was obtained from there.
	Source, Provenance string
	Expected, Found    string
	// Deviation is the found value minus the expected one, "" unless both are numbers.
	Deviation string
	OK        bool
}

var outsideChecks = sync.OnceValues(func() ([]OutsideCheck, source.List) {
	paths, err := fs.Glob(outsideFiles, "outside/*.yaml")
	if err != nil {
		return nil, nil
	}
	var out []OutsideCheck
	var list source.List
	for _, path := range paths {
		raw, err := outsideFiles.ReadFile(path)
		if err != nil {
			continue
		}
		f, l := source.New(path, raw)
		list = append(list, l...)
		checks, l := Load().outside(f)
		out = append(out, checks...)
		list = append(list, l...)
	}
	return out, list
})

// Outside runs all outside checks, in the order of their rows.
func Outside() []OutsideCheck {
	checks, _ := outsideChecks()
	return append([]OutsideCheck(nil), checks...)
}

// outside works out the rows of a file. A row has an id, what, source and provenance,
// trials, and perhaps masses (names for molar masses) and a table (columns of numbers for
// the data functions). A trial has work, a formula, and expect: a value with its
// tolerance, refused, or error where the formula itself must be refused.
func (s *Set) outside(f *source.File) ([]OutsideCheck, source.List) {
	root, list := tree.Parse(f, 0, len(f.Text))
	r := &reader{file: f, list: list}
	var out []OutsideCheck
	if root == nil {
		return nil, r.list
	}
	rows := root.Get("rows")
	if rows == nil || rows.Shape != tree.List {
		r.report(source.MissingKey("rows", "rows: and a list"), root.Span)
		return nil, r.list
	}
	set := s.unowned()
	for _, row := range rows.Items {
		r.known(row, "id", "what", "source", "provenance", "masses", "table", "trials")
		c := OutsideCheck{
			ID: r.needs(row, "id", "id", row.Span), What: r.needs(row, "what", "what", row.Span),
			Source: r.needs(row, "source", "source", row.Span), Provenance: r.needs(row, "provenance", "provenance", row.Span),
		}
		trials := row.Get("trials")
		if trials == nil || trials.Shape != tree.List || len(trials.Items) == 0 {
			r.report(source.MissingKey("trials", "trials"), row.Span)
			continue
		}
		for _, trial := range trials.Items {
			r.known(trial, "work", "expect")
			c := c
			c.Formula = r.needs(trial, "work", "work", trial.Span)
			c.Expected = r.needs(trial, "expect", "expect", trial.Span)
			scope := &entryScope{set: set, symbols: map[string]formula.Symbol{}}
			values := r.rowNames(row, scope)
			w, faults := set.work(c.Formula, scope, values)
			switch {
			case len(faults) > 0:
				c.Found, c.OK = "error: "+faults[0].Message, c.Expected == "error"
			case w.Refused != "":
				c.Found, c.OK = "refused: "+w.Refused, c.Expected == "refused"
			case c.Expected == "error" || c.Expected == "refused":
				c.Found = w.Show.Format(w.Base).Text
			default:
				want, t := quantity.ParseExpected(c.Expected)
				if t != nil {
					r.report(t.Problem, trial.Get("expect").Place(t.Start, t.End))
					continue
				}
				c.Found, c.Deviation, c.OK = meets(w, want)
			}
			out = append(out, c)
		}
	}
	return out, r.list
}

// rowNames binds a row's masses and columns, and gives the values of the masses by slot.
func (r *reader) rowNames(row *tree.Value, scope *entryScope) []float64 {
	var values []float64
	if masses := row.Get("masses"); masses != nil {
		kind, _ := quantity.Mass.Over(quantity.Amount)
		for i, k := range masses.Keys {
			m, err := molar.Mass(r.text(masses.Items[i], k.Text))
			if err != nil {
				r.report(source.SheetFormula(err.Error()), masses.Items[i].Span)
			}
			scope.bind(k.Text, kind, formula.Owned)
			values = append(values, m)
		}
	}
	if table := row.Get("table"); table != nil {
		scope.columns = map[string]formula.Column{}
		for i, k := range table.Keys {
			c := formula.Column{File: trialFile, Name: k.Text, Table: row}
			for _, cell := range table.Items[i].Items {
				q, t := quantity.Parse(strings.TrimSpace(cell.Text))
				if t != nil {
					r.report(t.Problem, cell.Span)
				}
				c.Kind, c.Unit = q.Kind, q.Unit
				c.Cells = append(c.Cells, q.Base)
				c.Lines = append(c.Lines, len(c.Lines)+1)
			}
			scope.columns[k.Text] = c
		}
	}
	return values
}
