package site

import (
	"labsite/recipes/sheet"
)

// LimitText is a limit's text in plain words at a case.
func (t *Topic) LimitText(l *sheet.Limit, run *sheet.Case) string {
	for i, o := range t.Sheet.Limits {
		if o == l && t.values != nil {
			return t.plain(t.values.limits[i], run)
		}
	}
	return l.Text.Text
}

// CautionTexts are the page's cautions in plain words at a case, the gravest first, each
// with its signal word.
func (t *Topic) CautionTexts(run *sheet.Case) []string {
	var out []string
	for _, word := range sheet.SignalWords {
		for i, c := range t.Sheet.Cautions {
			if c.Word == word && t.values != nil {
				out = append(out, word+": "+t.plain(t.values.cautions[i], run))
			}
		}
	}
	return out
}

func (t *Topic) plain(x text, run *sheet.Case) string {
	f := &filler{topic: t, run: run, href: func(d string) string { return d }, size: func(string) (int, int) { return 0, 0 }}
	f.fill(x)
	return x.document.Plain()
}
