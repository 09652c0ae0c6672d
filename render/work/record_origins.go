package work

import (
	"slices"
	"strings"

	"labsite/recipes/approval"
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/render/content"
)

// origins records what the numbers come from: constants and formulas of the page and of those that it
// draws on, their data, the bench formulas, and the files themselves.
func (x *recorder) origins() {
	x.bench = map[string]bool{}
	files := map[string]bool{}
	x.desk.EachBehind(x.page.Page, func(p *content.Page) {
		full := x.desk.Resolved(p)
		if full.Sheet == nil {
			return
		}
		x.record.Pages = append(x.record.Pages, x.pageOf(full))
		x.source(files, content.Outside(full.File.Path), full.File.Text)
		for _, data := range full.Sheet.Data {
			if text, ok := x.desk.Content.Text(data.Path); ok {
				x.source(files, content.Outside(data.Path), text)
			}
		}
	})
	for _, name := range sortedNames(x.bench) {
		x.record.Bench = append(x.record.Bench, x.benchOf(name))
	}
}

func sortedNames(of map[string]bool) []string {
	var out []string
	for name := range of {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

func (x *recorder) source(seen map[string]bool, p, text string) {
	if !seen[p] {
		seen[p] = true
		x.record.Sources = append(x.record.Sources, approval.Source{Path: p, Lines: strings.Split(text, "\n")})
	}
}

// formula is a formula as it is recorded; it also notes the bench formulas that are called.
func (x *recorder) formula(f *formula.Formula) string {
	if f == nil {
		return ""
	}
	for _, t := range f.Tokens() {
		if t.Kind == formula.Function {
			x.calls(f.Normal()[t.Start:t.End])
		}
	}
	return collapseSpaces(f.Normal())
}

// calls notes a bench formula, and those that it calls in turn.
func (x *recorder) calls(name string) {
	t, ok := x.desk.Content.Formulas.Trade(name)
	if !ok || x.bench[name] {
		return
	}
	x.bench[name] = true
	x.formula(t.Body)
	for _, g := range t.Guards {
		x.formula(g.When)
	}
}

func (x *recorder) benchOf(name string) approval.Bench {
	t, _ := x.desk.Content.Formulas.Trade(name)
	out := approval.Bench{Name: t.Form(), Formula: collapseSpaces(t.Body.Normal())}
	for _, f := range t.Fixed {
		out.Fixed = append(out.Fixed, f.Name+" = "+f.Value.Text)
	}
	for _, g := range t.Guards {
		out.Refuses = append(out.Refuses, collapseSpaces(g.When.Normal()))
	}
	return out
}

func (x *recorder) pageOf(p *Page) approval.Page {
	sh := p.Sheet
	out := approval.Page{Path: content.Outside(sh.File.Path), Given: []approval.Given{}, Figures: []approval.Figure{}}
	for _, g := range sh.Given {
		out.Given = append(out.Given, givenOf(g))
	}
	for _, f := range sh.Figures {
		out.Figures = append(out.Figures, approval.Figure{Name: f.Name, Label: f.Label, Formula: x.formula(f.Formula), Show: f.ShowText})
	}
	for _, u := range sh.Uses {
		draw := approval.Draw{Name: u.Name, Page: content.Outside(u.Path)}
		for _, set := range u.At {
			draw.At = append(draw.At, approval.Figure{Name: set.Name, Formula: x.formula(set.Formula)})
		}
		out.Draws = append(out.Draws, draw)
	}
	for _, data := range sh.Data {
		file := approval.Data{Name: data.Name, File: content.Outside(data.Path)}
		for _, a := range data.Adds {
			if a.Column != nil {
				file.Adds = append(file.Adds, approval.Figure{Name: a.Column.Name, Formula: x.formula(a.Formula)})
			}
		}
		out.Data = append(out.Data, file)
	}
	return out
}

func givenOf(g *page.Given) approval.Given {
	out := approval.Given{Name: g.Name, Label: g.Label, Value: g.Value.Text, Source: g.Source, Owner: g.Owner, Reading: g.Reading, Within: g.WithinText}
	if len(g.Words) > 0 {
		out.Value = g.Shown(g.Own).Text
	}
	if g.Today {
		out.Value = "today"
	}
	if g.From != nil {
		out.From, out.To = g.From.Text, g.To.Text
	}
	if g.Step != nil {
		out.Step = g.Step.Text
	}
	for _, c := range g.Choices {
		out.Choices = append(out.Choices, c.Text)
	}
	if g.Review != nil {
		out.Review = g.Review.String()
	}
	return out
}
