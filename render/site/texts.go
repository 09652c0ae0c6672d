package site

import (
	"labsite/recipes/sheet"
)

// LimitText is a limit that holds, in plain words.
type LimitText struct {
	// Kind is "notice", "caution", "warning" or "refused".
	Kind string `json:"kind"`
	Text string `json:"text"`
}

// LimitTexts lists in plain words what holds at a case, on the page and on those it draws
// on; where the page refuses, the refusals alone.
func (s *Site) LimitTexts(t *Topic, run *sheet.Case) []LimitText {
	out := []LimitText{}
	for _, h := range run.AllHolding() {
		switch {
		case h.Limit.Kind == sheet.Refuse:
			out = append(out, LimitText{"refused", s.plain(h.Run, h.Limit.Text)})
		case !run.Refused():
			out = append(out, LimitText{string(h.Limit.Kind), s.plain(h.Run, h.Limit.Text)})
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

// CautionTexts are the page's cautions in plain words at a case, the gravest first; those of
// pages drawn on are among them.
func (s *Site) CautionTexts(t *Topic, run *sheet.Case) []CautionText {
	out := []CautionText{}
	for _, word := range sheet.SignalWords {
		for _, c := range t.Sheet.Cautions {
			if c.Word == word {
				out = append(out, CautionText{word, s.plain(run, c.Text)})
			}
		}
		for _, u := range t.Sheet.AllCautions() {
			if c := u.Caution(); c.Word == word {
				out = append(out, CautionText{word, s.plain(u.Run(run), c.Text)})
			}
		}
	}
	return out
}

// plain writes a text of a page at a case, in plain words.
func (s *Site) plain(run *sheet.Case, p sheet.Prose) string {
	t := s.byPath[run.Sheet.File.Path]
	if t == nil {
		return p.Text
	}
	x := s.readText(t, p)
	f := &filler{topic: t, run: run, href: func(d string) string { return d }, size: func(string) (int, int) { return 0, 0 }}
	f.fill(x)
	return x.document.Plain()
}
