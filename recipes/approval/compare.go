package approval

import (
	"slices"
	"strings"

	"labsite/recipes/quantity"
)

// Kind says what differs.
type Kind string

// The kinds of a difference, in the order in which they are listed.
const (
	OfNumber  Kind = "number"
	OfRange   Kind = "range"
	OfFormula Kind = "formula"
	OfLimit   Kind = "limit"
	OfCaution Kind = "caution"
	OfStep    Kind = "step"
	OfText    Kind = "text"
	OfCheck   Kind = "check"
)

// Difference is one thing in which two records differ. Before is empty for what is new, After
// for what is gone.
type Difference struct {
	Kind   Kind    `json:"kind"`
	Name   string  `json:"name"`
	Label  string  `json:"label"`
	Before string  `json:"before"`
	After  string  `json:"after"`
	Table  string  `json:"table,omitempty"`
	Causes []Cause `json:"causes"`
	// Over is the largest change of a figure in a case that a reader can set; nil if no
	// case but the page's own moved.
	Over *Example `json:"over,omitempty"`
}

// Example is a case in which a figure moved.
type Example struct {
	// At are the given values that are not the page's own, as "rolls 2".
	At     string `json:"at"`
	Before string `json:"before"`
	After  string `json:"after"`
	// Moved is in how many of the Cases the figure differs.
	Moved int `json:"moved"`
	Cases int `json:"cases"`
}

// Because words the causes: "factor is 1.07 and was 1.09"; "" if there are none.
func (d Difference) Because() string { return Because(d.Causes) }

// Because words causes for those who write pages, BecauseFor for their readers: without the text
// of formulas.
func Because(causes []Cause) string { return worded(causes, Cause.String) }

// BecauseFor words causes for readers.
func BecauseFor(causes []Cause) string { return worded(causes, Cause.ForReaders) }

func worded(causes []Cause, word func(Cause) string) string {
	const most = 3
	var out []string
	for i, c := range causes {
		if i == most {
			out = append(out, "more")
			break
		}
		out = append(out, word(c))
	}
	if len(out) < 2 {
		return strings.Join(out, "")
	}
	return strings.Join(out[:len(out)-1], ", ") + " and " + out[len(out)-1]
}

// Comparison is what two records differ in, and the tracing of its causes.
type Comparison struct {
	old, now *Record
	named    map[string]bool // causes that some difference names
	List     []Difference
}

// Compare lists where a record differs from an older one: numbers, the ranges of what can
// be set, formulas, limits, cautions, steps, text, and checks, in this order.
func Compare(old, now *Record) *Comparison {
	c := &Comparison{old: old, now: now, named: map[string]bool{}}
	c.numbers()
	return c
}

// OtherDifferences adds what differs apart from the numbers. What causes a number to differ is
// not listed a second time.
func (c *Comparison) OtherDifferences() []Difference {
	c.origins()
	c.lists(OfLimit, c.old.Limits, c.now.Limits)
	c.lists(OfCaution, c.old.Cautions, c.now.Cautions)
	c.lists(OfStep, c.old.Steps, c.now.Steps)
	c.lists(OfText, c.old.Text, c.now.Text)
	c.lists(OfCheck, c.old.Checks, c.now.Checks)
	return c.List
}

// numbers compares what is printed, by name.
func (c *Comparison) numbers() {
	was := map[string]Number{}
	for _, n := range c.old.Numbers {
		was[n.Name] = n
	}
	for _, n := range c.now.Numbers {
		old, had := was[n.Name]
		delete(was, n.Name)
		if had && (alike(old.Shown, n.Shown) || old.Moves != "" || n.Moves != "") || !had && n.Moves != "" {
			continue
		}
		d := Difference{Kind: OfNumber, Name: n.Name, Label: n.Label, Before: old.Shown, After: n.Shown, Table: n.Table}
		if had {
			d.Causes = c.Causes(n)
			if len(d.Causes) == 1 && d.Causes[0].Own && d.Causes[0].What == "constant" && d.Causes[0].Name == n.Name {
				d.Causes = nil // it is a constant itself
			}
		}
		c.List = append(c.List, d)
	}
	for _, n := range c.old.Numbers {
		if _, gone := was[n.Name]; gone && n.Moves == "" {
			c.List = append(c.List, Difference{Kind: OfNumber, Name: n.Name, Label: n.Label, Before: n.Shown, Table: n.Table})
		}
	}
}

// Moved adds a figure that is the same at the page's own values and differs elsewhere, or adds
// to one that is listed where it moved most.
func (c *Comparison) Moved(name, label string, e Example) {
	for i := range c.List {
		if c.List[i].Kind == OfNumber && c.List[i].Name == name {
			c.List[i].Over = &e
			return
		}
	}
	n := Number{Name: name}
	c.List = append(c.List, Difference{Kind: OfNumber, Name: name, Label: label, Before: e.Before, After: e.After, Causes: c.Causes(n), Over: &e})
}

// lists compares texts in their order; one that changed is paired with what it was.
func (c *Comparison) lists(kind Kind, old, now []string) {
	for _, d := range changedLines(old, now) {
		c.List = append(c.List, Difference{Kind: kind, Name: string(kind), Before: d.before, After: d.after})
	}
}

// origins lists ranges and formulas that differ and that no differing number named.
func (c *Comparison) origins() {
	if len(c.old.Pages) == 0 || len(c.now.Pages) == 0 {
		return
	}
	old, now := &c.old.Pages[0], &c.now.Pages[0]
	for _, g := range now.Given {
		if was := old.given(g.Name); was != nil {
			if a, b := rangeOf(*was), rangeOf(g); !sameRange(*was, g) {
				c.List = append(c.List, Difference{Kind: OfRange, Name: g.Name, Label: g.Label, Before: a, After: b})
			}
		}
	}
	for _, f := range now.Figures {
		was := old.figure(f.Name)
		if was == nil || c.named["formula "+now.Path+" "+f.Name] {
			continue
		}
		if spelled(was.Formula) != spelled(f.Formula) {
			c.List = append(c.List, Difference{Kind: OfFormula, Name: f.Name, Label: f.Label, Before: was.Formula, After: f.Formula})
		}
	}
}

// alike reports whether two values are the same to a reader: another version of the program may
// spell a unit differently, 20 days for 20 day, with the same digits before it.
func alike(a, b string) bool {
	if a == b {
		return true
	}
	x, trouble := quantity.Parse(a)
	y, more := quantity.Parse(b)
	if trouble != nil || more != nil || x.Kind != y.Kind || x.Base != y.Base {
		return false
	}
	digits := func(s string) string { before, _, _ := strings.Cut(s, " "); return before }
	return digits(a) == digits(b)
}

// sameRange reports whether two givens may be set to the same values.
func sameRange(a, b Given) bool {
	return a.Reading == b.Reading && alike(a.Within, b.Within) && alike(a.From, b.From) && alike(a.To, b.To) && alike(a.Step, b.Step) && slices.EqualFunc(a.Choices, b.Choices, alike)
}

// rangeOf words what a given may be set to.
func rangeOf(g Given) string {
	var out []string
	if g.From != "" {
		out = append(out, g.From+" .. "+g.To)
	}
	if g.Step != "" {
		out = append(out, "by "+g.Step)
	}
	if len(g.Choices) > 0 {
		out = append(out, "one of "+strings.Join(g.Choices, ", "))
	}
	if g.Reading {
		out = append(out, "read off")
	}
	if g.Within != "" {
		out = append(out, "within "+g.Within)
	}
	if len(out) == 0 {
		return "fixed"
	}
	return strings.Join(out, " ")
}

// Numbers are the differences in a list that are of numbers.
func Numbers(list []Difference) []Difference {
	return slices.DeleteFunc(slices.Clone(list), func(d Difference) bool { return d.Kind != OfNumber })
}
