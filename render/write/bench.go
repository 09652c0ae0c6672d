package write

import (
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/formulary"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/chart"
	"labsite/render/content"
	"labsite/render/highlight"
	"labsite/render/theme"
	"labsite/render/work"
)

// BenchFolder holds the pages of bench formulas: on the staff's site all of them and the checks from
// outside, on the customers' those that their pages call.
const BenchFolder = "bench-formulas"

// calls lists the bench formulas that a formula calls.
func (s *Site) calls(f *formula.Formula) []*formulary.Entry {
	var out []*formulary.Entry
	for _, t := range f.Tokens() {
		if t.Kind != formula.Function {
			continue
		}
		if e, ok := s.Content.Formulas.Find(f.Normal()[t.Start:t.End]); ok && !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	return out
}

// benchLinks are the calls of a formula as links from a page.
func (p *pager) benchLinks(f *formula.Formula) []theme.Link {
	var out []theme.Link
	for _, e := range p.calls(f) {
		out = append(out, theme.Link{Title: e.Name, Href: content.Up(p.page.Folder.Path) + BenchFolder + "/" + e.Name + ".html"})
	}
	return out
}

// benchUses lists for each bench formula the pages of the audience that call it.
func (s *Site) benchUses() map[*formulary.Entry][]*content.Page {
	uses := map[*formulary.Entry][]*content.Page{}
	for _, t := range s.Content.Pages {
		if !t.ShownTo(s.Audience) || t.Status() != page.Approved {
			continue
		}
		for _, name := range s.Listed(t).Calls {
			if e, ok := s.Content.Formulas.Find(name); ok {
				uses[e] = append(uses[e], t)
			}
		}
	}
	return uses
}

// BenchPages makes the pages of the bench formulas.
func (s *Site) BenchPages(put Put) {
	w := NewWriter(s, nil) // these pages need no desk
	uses := s.benchUses()
	var listed []*formulary.Entry
	for _, e := range s.Content.Formulas.All() {
		if s.Audience == page.Staff || len(uses[e]) > 0 {
			listed = append(listed, e)
			w.benchPage(e, uses[e], put)
		}
	}
	if len(listed) == 0 {
		return
	}
	b, l := s.benchList(listed)
	put(path.Join(BenchFolder, "index.html"), b, l)
	if s.Audience == page.Staff {
		b, l := s.outsidePage()
		put(path.Join(BenchFolder, "outside.html"), b, l)
	}
}

func (s *Site) benchShell(title, summary, file string) (theme.Instruction, source.List) {
	var v theme.Instruction
	s.shell(BenchFolder, &v.Shell)
	v.Title, v.Summary, v.Description = title, summary, summary
	v.Canonical = s.Canonical(path.Join(BenchFolder, file))
	v.Trail = []theme.Link{{Title: s.SectionTitle(s.Content.Top), Href: "../index.html"}}
	if file != "index.html" {
		v.Trail = append(v.Trail, theme.Link{Title: "Bench formulas", Href: "index.html"})
	}
	var list source.List
	v.DrawerNames, list = s.withDrawerNames(BenchFolder, nil, path.Join(BenchFolder, file), nil)
	return v, list
}

// benchPage explains one bench formula and lets readers try it; staff see its checks as well.
func (w *Writer) benchPage(e *formulary.Entry, uses []*content.Page, put Put) {
	v, list := w.benchShell(work.Words(e.Name), e.Sentence, e.Name+".html")
	trial := w.BenchTrial(e)
	list = append(list, w.tried(trial, &v)...)
	v.Body = w.benchBody(e, uses)
	if w.Audience == page.Staff {
		made, l := w.benchChecks(e)
		v.Basis = []theme.Block{{Name: "checks", HTML: made}}
		list = append(list, l...)
	}
	out, l := w.Theme.Instruction(&v)
	put(path.Join(BenchFolder, e.Name+".html"), out, append(list, l...))
	w.Scripts(trial, put)
}

// benchBody is the text about a bench formula.
func (s *Site) benchBody(e *formulary.Entry, uses []*content.Page) template.HTML {
	var b strings.Builder
	heading := func(text string) { b.WriteString("<h2>" + string(escaped(text)) + "</h2>\n") }
	heading("Formula")
	b.WriteString("<p><code>" + highlight.FormulaText(e.Call()) + "</code></p>\n<p><code>" + highlight.FormulaText(strings.TrimSpace(e.Formula)) + "</code></p>\n")
	heading("What goes in")
	b.WriteString(`<dl class="particulars">` + "\n")
	for i := range e.Params {
		writeParam(&b, &e.Params[i])
	}
	b.WriteString("</dl>\n")
	b.WriteString("<p>It gives " + string(escaped(e.Result.Words())) + ".</p>\n")
	if len(e.Outside) > 0 || len(e.NotWhen) > 0 {
		heading("Where it does not hold")
		b.WriteString("<ul>\n")
		for _, o := range e.Outside {
			b.WriteString("<li>Refused: " + string(escaped(o.Reason)) + "</li>\n")
		}
		for _, n := range e.NotWhen {
			b.WriteString("<li>" + string(escaped(n)) + "</li>\n")
		}
		b.WriteString("</ul>\n")
	}
	heading("Where it comes from")
	b.WriteString("<p>" + string(escaped(e.Source.String())) + "</p>\n")
	if drawn := s.benchChart(e); drawn != "" {
		heading("What it looks like")
		b.WriteString(string(drawn))
	}
	if len(uses) > 0 {
		heading("Where it is used")
		b.WriteString("<ul>\n")
		for _, p := range uses {
			b.WriteString(`<li><a href="../` + content.URLPath(p.Address()) + `">` + string(escaped(p.Title())) + "</a></li>\n")
		}
		b.WriteString("</ul>\n")
	}
	return template.HTML(b.String())
}

// writeParam describes one parameter of a bench formula.
func writeParam(b *strings.Builder, p *formulary.Param) {
	notes := []string{p.Fit.Words()}
	if w := p.Range.Words(); w != "" {
		notes = append(notes, w)
	}
	if p.Whole {
		notes = append(notes, "whole numbers")
	}
	if p.Owned {
		notes = append(notes, "the lab's own: with source and owner")
	}
	if p.Lowest != "" {
		notes = append(notes, "between "+p.Lowest+" and "+p.Highest)
	}
	b.WriteString("<div><dt><code>" + strings.ReplaceAll(string(escaped(p.Name)), "_", "_<wbr>") + "</code></dt><dd>" + string(escaped(p.Label+": "+strings.Join(notes, "; "))) + "</dd></div>\n")
}

// benchChecks runs the checks of a bench formula and lists what they found.
func (s *Site) benchChecks(e *formulary.Entry) (template.HTML, source.List) {
	var checks theme.Checks
	for _, c := range s.Content.Formulas.RunChecks(e) {
		checks.Cases = append(checks.Cases, theme.CheckCase{Case: "<code>" + template.HTML(highlight.FormulaText(c.What)) + "</code>", Source: c.Source,
			Results: []theme.CheckResult{{Label: "Result", Expected: foundHTML(c.Expected), Found: foundHTML(c.Found)}}})
	}
	return s.Theme.Checks(checks)
}

// foundHTML writes a value that was expected or found, or the words in its place.
func foundHTML(text string) template.HTML {
	if strings.HasPrefix(text, "refused") || strings.HasPrefix(text, "error") {
		return escaped(text)
	}
	return expectedHTML(text)
}

// expectedHTML writes a value with its tolerance. Unlike elsewhere, lines may break between a number
// and its unit: a ledger on a phone has no room for ten digits, their unit and ± on one line.
func expectedHTML(text string) template.HTML {
	set := func(text string) template.HTML {
		return template.HTML(strings.ReplaceAll(string(quantityHTML(text, "")), "&nbsp;", " "))
	}
	if value, tolerance, ok := strings.Cut(text, " ± "); ok {
		return set(value) + " ±&nbsp;" + set(tolerance)
	}
	return set(text)
}

func (s *Site) benchList(entries []*formulary.Entry) ([]byte, source.List) {
	summary := "Small formulas of the trade that pages call by name, each with its valid range, its source and its checks."
	v, list := s.benchShell("Bench formulas", summary, "index.html")
	var b strings.Builder
	if s.Audience == page.Staff {
		b.WriteString(`<p><a href="outside.html">What they are checked against from outside</a></p>` + "\n")
	}
	group := ""
	for i, e := range entries {
		if e.Group != group {
			if group != "" {
				b.WriteString("</dl>\n")
			}
			group = e.Group
			anchor := "Group-" + strconv.Itoa(len(v.Contents)+1)
			v.Contents = append(v.Contents, theme.Heading{Anchor: anchor, Title: escaped(work.Words(group)), Level: 2})
			b.WriteString(`<h2 id="` + anchor + `">` + string(escaped(work.Words(group))) + "</h2>\n<dl class=\"listing\">\n")
		}
		b.WriteString(`<div><dt><a href="` + e.Name + `.html">` + string(escaped(work.Words(e.Name))) + "</a></dt><dd>" + string(escaped(e.Sentence)) + "</dd></div>\n")
		if i == len(entries)-1 {
			b.WriteString("</dl>\n")
		}
	}
	v.Body = template.HTML(b.String())
	out, l := s.Theme.Instruction(&v)
	return out, append(list, l...)
}

// outsidePage lists every check against a standard, a handbook or a worked example.
func (s *Site) outsidePage() ([]byte, source.List) {
	v, list := s.benchShell("Checked from outside", "Values of published standards, handbook tables, worked examples and libraries of general use, beside what the bench formulas make of them.", "outside.html")
	var b strings.Builder
	var checks theme.Checks
	off := 0
	for _, c := range formulary.Outside() {
		result := "Agrees"
		if !c.OK {
			result = "Off"
			off++
		}
		if strings.Trim(c.Deviation, "-0. ") != "" {
			result += ", off by " + c.Deviation
		}
		checks.Cases = append(checks.Cases, theme.CheckCase{Case: escaped(c.ID + ": " + c.What), Source: c.Source + "; " + c.Provenance,
			Results: []theme.CheckResult{{Label: result, Expected: foundHTML(c.Expected), Found: foundHTML(c.Found)}}})
	}
	b.WriteString("<p>" + string(escaped(counting(len(checks.Cases), "check", "checks"))) + ", " + string(escaped(counting(off, "of them off", "of them off"))) + ".</p>\n")
	v.Body = template.HTML(b.String())
	made, l := s.Theme.Checks(checks)
	v.Basis = []theme.Block{{Name: "checks", HTML: made}}
	list = append(list, l...)
	out, l := s.Theme.Instruction(&v)
	return out, append(list, l...)
}

func counting(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// benchChart draws a bench formula over its first parameter that has a closed range or lies between
// two others, with all others as in its first check; "" if that gives no line.
func (s *Site) benchChart(e *formulary.Entry) template.HTML {
	if len(e.Checks) == 0 || e.Checks[0].Refused {
		return ""
	}
	at := e.Checks[0].At
	for i, p := range e.Params {
		low, high, ok := chartRange(e, i, at)
		if !ok || at[i].Kind.Sort == quantity.YesNo {
			continue
		}
		c := chart.Chart{ID: "Chart-" + e.Name, Caption: work.Words(e.Name) + " over " + strings.ToLower(p.Label[:1]) + p.Label[1:] + ", all else as in the first worked example"}
		show := at[i].AsWritten()
		c.X = (&pager{}).axisOf(p.Label, at[i].Kind, show)
		line := chart.Line{Name: work.Words(e.Name)}
		over := s.Content.Formulas.Over(e, i)
		if over == nil {
			continue
		}
		good := 0
		for k := range 49 {
			base := low + (high-low)*float64(k)/48
			w, ok := over(base)
			point := chart.Point{X: onAxis(at[i].Kind, at[i].Unit, base), OK: ok && w.Refused == ""}
			if point.OK {
				if good == 0 {
					c.Y = (&pager{}).axisOf("", w.Kind, w.Show)
				}
				good++
				point.Y = onAxis(w.Kind, w.Show.Unit, w.Base)
				point.Shown = w.Show.Format(w.Base).Text
			}
			line.Points = append(line.Points, point)
		}
		if good < 8 {
			continue
		}
		c.Lines = []chart.Line{line}
		return template.HTML(c.Figure())
	}
	return ""
}

// chartRange is the range of a parameter over which a formula is drawn.
func chartRange(e *formulary.Entry, i int, at []quantity.Value) (low, high float64, ok bool) {
	p := e.Params[i]
	if p.Lowest != "" {
		for k, o := range e.Params {
			if o.Name == p.Lowest {
				low = at[k].Base
			}
			if o.Name == p.Highest {
				high = at[k].Base
			}
		}
		return low, high, high > low
	}
	from, t1 := quantity.Parse(p.Range.From)
	to, t2 := quantity.Parse(p.Range.To)
	if t1 == nil && t2 == nil && to.Base > from.Base && from.Kind == at[i].Kind && !p.Whole {
		return from.Base, to.Base, true
	}
	return 0, 0, false
}

// BenchShown lists the bench formulas that have a page on the audience's site.
func (s *Site) BenchShown() []*formulary.Entry {
	uses := s.benchUses()
	return slices.DeleteFunc(slices.Clone(s.Content.Formulas.All()), func(e *formulary.Entry) bool {
		return s.Audience != page.Staff && len(uses[e]) == 0
	})
}
