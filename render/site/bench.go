package site

import (
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/formulary"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
	"labsite/recipes/source"
	"labsite/render/chart"
	"labsite/render/highlight"
)

// benchFolder holds a page for each bench formula: on the staff's site for all of them and
// for the checks from outside, on the customers' for those that their pages call.
const benchFolder = "bench-formulas"

// calls lists the bench formulas that a formula calls.
func (s *Site) calls(f *formula.Formula) []*formulary.Entry {
	var out []*formulary.Entry
	for _, t := range f.Tokens() {
		if t.Kind != formula.Function {
			continue
		}
		if e, ok := s.Formulary.Find(f.Normal()[t.Start:t.End]); ok && !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	return out
}

// benchLinks are the calls of a formula as links from a page.
func (p *pager) benchLinks(f *formula.Formula) []Link {
	var out []Link
	for _, e := range p.site.calls(f) {
		out = append(out, Link{e.Name, up(p.topic.Folder.Path) + benchFolder + "/" + e.Name + ".html"})
	}
	return out
}

// benchUses lists for each bench formula the pages of the audience that call it.
func (r *renderer) benchUses() map[*formulary.Entry][]*Topic {
	uses := map[*formulary.Entry][]*Topic{}
	for _, t := range r.site.Topics {
		if !t.shownTo(r.audience) || t.Status() != sheet.Approved {
			continue
		}
		for _, name := range r.site.digestOf(t).calls {
			if e, ok := r.site.Formulary.Find(name); ok {
				uses[e] = append(uses[e], t)
			}
		}
	}
	return uses
}

// benchPages makes the pages of the bench formulas.
func (r *renderer) benchPages(put func(name string, b []byte, l source.List)) {
	uses := r.benchUses()
	var listed []*formulary.Entry
	for _, e := range r.site.Formulary.All() {
		if r.audience == sheet.Staff || len(uses[e]) > 0 {
			listed = append(listed, e)
			b, l := r.benchPage(e, uses[e])
			put(path.Join(benchFolder, e.Name+".html"), b, l)
		}
	}
	if len(listed) == 0 {
		return
	}
	b, l := r.benchList(listed)
	put(path.Join(benchFolder, "index.html"), b, l)
	if r.audience == sheet.Staff {
		b, l := r.outsidePage()
		put(path.Join(benchFolder, "outside.html"), b, l)
	}
}

func (r *renderer) benchShell(title, summary, file string) (Page, source.List) {
	var v Page
	r.shell(benchFolder, &v.Shell)
	v.Title, v.Summary, v.Description = title, summary, summary
	v.Canonical = r.canonical(path.Join(benchFolder, file))
	v.Trail = []Link{{r.site.Top.title(r.site, r.audience), "../index.html"}}
	if file != "index.html" {
		v.Trail = append(v.Trail, Link{"Bench formulas", "index.html"})
	}
	var list source.List
	v.Nav, list = r.withNav(benchFolder, path.Join(benchFolder, file), nil)
	return v, list
}

// benchPage explains one bench formula; staff see its checks as well.
func (r *renderer) benchPage(e *formulary.Entry, uses []*Topic) ([]byte, source.List) {
	v, list := r.benchShell(titleOf(e.Name), e.Sentence, e.Name+".html")
	var b strings.Builder
	heading := func(text string) { b.WriteString("<h2>" + string(escaped(text)) + "</h2>\n") }
	heading("Formula")
	b.WriteString("<p><code>" + highlight.FormulaText(e.Call()) + "</code></p>\n<p><code>" + highlight.FormulaText(strings.TrimSpace(e.Formula)) + "</code></p>\n")
	heading("What goes in")
	b.WriteString(`<dl class="particulars">` + "\n")
	for _, p := range e.Params {
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
	if drawn := r.benchChart(e); drawn != "" {
		heading("What it looks like")
		b.WriteString(string(drawn))
	}
	if len(uses) > 0 {
		heading("Where it is used")
		b.WriteString("<ul>\n")
		for _, t := range uses {
			b.WriteString(`<li><a href="../` + urlPath(t.Address()) + `">` + string(escaped(t.Title())) + "</a></li>\n")
		}
		b.WriteString("</ul>\n")
	}
	v.Body = template.HTML(b.String())
	if r.audience == sheet.Staff {
		var checks Checks
		for _, c := range r.site.Formulary.RunChecks(e) {
			checks.Cases = append(checks.Cases, CheckCase{Case: "<code>" + template.HTML(highlight.FormulaText(c.What)) + "</code>", Source: c.Source,
				Results: []CheckResult{{Label: "Result", Expected: foundHTML(c.Expected), Found: foundHTML(c.Found)}}})
		}
		var l source.List
		v.Checks, l = r.site.templates.Checks(checks)
		list = append(list, l...)
	}
	out, l := r.site.templates.Page(&v)
	return out, append(list, l...)
}

// foundHTML sets a value that was expected or found, or the words in its place.
func foundHTML(text string) template.HTML {
	if strings.HasPrefix(text, "refused") || strings.HasPrefix(text, "error") {
		return escaped(text)
	}
	return expectedHTML(text)
}

// expectedHTML sets a value with its tolerance. Its blanks may break where a style sheet
// lets them: a ledger on a phone has no room for ten digits, their unit and ± on one line.
func expectedHTML(text string) template.HTML {
	set := func(text string) template.HTML {
		return template.HTML(strings.ReplaceAll(string(quantityHTML(text, "")), "&nbsp;", " "))
	}
	if value, tolerance, ok := strings.Cut(text, " ± "); ok {
		return set(value) + " ±&nbsp;" + set(tolerance)
	}
	return set(text)
}

// titleOf is a name as a title: Time at temperature.
func titleOf(name string) string { return words(name) }

func (r *renderer) benchList(entries []*formulary.Entry) ([]byte, source.List) {
	summary := "Small formulas of the trade that pages call by name, each with its valid range, its source and its checks."
	v, list := r.benchShell("Bench formulas", summary, "index.html")
	var b strings.Builder
	if r.audience == sheet.Staff {
		b.WriteString(`<p><a href="outside.html">What they are checked against from outside</a></p>` + "\n")
	}
	group := ""
	for i, e := range entries {
		if e.Group != group {
			if group != "" {
				b.WriteString("</dl>\n")
			}
			group = e.Group
			b.WriteString("<h2>" + string(escaped(words(group))) + "</h2>\n<dl>\n")
		}
		b.WriteString(`<dt><a href="` + e.Name + `.html">` + string(escaped(titleOf(e.Name))) + "</a></dt><dd>" + string(escaped(e.Sentence)) + "</dd>\n")
		if i == len(entries)-1 {
			b.WriteString("</dl>\n")
		}
	}
	v.Body = template.HTML(b.String())
	out, l := r.site.templates.Page(&v)
	return out, append(list, l...)
}

// outsidePage lists every check against a standard, a handbook or a worked example.
func (r *renderer) outsidePage() ([]byte, source.List) {
	v, list := r.benchShell("Checked from outside", "Values of published standards, handbook tables, worked examples and libraries of general use, beside what the bench formulas make of them.", "outside.html")
	var b strings.Builder
	var checks Checks
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
		checks.Cases = append(checks.Cases, CheckCase{Case: escaped(c.ID + ": " + c.What), Source: c.Source + "; " + c.Provenance,
			Results: []CheckResult{{Label: result, Expected: foundHTML(c.Expected), Found: foundHTML(c.Found)}}})
	}
	b.WriteString("<p>" + string(escaped(counting(len(checks.Cases), "check", "checks"))) + ", " + string(escaped(counting(off, "of them off", "of them off"))) + ".</p>\n")
	v.Body = template.HTML(b.String())
	var l source.List
	v.Checks, l = r.site.templates.Checks(checks)
	list = append(list, l...)
	out, l := r.site.templates.Page(&v)
	return out, append(list, l...)
}

func counting(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// benchChart draws a bench formula over the first parameter that has a closed range or is
// the tested one of a window, all others as in its first check; "" where no line comes of it.
func (r *renderer) benchChart(e *formulary.Entry) template.HTML {
	if len(e.Checks) == 0 || e.Checks[0].Refused {
		return ""
	}
	at := e.Checks[0].At
	for i, p := range e.Params {
		low, high, ok := chartRange(e, i, at)
		if !ok || at[i].Kind.Sort == quantity.YesNo {
			continue
		}
		c := chart.Chart{ID: "Chart-" + e.Name, Caption: titleOf(e.Name) + " over " + strings.ToLower(p.Label[:1]) + p.Label[1:]}
		show := at[i].AsWritten()
		c.X = (&pager{}).axisOf(p.Label, at[i].Kind, show)
		line := chart.Line{Name: titleOf(e.Name)}
		good := 0
		for k := range 49 {
			base := low + (high-low)*float64(k)/48
			w, ok := r.site.Formulary.At(e, i, base)
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

// chartRange is the stretch of a parameter worth drawing.
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
