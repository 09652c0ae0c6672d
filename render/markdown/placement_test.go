package markdown

import (
	"strings"
	"testing"

	"labsite/recipes/source"
)

func parse(t testing.TB, text string) (*Document, source.List) {
	t.Helper()
	f, list := source.New("page.md", []byte(text))
	if len(list) > 0 {
		t.Fatal(list)
	}
	return Parse(f, 0)
}

// fill fills in every placement with its own text.
func fill(d *Document) {
	for _, p := range d.Placements() {
		p.HTML, p.Plain = "<b>"+p.Text+"</b>", p.Text
	}
}

func TestPlacementIsSplit(t *testing.T) {
	for _, c := range []struct{ text, formula, show string }{
		{"tank", "tank", ""},
		{"concentrate / rolls", "concentrate / rolls", ""},
		{"20 °C", "20 °C", ""},
		{"tank in fl_oz", "tank", "fl_oz"},
		{"strength in 1+n", "strength", "1+n"},
		{"develop in 0.1 min", "develop", "0.1 min"},
		{"t in 1/n s", "t", "1/n s"},
		{"t\u00a0in\ts", "t", "s"},
		{"1+100", "1+100", ""},
		{"1 in 100", "1 in 100", ""},
		{"1 in 100 in 1+n", "1 in 100", "1+n"},
		{"rolls * 5 in 1", "rolls * 5", "1"},
		{"a in b in c", "a in b", "c"},
		{`(a in b)`, "(a in b)", ""},
		{`f(a in b, [c in d]) in ml`, "f(a in b, [c in d])", "ml"},
		{`a == "in in in" in usual`, `a == "in in in"`, "usual"},
		{`a == "x \" in ml" in "%"`, `a == "x \" in ml"`, `"%"`},
		{`a == 'x in ml'`, `a == 'x in ml'`, ""},
		{"if a > 1 { b in c } else { d }", "if a > 1 { b in c } else { d }", ""},
		{"if a > 1 { b } else { d } in ml", "if a > 1 { b } else { d }", "ml"},
		{"inch", "inch", ""},
		{"in ml", "in ml", ""},
		{"a in", "a in", ""},
		{"8 inch in mm", "8 inch", "mm"},
		{"begin", "begin", ""},
		{"é + ß", "é + ß", ""},
		{"mix.concentrate  ", "mix.concentrate", ""},
	} {
		d, list := parse(t, "Draw {"+c.text+"}.")
		if len(list) > 0 || len(d.Placements()) != 1 {
			t.Errorf("%s: %v", c.text, list)
			continue
		}
		p := d.Placements()[0]
		if p.Text != strings.TrimSpace(c.text) || p.Formula != c.formula || p.Show != c.show {
			t.Errorf("%s: %q in %q of %q", c.text, p.Formula, p.Show, p.Text)
		}
		if p.FormulaSpan.Text() != c.formula || p.ShowSpan.Text() != c.show || p.Span.Text() != "{"+c.text+"}" {
			t.Errorf("%s: spans say %q, %q, %q", c.text, p.FormulaSpan.Text(), p.ShowSpan.Text(), p.Span.Text())
		}
	}
}

// Each body has a § in place of its only placement {x}, and the HTML that it becomes; every context in which text
// may stand is here.
func TestPlacementInEveryContext(t *testing.T) {
	for _, c := range []struct{ name, body, html string }{
		{"text", "a §, b", "<p>a <b>x</b>, b</p>\n"},
		{"first and last", "§ a", "<p><b>x</b> a</p>\n"},
		{"without blanks", "a§b", "<p>a<b>x</b>b</p>\n"},
		{"second line", "a\n  § b", "<p>a\n<b>x</b> b</p>\n"},
		{"before a hard break", "a §  \nb", "<p>a <b>x</b><br>\nb</p>\n"},
		{"before a backslash break", "a §\\\nb", "<p>a <b>x</b><br>\nb</p>\n"},
		{"alone", "a\n\n§\n\nb", "<p>a</p>\n<b>x</b>\n<p>b</p>\n"},
		{"alone, indented", "   §   ", "<b>x</b>\n"},
		{"alone, then a break that is none", "§  \n", "<b>x</b>\n"},
		{"emphasis", "a *§* b", "<p>a <em><b>x</b></em> b</p>\n"},
		{"strong", "**§ b**", "<p><strong><b>x</b> b</strong></p>\n"},
		{"strikethrough", "~~a §~~", "<p><del>a <b>x</b></del></p>\n"},
		{"link text", "[a § b](c.md)", "<p><a href=\"c.md\">a <b>x</b> b</a></p>\n"},
		{"link by name", "[§][c]\n\n[c]: d.md", "<p><a href=\"d.md\"><b>x</b></a></p>\n"},
		{"brackets that are no link", "[a § b] c", "<p>[a <b>x</b> b] c</p>\n"},
		{"picture", "![a § b](c.png)", "<p><img src=\"c.png\" alt=\"a x b\"></p>\n"},
		{"picture, emphasised", "![*§*](c.png)", "<p><img src=\"c.png\" alt=\"x\"></p>\n"},
		{"heading", "## a §", "<h2>a <b>x</b></h2>\n"},
		{"heading with a tail", "## § ##", "<h2><b>x</b></h2>\n"},
		{"underlined heading", "§\n---", "<h2><b>x</b></h2>\n"},
		{"item", "- a §\n- b", "<ul>\n<li>a <b>x</b></li>\n<li>b</li>\n</ul>\n"},
		{"item alone", "- §\n- b", "<ul>\n<li><b>x</b></li>\n<li>b</li>\n</ul>\n"},
		{"numbered", "3. a\n\n   §", "<ol start=\"3\">\n<li>\n<p>a</p>\n<b>x</b>\n</li>\n</ol>\n"},
		{"task", "- [ ] a §", "<ul>\n<li class=\"task\"><input type=\"checkbox\" aria-label=\"a x\"> a <b>x</b></li>\n</ul>\n"},
		{"quote", "> a §", "<blockquote>\n<p>a <b>x</b></p>\n</blockquote>\n"},
		{"quote alone", "> §", "<blockquote>\n<b>x</b>\n</blockquote>\n"},
		{"term", "a §\n: b", "<dl>\n<dt>a <b>x</b></dt>\n<dd>b</dd>\n</dl>\n"},
		{"definition", "a\n: b §", "<dl>\n<dt>a</dt>\n<dd>b <b>x</b></dd>\n</dl>\n"},
		{"cell", "| a | b |\n|---|---|\n| c | § |", table("<th scope=\"col\">a</th>\n<th scope=\"col\">b</th>\n", "<td>c</td>\n<td><b>x</b></td>\n", "a, b")},
		{"cell without bars", "a | b\n--|--:\nc §|d", table("<th scope=\"col\">a</th>\n<th scope=\"col\" class=\"flush-right\">b</th>\n", "<td>c <b>x</b></td>\n<td class=\"flush-right\">d</td>\n", "a, b")},
		{"head", "| a § | b |\n|---|---|\n| c | d |", table("<th scope=\"col\">a <b>x</b></th>\n<th scope=\"col\">b</th>\n", "<td>c</td>\n<td>d</td>\n", "a x, b")},
		{"beside code", "`{x}`§`{x}`", "<p><code>{x}</code><b>x</b><code>{x}</code></p>\n"},
		{"beside escapes", `\{x}§\{x\}`, "<p>{x}<b>x</b>{x}</p>\n"},
		{"behind a backslash that is one", `\\§`, "<p>\\<b>x</b></p>\n"},
		{"beside raw HTML", `<i title="{x}">§</i>`, "<p>&lt;i title=&quot;{x}&quot;&gt;<b>x</b>&lt;/i&gt;</p>\n"},
		{"beside link targets", `[a]({x}.md "{x}") <tel:{x}> §`, "<p><a href=\"%7Bx%7D.md\" title=\"{x}\">a</a> <a href=\"tel:%7Bx%7D\">tel:{x}</a> <b>x</b></p>\n"},
		{"beside a bare address", `https://a.example/{x} §`, "<p><a href=\"https://a.example/%7Bx%7D\">https://a.example/{x}</a> <b>x</b></p>\n"},
		{"beside code blocks", "    {x}\n\n§\n\n```\n{x}\n```", "<pre tabindex=\"0\"><code>{x}\n</code></pre>\n<b>x</b>\n<pre tabindex=\"0\"><code>{x}\n</code></pre>\n"},
		{"beside an HTML block", "<div>\n{x}\n</div>\n\n§", "<p>&lt;div&gt;\n{x}\n&lt;/div&gt;</p>\n<b>x</b>\n"},
		{"note", "a[^1]\n\n[^1]: b §", "<p>a" + mark + "</p>\n" + note("<p>b <b>x</b>"+back+"</p>")},
		{"two in a line", "{y}§ a", "<p><b>y</b><b>x</b> a</p>\n"},
	} {
		d, list := parse(t, strings.ReplaceAll(c.body, "§", "{x}"))
		if len(list) > 0 {
			t.Errorf("%s: %v", c.name, list)
		}
		found := 0
		for _, p := range d.Placements() {
			if p.Text == "x" {
				found++
				if p.Span.Start != strings.Index(c.body, "§") {
					t.Errorf("%s: at %d", c.name, p.Span.Start)
				}
			}
		}
		if found != 1 {
			t.Errorf("%s: placed %d times", c.name, found)
		}
		fill(d)
		if html := render(t, d, RenderOptions{}); html != c.html {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, html, c.html)
		}
	}
}

const (
	mark = `<sup class="note-mark" id="Note-1-from"><a href="#Note-1" role="doc-noteref" aria-label="Note 1">1</a></sup>`
	back = ` <a href="#Note-1-from" role="doc-backlink" aria-label="Back from note 1">↰</a>`
)

func note(inner string) string {
	return "<section class=\"notes\" role=\"doc-endnotes\" aria-label=\"Notes\">\n<ol>\n<li id=\"Note-1\">\n" + inner + "\n</li>\n</ol>\n</section>\n"
}

func table(head, row, name string) string {
	return "<section class=\"wide\" tabindex=\"0\" aria-label=\"Table 1: " + name + "\">\n<table>\n<thead>\n<tr>\n" + head +
		"</tr>\n</thead>\n<tbody>\n<tr>\n" + row + "</tr>\n</tbody>\n</table>\n</section>\n"
}

func TestPlacementSaysWhereItStands(t *testing.T) {
	d, _ := parse(t, "{a}\n\n{b} {c}\n\n## {d}\n\n[{e}](x) ![{f}](y)\n\n|{g}|\n|-|\n\n- {h}\n- [ ] {i}\n\n> {j}\n\n{k}\n{l}\n")
	got := ""
	for _, p := range d.Placements() {
		got += p.Text
		for _, f := range []struct {
			is   bool
			sign string
		}{{p.Block, "!"}, {p.InHeading, "h"}, {p.InLink, "l"}, {p.InPicture, "p"}, {p.InCell, "c"}} {
			if f.is {
				got += f.sign
			}
		}
		got += " "
	}
	if want := "a! b c dh el fp gc h! i j! k l "; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestLooseBracesAreReported(t *testing.T) {
	for _, c := range []struct{ body, code, marked string }{
		{"fill to { tank } now", "brace-before-blank", "{ tank }"},
		{"fill to {tank now", "brace-not-closed", "{tank now"},
		{"fill to {tank\nnow}", "brace-not-closed", "{tank"},
		{"fill to {tank \"a} now", "brace-not-closed", "{tank \"a} now"},
		{"fill to tank} now", "brace-not-opened", "}"},
		{"fill to {tank}} now", "brace-not-opened", "}"},
		{"fill to {{tank}} now", "braces-doubled", "{"},
		{"fill to {} now", "braces-empty", "{}"},
		{"fill to {  } now", "braces-empty", "{  }"},
		{"at {-5 °C} now", "brace-opens-nothing", "{-5 °C}"},
		{"a {.5 ml} b", "brace-opens-nothing", "{.5 ml}"},
		{"a {*tank*} b", "brace-opens-nothing", "{*tank*}"},
		{"## Mixing {#mix}", "brace-opens-nothing", "{#mix}"},
		{"|a|b|\n|-|-|\n|{a|b}|c|", "brace-not-closed", "{a"},
		{"- a {b", "brace-not-closed", "{b"},
		{"![a {b](c.png)", "brace-not-closed", "{b](c.png)"},
		{"[^1]\n\n[^1]: a { b }", "brace-before-blank", "{ b }"},
	} {
		_, list := parse(t, c.body)
		if len(list) != 1 || list[0].Code != c.code || list[0].Severity != source.Report {
			t.Errorf("%q: %v, want %s", c.body, list, c.code)
			continue
		}
		line, mark := list[0].Excerpt()
		from := strings.Index(mark, "^")
		if runes := []rune(line); string(runes[from:from+strings.Count(mark, "^")]) != c.marked {
			t.Errorf("%q: marks\n%s\n%s", c.body, line, mark)
		}
	}
}

func TestOtherBracesAreNot(t *testing.T) {
	for _, body := range []string{
		`\{tank}`, `\{ tank }`, `\{tank\}`, `a \} b`, `{…}`, `:-}`, `a { b`, `the sign { opens`, "`{ tank }`", "    { tank }",
		"<i a=\"{ b }\">", "[a]({ b)", "```\n{ a }\n{b\n```", "<https://a.example/{b>", "{if a { b } else { c }}",
		"a \\{b} c \\{d} e", "&#123; tank &#125;",
	} {
		if _, list := parse(t, body); len(list) > 0 {
			t.Errorf("%q: %v", body, list)
		}
	}
}

// A page full of loose braces has a bounded number of errors, not thousands.
func TestLooseBracesAreReportedABoundedNumberOfTimes(t *testing.T) {
	_, list := parse(t, strings.Repeat("fill to { tank }\n", 200))
	if len(list) != mostLoose {
		t.Errorf("%d", len(list))
	}
}

// A placement that is cut by a table's bar is an error that mentions the bar.
func TestBarInBracesIsExplained(t *testing.T) {
	_, list := parse(t, "|a|b|\n|-|-|\n|{a | b}|c|")
	if len(list) != 1 || !strings.Contains(list[0].Hint, "write or for alternatives") {
		t.Errorf("%v", list)
	}
}

func TestPlacementsAreInReadingOrder(t *testing.T) {
	d, _ := parse(t, "{a} [^n] {b}\n\n[^n]: {z}\n\n- {c}\n\n  > {d}\n\n|{e}|{f}|\n|-|-|\n|{g}|{h}|\n\n*{i}* {j}")
	got := ""
	for _, p := range d.Placements() {
		got += p.Text
	}
	if got != "abcdefghijz" {
		t.Error(got)
	}
}

// Places count from the start of the file, not of the body, and columns count characters.
func TestPlacesAreThoseOfTheFile(t *testing.T) {
	f, _ := source.New("page.md", []byte("\ufeff---\r\ntitle: é\r\n---\r\nä {a}\r\n\r\n> ö\t{ b }\r\n"))
	d, list := Parse(f, strings.Index(f.Text, "ä"))
	p := d.Placements()[0].Span
	if line, column := p.File.Place(p.Start); line != 4 || column != 3 {
		t.Errorf("%d:%d", line, column)
	}
	if len(list) != 1 || list[0].Line != 6 || list[0].Column != 5 {
		t.Errorf("%v", list)
	}
}
