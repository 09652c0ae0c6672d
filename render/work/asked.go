package work

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"labsite/recipes/formula"
	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/content"
)

// Ask is something that a page needs to know besides its own text.
type Ask struct {
	What What
	Name string // a path, or the name of a bench formula or a substance; "" for the page itself
}

// What is the kind of an ask.
type What uint8

// What a page may ask.
const (
	Standing     What = iota // whether its folder is the staff's, what clashes with it, how deep it draws on others
	Data                     // the bytes of a data file
	Drawn                    // all that a page drawn on is made from, and whether it has errors
	Target                   // who may see a page or file that it links to
	Anchors                  // the headings of a page that it links to
	Names                    // the names of all files, for a suggestion
	BenchFormula             // a bench formula, by name, whether there is one or not
	BenchNames               // the names of all bench formulas, for a suggestion
	Declared                 // a substance that it or a page drawn on declares
	Mentioned                // the lab's own substances that its texts may name
	Due                      // which of its reviews are overdue
	Approvals                // the records of its approved revisions, by its number
	Today                    // which day it is
)

// Answer is the sum of what was found for an ask.
type Answer struct {
	Ask
	Sum content.Sum
}

// asked notes each answer when it is given.
type asked map[Ask]content.Sum

// due is the time after which a review is overdue.
type due = time.Time

// Verdict is what was found out about a page, with all that it was worked out from. It holds as
// long as every answer stays the same.
type Verdict struct {
	Page  content.Sum // of the page's own bytes
	Asked []Answer
	// Sum is over all that the page was worked out from.
	Sum  content.Sum
	List source.List
	// Wrong is Page.Wrong, Trusted is Page.Trusted; Unlisted says that the page handles a
	// substance that the hazard list does not have.
	Wrong, Unlisted, Trusted bool
	// Anchors is the sum of the ids of its headings.
	Anchors content.Sum
	Dues    []time.Time
	Words   WordSet
}

// Verdict sums up a page that was made.
func (p *Page) Verdict() Verdict {
	v := Verdict{Page: p.Sum, List: p.List.Sorted().Bounded(), Wrong: p.wrong, Unlisted: p.unlistedSubstance, Trusted: p.Trusted(), Anchors: p.anchors(), Dues: p.dues, Words: p.words}
	for ask, sum := range p.asked {
		v.Asked = append(v.Asked, Answer{ask, sum})
	}
	slices.SortFunc(v.Asked, func(a, b Answer) int {
		return cmp.Or(cmp.Compare(a.What, b.What), cmp.Compare(a.Name, b.Name))
	})
	v.Sum = sumOf(p.Page, v.Asked)
	return v
}

func sumOf(p *content.Page, answers []Answer) content.Sum {
	s := content.NewSummer(p.Path)
	s.AddSum(p.Sum)
	for _, a := range answers {
		s.Add(strconv.Itoa(int(a.What)) + a.Name)
		s.AddSum(a.Sum)
	}
	return s.Sum()
}

// Holds reports whether a verdict still holds for a page.
func (d *Desk) Holds(p *content.Page, v *Verdict) bool {
	if v.Page != p.Sum {
		return false
	}
	for _, a := range v.Asked {
		if d.answer(p, a.Ask, v.Dues, v.Words) != a.Sum {
			return false
		}
	}
	return true
}

// ask notes the answer to what a page asks.
func (d *Desk) ask(p *Page, what What, name string) {
	a := Ask{what, name}
	if _, done := p.asked[a]; !done {
		p.asked[a] = d.answer(p.Page, a, p.dues, p.words)
	}
}

// answer gives the present answer to an ask.
func (d *Desk) answer(p *content.Page, a Ask, dues []time.Time, words WordSet) content.Sum {
	c := d.Content
	switch a.What {
	case Standing:
		s := content.NewSummer(strconv.FormatBool(p.Staff()), p.Standing.String())
		for _, x := range p.Clash {
			s.Add(x.String())
		}
		for _, word := range c.Settings.Counts {
			s.Add("counts " + word)
		}
		return s.Sum()
	case Data:
		return content.SumOf(strconv.FormatBool(c.IsStaffFile(a.Name)), string(sumBytes(c.FileSum(a.Name))))
	case Drawn:
		if to := c.Page(a.Name); to != nil {
			v := d.Memory.Verdict(d, to)
			return content.SumOf(standing(to), strconv.FormatBool(v.Wrong), string(sumBytes(v.Sum)))
		}
	case Target:
		if to := c.Page(a.Name); to != nil {
			return content.SumOf("page", standing(to))
		}
		if c.HasFile(a.Name) {
			return content.SumOf("file", strconv.FormatBool(c.IsStaffFile(a.Name)), string(sumBytes(c.FileSum(a.Name))))
		}
	case Anchors:
		if to := c.Page(a.Name); to != nil {
			return d.Memory.Anchors(d, to)
		}
	case Names:
		return d.namesSum()
	case BenchFormula:
		return d.benchSum(a.Name)
	case BenchNames:
		return content.SumOf(c.Formulas.Names()...)
	case Declared:
		return content.SumOf(foundText(c.Substances, a.Name), strconv.FormatBool(c.SubstancesBroken))
	case Mentioned:
		return mentioned(c.Substances, words)
	case Approvals:
		return c.RecordSum(a.Name)
	case Due:
		s := content.NewSummer()
		for _, t := range dues {
			s.Add(strconv.FormatBool(c.Past(t)))
		}
		return s.Sum()
	case Today:
		return content.SumOf(c.Day.Format(time.DateOnly))
	}
	return content.Sum{}
}

func sumBytes(s content.Sum) []byte { return s[:] }

// standing is what decides whether other pages may link to a page or draw on it.
func standing(p *content.Page) string {
	return string(p.Status()) + strconv.FormatBool(p.Staff()) + strconv.FormatBool(p.SaidStaff()) + strconv.FormatBool(p.Head != nil)
}

// anchors is the sum of what a page that links to this one can refer to in its text.
func (p *Page) anchors() content.Sum {
	s := content.NewSummer()
	if p.Body != nil {
		for _, h := range p.Body.Headings() {
			s.Add(h.ID)
		}
	}
	return s.Sum()
}

// AnchorsOf is the sum of the ids of a page's headings.
func (d *Desk) AnchorsOf(p *content.Page) content.Sum { return d.Read(p).anchors() }

// namesSum is the sum of all names, worked out once for a state of the folder.
func (d *Desk) namesSum() content.Sum {
	if d.names == (content.Sum{}) {
		d.names = content.SumOf(d.Content.Names()...)
	}
	return d.names
}

// benchSum is the sum of all that a call of a bench formula depends on, worked out once for a state
// of the folder.
func (d *Desk) benchSum(name string) content.Sum {
	if sum, ok := d.bench[name]; ok {
		return sum
	}
	c := d.Content
	text := "none"
	if t, ok := c.Formulas.Trade(name); ok {
		text = tradeText(t)
		e, _ := c.Formulas.Find(name)
		text += strconv.FormatBool(e != nil && e.Own && c.FormulasBroken)
	}
	sum := content.SumOf(text, strconv.FormatBool(text == "none" && c.FormulasBroken))
	d.bench[name] = sum
	return sum
}

// tradeText is everything in a bench formula that a call depends on; two with the same text
// behave the same.
func tradeText(t *formula.Trade) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%q %+v %+v %+v %+v %q", t.Name, t.Params, t.Fixed, t.Result, t.Windows, t.Body.Normal())
	for _, g := range t.Guards {
		fmt.Fprintf(&b, " %q %q", g.When.Normal(), g.Reason)
	}
	return b.String()
}

// row is everything that a page learns by looking a substance up.
func row(s *hazard.Substance) string {
	text := fmt.Sprintf("%q %q %q %q %q", s.ID, s.Name, s.Synonyms, s.CAS, s.Contains)
	for _, f := range s.Forms {
		text += fmt.Sprintf(" %q %q", f.Name, f.CAS)
	}
	return text
}

// foundText is the result of looking up a declared name.
func foundText(own *hazard.OwnSheets, name string) string {
	found, near := own.Find(name)
	if found == nil {
		return "offers " + near
	}
	return row(found)
}

// mentioned is the sum of those of the lab's own substances that a text of these words may name.
// Their order counts: of two that share a name, the first has it.
func mentioned(own *hazard.OwnSheets, words WordSet) content.Sum {
	s := content.NewSummer()
	for _, x := range own.Substances() {
		names := append([]string{x.Name}, x.Synonyms...)
		for _, f := range x.Forms {
			kind, _, _ := strings.Cut(f.Name, " (")
			names = append(names, kind+" "+x.Name)
		}
		if slices.ContainsFunc(names, words.mayName) {
			s.Add(row(x))
		}
	}
	return s.Sum()
}

// library hands a page what it asks of other files, and notes what was asked.
type library struct {
	desk *Desk
	page *Page
}

// Table gives a data file; see page.Library.
func (k library) Table(path string) (*page.Table, bool) {
	k.desk.ask(k.page, Data, path)
	return k.desk.Content.Table(path)
}

// Today is the day of the build; see page.Almanac.
func (k library) Today() float64 {
	k.desk.ask(k.page, Today, "")
	return quantity.DayOf(k.desk.Content.Day)
}

// Files lists the data files; see page.Library.
func (k library) Files() []string {
	k.desk.ask(k.page, Names, "")
	return k.desk.Content.Files()
}

// Trade finds a bench formula; this is also called for those that it calls in turn.
func (k library) Trade(name string) (*formula.Trade, bool) {
	k.desk.ask(k.page, BenchFormula, name)
	c := k.desk.Content
	if e, ok := c.Formulas.Find(name); ok && e.Own && c.FormulasBroken {
		k.page.callsBroken = true
	}
	return c.Formulas.Trade(name)
}

// Names lists the bench formulas.
func (k library) Names() []string {
	k.desk.ask(k.page, BenchNames, "")
	return k.desk.Content.Formulas.Names()
}
