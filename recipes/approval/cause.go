package approval

import (
	"strings"

	"labsite/recipes/formula"
)

// Cause is why a number has changed.
type Cause struct {
	// What is "constant", "formula", "form", "row", "page" or "bench formula".
	What   string `json:"what"`
	Page   string `json:"page"`
	Name   string `json:"name"`
	Before string `json:"before"`
	After  string `json:"after"`
	// Own says that it is on the page itself.
	Own bool `json:"-"`
}

// String words a cause: what it is now, and what it was.
func (c Cause) String() string {
	name := c.Name
	if !c.Own {
		name += " of " + c.Page
	}
	switch c.What {
	case "formula":
		if c.Before == "" {
			return name + " is new"
		}
		return "the formula of " + name + " is " + c.After + " and was " + c.Before
	case "form":
		return name + " is shown as " + orUsual(c.After) + " and was shown as " + orUsual(c.Before)
	case "row":
		switch {
		case c.Before == "":
			return c.Name + " has a new row, " + c.After
		case c.After == "":
			return c.Name + " has lost the row " + c.Before
		}
		return "a row of " + c.Name + " is " + c.After + " and was " + c.Before
	case "page":
		return name + " draws on " + c.After + " and drew on " + c.Before
	case "bench formula":
		return "the bench formula " + c.Name + " has changed"
	}
	if c.Before == "" {
		return name + " is new"
	}
	return name + " is " + c.After + " and was " + c.Before
}

// ForReaders words a cause for those who read the page but do not write it.
func (c Cause) ForReaders() string {
	name := c.Name
	if !c.Own {
		name += " of " + c.Page
	}
	switch {
	case c.What == "formula" && c.Before != "":
		return "the formula of " + name + " has changed"
	case c.What == "page":
		return c.Name + " is drawn from another page"
	case c.Before == "" && c.What != "row":
		return name + " is new"
	case c.What == "form":
		return name + " is shown differently"
	}
	return c.String()
}

func orUsual(show string) string {
	if show == "" {
		return "usual"
	}
	return show
}

// key tells two causes apart.
func (c Cause) key() string { return c.What + " " + c.Page + " " + c.Name }

// tracer follows the formulas of one number.
type tracer struct {
	*Comparison
	causes []Cause
	seen   map[string]bool
}

// place is a page as it is drawn on: at what the page that draws on it sets there.
type place struct {
	old, now *Page // old is nil for a page that was not drawn on before
	use      *Draw // as it is now; nil for the page itself
	wasUse   *Draw
	from     *place
	way      string // tells two uses of one page apart
}

// Causes finds the constants, formulas, rows and pages that a number depends on and that
// differ from the old record.
func (c *Comparison) Causes(n Number) []Cause {
	t := &tracer{Comparison: c, seen: map[string]bool{}}
	if len(c.old.Pages) == 0 || len(c.now.Pages) == 0 {
		return nil
	}
	own := &place{old: &c.old.Pages[0], now: &c.now.Pages[0]}
	if n.Of != "" {
		t.formula(own, n.Of)
	} else {
		t.name(own, n.Name)
	}
	for _, x := range t.causes {
		c.named[x.key()] = true
	}
	return t.causes
}

func (t *tracer) add(x Cause) {
	if x.Own = x.Page == t.now.Pages[0].Path; !t.seen["cause "+x.key()] {
		t.seen["cause "+x.key()] = true
		t.causes = append(t.causes, x)
	}
}

// name follows a given or a figure of a page.
func (t *tracer) name(at *place, name string) {
	key := at.way + " " + name
	if t.seen[key] || at.now == nil {
		return
	}
	t.seen[key] = true
	path := at.now.Path
	if g := at.now.given(name); g != nil {
		if set := setting(at.use, name); set != nil {
			t.setting(at, name, set)
			return
		}
		switch was := at.old.given(name); {
		case was == nil:
			t.add(Cause{What: "constant", Page: path, Name: name, After: g.Value})
		case !alike(was.Value, g.Value):
			t.add(Cause{What: "constant", Page: path, Name: name, Before: was.Value, After: g.Value})
		}
		return
	}
	f := at.now.figure(name)
	if f == nil {
		return
	}
	was := at.old.figure(name)
	switch {
	case was == nil:
		t.add(Cause{What: "formula", Page: path, Name: name, After: f.Formula})
	case spelled(was.Formula) != spelled(f.Formula):
		t.add(Cause{What: "formula", Page: path, Name: name, Before: was.Formula, After: f.Formula})
	case was.Show != f.Show:
		t.add(Cause{What: "form", Page: path, Name: name, Before: was.Show, After: f.Show})
	}
	t.formula(at, f.Formula)
}

// setting follows the formula by which the drawing page sets a given of the page drawn on.
func (t *tracer) setting(at *place, name string, set *Figure) {
	if was := setting(at.wasUse, name); was == nil || spelled(was.Formula) != spelled(set.Formula) {
		x := Cause{What: "formula", Page: at.from.now.Path, Name: at.use.Name + "." + name, After: set.Formula, Before: "its own value"}
		if was != nil {
			x.Before = was.Formula
		}
		t.add(x)
	}
	t.formula(at.from, set.Formula)
}

func setting(d *Draw, name string) *Figure {
	if d == nil {
		return nil
	}
	for i := range d.At {
		if d.At[i].Name == name {
			return &d.At[i]
		}
	}
	return nil
}

// formula follows all names of a formula.
func (t *tracer) formula(at *place, text string) {
	f, _ := formula.Parse(text, nil)
	if f == nil {
		return
	}
	for _, ref := range f.References() {
		if ref.Of == "" {
			t.name(at, ref.Name)
			continue
		}
		if d := at.now.data(ref.Of); d != nil {
			t.column(at, d, ref.Name)
			continue
		}
		t.drawn(at, ref)
	}
	for _, x := range f.Tokens() {
		if x.Kind == formula.Function {
			t.bench(f.Normal()[x.Start:x.End])
		}
	}
}

// drawn follows a name of a page drawn on.
func (t *tracer) drawn(at *place, ref formula.Reference) {
	use := at.now.draw(ref.Of)
	if use == nil {
		return
	}
	was := at.old.draw(ref.Of)
	if was != nil && was.Page != use.Page {
		t.add(Cause{What: "page", Page: at.now.Path, Name: ref.Of, Before: was.Page, After: use.Page})
	}
	to := &place{now: t.now.page(use.Page), use: use, wasUse: was, from: at, way: at.way + "/" + ref.Of}
	if was != nil {
		to.old = t.old.page(was.Page)
	}
	t.name(to, ref.Name)
}

// bench adds a bench formula that has changed, and any that it calls.
func (t *tracer) bench(name string) {
	now, was := benchNamed(t.now, name), benchNamed(t.old, name)
	if now == nil || t.seen["bench "+name] {
		return
	}
	t.seen["bench "+name] = true
	if was != nil && now.text() != was.text() {
		t.add(Cause{What: "bench formula", Name: name, Before: was.Formula, After: now.Formula})
	}
	if f, _ := formula.Parse(now.Formula, nil); f != nil {
		for _, x := range f.Tokens() {
			if x.Kind == formula.Function {
				t.bench(f.Normal()[x.Start:x.End])
			}
		}
	}
}

func benchNamed(r *Record, name string) *Bench {
	for i := range r.Bench {
		if called, _, _ := strings.Cut(r.Bench[i].Name, "("); called == name {
			return &r.Bench[i]
		}
	}
	return nil
}

func (b *Bench) text() string {
	return b.Name + " " + spelled(b.Formula) + " " + strings.Join(b.Fixed, ";") + " " + strings.Join(b.Refuses, ";")
}

// spelled is a formula with one space between its parts, so that two that differ only in spacing
// are spelled alike.
func spelled(text string) string {
	f, _ := formula.Parse(text, nil)
	if f == nil {
		return strings.Join(strings.Fields(text), " ")
	}
	normal := f.Normal()
	var out []string
	for _, t := range f.Tokens() {
		out = append(out, strings.Fields(normal[t.Start:t.End])...)
	}
	return strings.Join(out, " ")
}
