package site

import (
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// Number is a figure of a page at the page's own values.
type Number struct {
	Name  string `json:"name"`
	Label string `json:"label"`
	Shown string `json:"shown"`
}

// NumberChange is a figure that an update changed. Before is empty for one that is new,
// After for one that is gone.
type NumberChange struct {
	Name   string `json:"name"`
	Label  string `json:"label"`
	Before string `json:"before"`
	After  string `json:"after"`
	// Guards are the checks that hold the figure, as the page words them.
	Guards []string `json:"guards"`
}

// PageChange are the numbers of one page that changed.
type PageChange struct {
	Page    string         `json:"page"`
	Title   string         `json:"title"`
	Address string         `json:"address"`
	Numbers []NumberChange `json:"numbers"`
}

// Numbers are those that changed since they were last taken.
type Numbers struct {
	pages map[string]*PageChange
}

// withheld stands for a number that the page refuses or cannot work out.
const withheld = "no number"

func numbersOf(t *Topic) []Number {
	out := []Number{}
	for _, f := range t.Sheet.Figures {
		n := Number{Name: f.Name, Label: f.Label, Shown: withheld}
		if t.Proof != nil && !t.Proof.Own.Refused() && len(t.Proof.Own.Failed) == 0 {
			n.Shown = t.Proof.Own.Shown(f).Text
		}
		out = append(out, n)
	}
	return out
}

// compare notes which numbers of a page are others than before.
func (s *Site) compare(t *Topic) {
	before := map[string]Number{}
	for _, n := range t.state.before {
		before[n.Name] = n
	}
	var out []NumberChange
	for _, n := range t.state.numbers {
		old, was := before[n.Name]
		delete(before, n.Name)
		if was && old.Shown == n.Shown {
			continue
		}
		out = append(out, NumberChange{Name: n.Name, Label: n.Label, Before: old.Shown, After: n.Shown, Guards: guards(t, n.Name)})
	}
	for _, n := range t.state.before {
		if _, gone := before[n.Name]; gone {
			out = append(out, NumberChange{Name: n.Name, Label: n.Label, Before: n.Shown})
		}
	}
	if len(out) == 0 {
		return
	}
	if s.open.changed == nil {
		s.open.changed = &Numbers{pages: map[string]*PageChange{}}
	}
	s.open.changed.pages[t.Path] = &PageChange{Page: t.Path, Title: t.Title(), Address: urlPath(t.Address()), Numbers: out}
}

// TakeChanges gives the numbers that changed since it was last called, page by page.
func (s *Site) TakeChanges() []PageChange {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	if s.open.changed == nil {
		return nil
	}
	var out []PageChange
	for _, p := range s.open.changed.pages {
		out = append(out, *p)
	}
	s.open.changed = nil
	slices.SortFunc(out, func(a, b PageChange) int { return strings.Compare(a.Page, b.Page) })
	return out
}

// guards words the checks that hold a figure: the cases that expect it and the rules that
// name it, or, where there are none, those of what is worked out from it.
func guards(t *Topic, name string) []string {
	f := t.Sheet.Figure(name)
	if f == nil {
		return nil
	}
	bearing := map[int]bool{f.Slot: true}
	if out := checksOf(t.Sheet, bearing); len(out) > 0 {
		return out
	}
	for _, other := range t.Sheet.Sorted {
		if other.Node != nil && leansOn(other.Node, bearing) {
			bearing[other.Slot] = true
		}
	}
	return checksOf(t.Sheet, bearing)
}

// checksOf words the checks of what stands in some slots.
func checksOf(sh *sheet.Sheet, slots map[int]bool) []string {
	var out []string
	for _, c := range sh.Checks {
		if c.Always != nil {
			if c.Node != nil && leansOn(c.Node, slots) {
				out = append(out, "always "+strings.TrimSpace(c.Text))
			}
			continue
		}
		var at []string
		for _, set := range c.At {
			at = append(at, set.Text)
		}
		where := "at the page's own values"
		if len(at) > 0 {
			where = "at " + strings.Join(at, ", ")
		}
		for _, e := range c.Expect {
			if e.Figure != nil && slots[e.Figure.Slot] {
				text := e.Figure.Name + " is " + e.Want.Text
				if e.Want.HasTolerance {
					text += " ± " + e.Want.ToleranceText
				}
				out = append(out, text+" "+where)
			}
		}
	}
	return out
}

func leansOn(n *formula.Node, slots map[int]bool) bool {
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Op == formula.Var && slots[n.Slot]
		return !found
	})
	return found
}

// Branch is one number of the tree that shows how a number came about.
type Branch struct {
	// Kind is "figure", "given" or "data".
	Kind    string `json:"kind"`
	Page    string `json:"page"`
	Name    string `json:"name"`
	Label   string `json:"label"`
	Shown   string `json:"shown"`
	Formula string `json:"formula,omitempty"`
	// Numbers is the formula with the numbers put in.
	Numbers string   `json:"numbers,omitempty"`
	Source  string   `json:"source,omitempty"`
	Owner   string   `json:"owner,omitempty"`
	Line    int      `json:"line"`
	Column  int      `json:"column"`
	Text    string   `json:"text"`
	Guards  []string `json:"guards,omitempty"`
	Inputs  []Branch `json:"inputs,omitempty"`
}

// mostBranches bounds a tree; a figure seen before stands without its inputs again.
const mostBranches = 200

// Tree is how a figure or given of a page came about, at the page's own values. ok is
// false where the page has none of the name.
func (s *Site) Tree(page, name string) (b Branch, ok bool) {
	o := s.open
	o.mu.Lock()
	defer o.mu.Unlock()
	t := s.byPath[page]
	if t == nil {
		return b, false
	}
	s.ready(t)
	if t.Sheet == nil || t.Proof == nil {
		return b, false
	}
	defer s.trim()
	g := &grower{site: s, left: mostBranches, seen: map[*sheet.Figure]bool{}}
	return g.branch(t.Sheet, t.Proof.Own, name)
}

type grower struct {
	site *Site
	left int
	seen map[*sheet.Figure]bool
}

func (g *grower) branch(sh *sheet.Sheet, run *sheet.Case, name string) (Branch, bool) {
	g.left--
	b := Branch{Page: sh.File.Path, Name: name}
	if given := sh.GivenNamed(name); given != nil {
		b.Kind, b.Label, b.Shown, b.Source, b.Owner = "given", given.Label, run.ShownGiven(given).Text, given.Source, given.Owner
		b.Line, b.Column = sh.File.Place(given.Span.Start)
		b.Text = strings.TrimSpace(sh.File.Line(b.Line))
		return b, true
	}
	f := sh.Figure(name)
	if f == nil {
		return b, false
	}
	b.Kind, b.Label, b.Shown = "figure", f.Label, withheld
	if !run.Refused() && len(run.Failed) == 0 {
		b.Shown = run.Shown(f).Text
	}
	b.Line, b.Column = sh.File.Place(f.Span.Start)
	b.Text = strings.TrimSpace(sh.File.Line(b.Line))
	if t := g.site.byPath[sh.File.Path]; t != nil && t.Sheet == sh {
		b.Guards = guards(t, name)
	}
	if f.Formula == nil {
		return b, true
	}
	b.Formula = f.Formula.Normal()
	b.Numbers = f.Formula.With(func(ref formula.Reference) (string, bool) {
		if run.Refused() {
			return "", false
		}
		if ref.Of != "" {
			return run.ShownOf(ref.Of, ref.Name)
		}
		if given := sh.GivenNamed(ref.Name); given != nil {
			return run.ShownGiven(given).Text, true
		}
		if o := sh.Figure(ref.Name); o != nil {
			return run.Shown(o).Text, true
		}
		return "", false
	})
	if g.seen[f] {
		return b, true
	}
	g.seen[f] = true
	done := map[string]bool{}
	for _, ref := range f.Formula.References() {
		full := ref.Of + "." + ref.Name
		if done[full] || g.left <= 0 {
			continue
		}
		done[full] = true
		of, at := sh, run
		if ref.Of != "" {
			of, at = nil, nil
			for _, u := range sh.Uses {
				if u.Name == ref.Of && u.Sheet != nil {
					of, at = u.Sheet, run.RunOf(u.Sheet)
				}
			}
		}
		if of != nil {
			if in, ok := g.branch(of, at, ref.Name); ok {
				if ref.Of != "" {
					in.Shown, _ = run.ShownOf(ref.Of, ref.Name)
				}
				b.Inputs = append(b.Inputs, in)
				continue
			}
		}
		for _, d := range sh.Data {
			if d.Name == ref.Of {
				b.Inputs = append(b.Inputs, Branch{Kind: "data", Page: d.Path, Name: full, Line: 1, Column: 1})
			}
		}
	}
	return b, true
}

// Named finds the given or the figure of a page whose lines a line of its file belongs to.
func (s *Site) Named(page string, line int) (given, figure string) {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	t := s.byPath[page]
	if t == nil || t.Sheet == nil || !t.state.read {
		return "", ""
	}
	if end, _ := t.File.Place(t.Sheet.Body); line >= end {
		return "", ""
	}
	best := 0
	for _, g := range t.Sheet.Given {
		if at, _ := t.File.Place(g.Span.Start); at <= line && at > best {
			best, given, figure = at, g.Name, ""
		}
	}
	for _, f := range t.Sheet.Figures {
		if at, _ := t.File.Place(f.Span.Start); at <= line && at > best {
			best, given, figure = at, "", f.Name
		}
	}
	if best == 0 {
		return "", ""
	}
	// what stands outside the given values and figures begins its line with a letter
	for n := best; n <= line; n++ {
		if text := t.File.Line(n); text != "" && text[0] != ' ' && text[0] != '#' {
			return "", ""
		}
	}
	return given, figure
}

// Fault counts the errors of one file.
type Fault struct {
	File, Address string
	Errors        int
}

// Faulty lists the files that are known to have errors, by path.
func (s *Site) Faulty() []Fault {
	s.open.mu.Lock()
	defer s.open.mu.Unlock()
	counts := map[string]int{}
	add := func(list source.List) {
		for _, d := range list {
			if d.Severity == source.Error {
				counts[d.File]++
			}
		}
	}
	add(s.common())
	for _, t := range s.Topics {
		add(t.state.list)
	}
	add(s.tables.lists(func(p string) bool { return len(s.open.needs[p]) > 0 }))
	var out []Fault
	for file, n := range counts {
		f := Fault{File: file, Errors: n}
		if t := s.byPath[file]; t != nil {
			f.Address = urlPath(t.Address())
		}
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b Fault) int { return strings.Compare(a.File, b.File) })
	return out
}
