package write

import (
	"encoding/json"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/approval"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/render/work"
)

// Bounds of what a page knows of its earlier revisions, so that it can judge old paper without a
// network: how many revisions, and how many numbers of each that no longer hold.
const (
	mostRecalled        = 8
	mostNumbersRecalled = 24
)

// paperAnchor ends the address in a code with number and revision. What the paper was set to
// follows, as in every address; nothing follows at the page's own values. If that is too long for a
// code, or is refused, a "~" after the revision says that the values were others (themes/code.js).
func paperAnchor(c *page.Control) string {
	if c == nil || c.Number == "" {
		return ""
	}
	return "#paper=" + url.QueryEscape(c.Number+"."+Revision(c))
}

// recall is what a page knows of paper that was printed from it: its own revision and, for earlier
// ones, which of their numbers have changed.
type recall struct {
	Number   string    `json:"number"`
	Revision int       `json:"revision"`
	Recorded bool      `json:"recorded"` // there is a record of what was approved
	Earlier  []earlier `json:"earlier"`
}

type earlier struct {
	Revision int `json:"revision"`
	// Changed are the numbers on such paper, at the page's own values of that time, that the page
	// now gives differently at the same values; More is how many are left out.
	Changed []recalled `json:"changed,omitempty"`
	More    int        `json:"more,omitempty"`
	// Moved are those that differ at some values that a reader can set: paper at other values than
	// the page's own may have a number that no longer holds.
	Moved []recalled `json:"moved,omitempty"`
	// Unlike says that the page cannot be set as it was then.
	Unlike bool `json:"unlike,omitempty"`
	// Script is the file beside the page that works this revision out, "" if there is none.
	Script string `json:"script,omitempty"`
}

// aboutEarlier is what the script of an earlier revision tells besides its formulas.
type aboutEarlier struct {
	earlier
	// Labels are the names and labels of figures, and Steps what its steps do, for messages about
	// their numbers.
	Labels [][]string `json:"labels,omitempty"`
	Steps  []string   `json:"steps,omitempty"`
	// Products are the values of what it makes, in the order in which that script places them;
	// Now is the number of the placement that gives each on the present page, -1 for none.
	Products []madeThen `json:"products,omitempty"`
}

type madeThen struct {
	Label string `json:"label"`
	Now   int    `json:"now"`
}

type recalled struct {
	Label  string `json:"label"`
	At     string `json:"at,omitempty"`
	Before string `json:"before"`
	After  string `json:"after"`
}

// recall is what a page needs to judge paper from which it was opened, as JSON; "" unless the page
// is approved.
func (p *pager) recall() string {
	c := p.page.Sheet.Control
	if c == nil || c.Status != page.Approved || p.page.Proof == nil {
		return ""
	}
	r := recall{Number: c.Number, Revision: c.Revision, Recorded: p.page.Standard != nil && p.page.Standard.Record != nil, Earlier: []earlier{}}
	now := p.desk.Record(p.page, c.ApprovedBy, c.Approved)
	if now != nil {
		for _, old := range p.recalled() {
			e := p.earlier(old, now)
			if p.earlierPage(old) != nil {
				// the script tells the rest, so that the page stays small
				e = earlier{Revision: old.Revision, Script: earlierScript(p.page, old.Revision)}
			}
			r.Earlier = append(r.Earlier, e)
		}
	}
	b, err := json.Marshal(r)
	if err != nil {
		return ""
	}
	return string(b)
}

// earlier compares what paper of a revision says with what the page gives now.
func (p *pager) earlier(old, now *approval.Record) earlier {
	e := earlier{Revision: old.Revision, Changed: []recalled{}, Moved: []recalled{}}
	run, ok := p.setAs(old)
	e.Unlike = !ok
	shown := printedAt(p.page, run)
	for _, n := range old.Numbers {
		label := readersName(approval.Difference{Name: n.Name, Label: n.Label})
		if label == "" || n.Moves != "" || isSettable(old, n.Name) {
			continue
		}
		after := shown[n.Name]
		if after == n.Shown {
			continue
		}
		if len(e.Changed) == mostNumbersRecalled {
			e.More++
			continue
		}
		e.Changed = append(e.Changed, recalled{Label: label, Before: n.Shown, After: after})
	}
	for _, d := range approval.Numbers(p.desk.Differences(old, now, p.page)) {
		if d.Over != nil && d.Label != "" && len(e.Moved) < mostNumbersRecalled {
			e.Moved = append(e.Moved, recalled{d.Label, p.settingsInWords(d.Over.At), d.Over.Before, d.Over.After})
		}
	}
	return e
}

// aboutEarlier says what the script of an earlier revision works out.
func (p *pager) aboutEarlier(was *work.Earlier, old *approval.Record) (e aboutEarlier) {
	if now := p.desk.Record(p.page, p.page.Sheet.Control.ApprovedBy, p.page.Sheet.Control.Approved); now != nil {
		e.earlier = p.earlier(old, now)
	}
	sheet := was.Sheet
	for _, f := range sheet.Figures {
		if f.Label != "" {
			e.Labels = append(e.Labels, []string{f.Name, f.Label})
		}
	}
	for i, s := range sheet.Steps {
		name := strings.TrimSpace(s.Do.Text)
		if strings.Contains(name, "{") {
			name = "step " + strconv.Itoa(i+1)
		}
		e.Steps = append(e.Steps, name)
	}
	now := map[string]int{}
	for _, m := range p.page.Sheet.Makes {
		for _, v := range m.Values() {
			now[work.ProductNumber(m, v)] = p.page.Script.Product(v)
		}
	}
	for _, name := range was.Products {
		label := name
		for _, n := range old.Numbers {
			if n.Name == name {
				label = n.Label
			}
		}
		e.Products = append(e.Products, madeThen{label, now[name] - 1})
	}
	return e
}

// earlierScript is where the script of an earlier revision stands, beside the page.
func earlierScript(p *work.Page, revision int) string {
	return strings.TrimSuffix(scriptAddress(p), ".js") + "." + strconv.Itoa(revision) + ".js"
}

// earlierPage is an earlier revision; nil if there is none, or if it was for staff only and this
// site is not.
func (p *pager) earlierPage(old *approval.Record) *work.Earlier {
	e := p.desk.Earlier(old)
	if e == nil || p.Audience != page.Staff && e.Sheet.Audience == page.Staff {
		return nil
	}
	return e
}

// earlierScripts puts the scripts of earlier revisions beside the page.
func (p *pager) earlierScripts(put Put) {
	for _, old := range p.recalled() {
		if e := p.earlierPage(old); e != nil {
			about, err := encode(p.aboutEarlier(e, old))
			if err != nil {
				continue
			}
			js := slices.Concat(e.Script, []byte("labsiteEarlier.tell("+strconv.Itoa(old.Revision)+","), about, []byte(");\n"))
			put(path.Join(path.Dir(p.page.Address()), earlierScript(p.page, old.Revision)), js, nil)
		}
	}
}

// recalled lists the records of the earlier revisions that a page knows of, the latest first.
func (p *pager) recalled() (out []*approval.Record) {
	c := p.page.Sheet.Control
	if c == nil || c.Status != page.Approved || p.page.Proof == nil {
		return nil
	}
	revisions := p.Content.Revisions(c.Number)
	slices.Reverse(revisions)
	for _, revision := range revisions {
		if revision >= c.Revision || len(out) == mostRecalled {
			continue
		}
		if old, _ := p.Content.Record(c.Number, revision); old != nil {
			out = append(out, old)
		}
	}
	return out
}

// isSettable reports whether a number is a value that a reader could set; paper shows it as it was set.
func isSettable(r *approval.Record, name string) bool {
	for _, g := range r.Pages[0].Given {
		if g.Name == name {
			return g.From != "" || len(g.Choices) > 0
		}
	}
	return false
}

// setAs works out the page at an earlier revision's own values; false if it does not take them.
func (p *pager) setAs(old *approval.Record) (*prove.Case, bool) {
	run, ok := prove.NewCase(p.page.Sheet), true
	if len(old.Pages) > 0 {
		for _, was := range old.Pages[0].Given {
			g := p.page.Sheet.GivenNamed(was.Name)
			if g == nil || !g.Settable() || !isSettable(old, was.Name) {
				continue
			}
			base, trouble := g.Set(was.Value)
			if trouble != nil {
				ok = false
				continue
			}
			run.Set(g, base)
		}
	}
	run.Work()
	return run, ok
}

// printedAt lists the numbers that a page prints in a case, by name.
func printedAt(full *work.Page, run *prove.Case) map[string]string {
	out := map[string]string{}
	for _, g := range full.Sheet.Given {
		out[g.Name] = run.ShownGiven(g).Text
	}
	for _, n := range work.NumbersAt(full.Sheet, run) {
		out[n.Name] = n.Shown
	}
	for _, n := range work.Times(run) {
		out[n.Name] = n.Shown
	}
	for _, n := range work.Products(run) {
		out[n.Name] = n.Shown
	}
	return out
}
