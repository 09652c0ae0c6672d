package write

import (
	"slices"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/render/work"
)

// LimitText is a limit that holds, in plain words.
type LimitText struct {
	// Kind is "notice", "caution", "warning" or "refused".
	Kind string `json:"kind"`
	Text string `json:"text"`
}

// LimitTexts lists in plain words the limits that hold in a case, on the page and on those that it
// draws on; if the page refuses, only the refusals.
func LimitTexts(d *work.Desk, run *prove.Case) []LimitText {
	out := []LimitText{}
	for _, h := range run.AllHolding() {
		switch {
		case h.Limit.Kind == page.Refuse:
			out = append(out, LimitText{"refused", plain(d, h.Run, h.Limit.Text)})
		case !run.Refused():
			out = append(out, LimitText{string(h.Limit.Kind), plain(d, h.Run, h.Limit.Text)})
		}
	}
	for _, r := range run.Refusals {
		if r.Limit == nil {
			out = append(out, LimitText{"refused", r.Text})
		}
	}
	return out
}

// CautionText is a caution in plain words.
type CautionText struct {
	Word string `json:"word"`
	Text string `json:"text"`
}

func (c CautionText) String() string { return c.Word + ": " + c.Text }

// CautionTexts lists the cautions of a page and of those that it draws on, in plain words with the
// values of a case, the gravest first.
func CautionTexts(d *work.Desk, run *prove.Case) []CautionText {
	out := []CautionText{}
	add := func(caution page.Caution, run *prove.Case) {
		c := CautionText{caution.Word, plain(d, run, caution.Text)}
		amounts := strings.Contains(caution.Text.Text, "{") // the same amount from two pages is two amounts
		if amounts || !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	for _, word := range page.SignalWords {
		for _, c := range run.Sheet.Cautions {
			if c.Word == word {
				add(c, run)
			}
		}
		for _, u := range run.Sheet.AllCautions() {
			if c := u.Caution(); c.Word == word {
				add(c, prove.CautionCase(u, run))
			}
		}
	}
	return out
}

// plain writes a text of a page with the values of a case, in plain words.
func plain(d *work.Desk, run *prove.Case, p page.Prose) string {
	from := d.Content.Page(run.Sheet.File.Path)
	if from == nil {
		return p.Text
	}
	t := d.Resolved(from)
	x := t.ReadText(p)
	f := &filler{page: t, run: run, href: func(d string) string { return d }, size: func(string) (int, int) { return 0, 0 }}
	f.place(x)
	return x.Document.Plain()
}
