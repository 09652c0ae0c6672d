package markdown

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"labsite/recipes/source"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

func TestHeadings(t *testing.T) {
	d, list := parse(t, strings.Join([]string{
		"## Before you start",
		"### Mixing {tank} now ###",
		"## Mixing now",
		"Mixing",
		"*now*",
		"---",
		"###### Größe & Maß_1-2: `code`, [link](x) ![pic](y)",
		"## 現像 — Проявка हिन्दी",
		"## {x}",
		"## …",
		"##",
		"> ## Before  you\tstart",
		"",
		"- ## before you start",
	}, "\n"))
	want := []string{
		"2 before-you-start|Before you start",
		"3 mixing--now|Mixing now", // each space beside a placement counts
		"2 mixing-now|Mixing now",
		"2 mixing-now-1|Mixing now",
		"6 größe--maß_1-2-code-link-pic|Größe & Maß_1-2: code, link pic",
		"2 現像--проявка-हिन्दी|現像 — Проявка हिन्दी",
		"2 section|",
		"2 section-1|…",
		"2 section-2|",
		"2 before--you-start|Before you start",
		"2 before-you-start-1|before you start",
	}
	if len(d.Headings()) != len(want) {
		t.Fatalf("%d headings", len(d.Headings()))
	}
	for i, h := range d.Headings() {
		if got := fmt.Sprintf("%d %s|%s", h.Level, h.ID, h.Text); got != want[i] {
			t.Errorf("got  %s\nwant %s", got, want[i])
		}
	}
	if len(list) != 1 || list[0].Code != "heading-empty" || list[0].Line != 11 {
		t.Errorf("%v", list)
	}
	for i, text := range map[int]string{1: "### Mixing {tank} now", 3: "Mixing\n*now*"} {
		if got := d.Headings()[i].Span.Text(); got != text {
			t.Errorf("%q", got)
		}
	}
}

// An id with a number may already be that of a heading with such a text.
func TestAnchorsAreUsedOnce(t *testing.T) {
	var a anchors
	got := ""
	for _, text := range []string{"a-1", "a", "a", "a", "a-1", "A 1"} {
		got += a.id(text) + " "
	}
	if got != "a-1 a a-2 a-3 a-1-1 a-1-2 " {
		t.Error(got)
	}
}

func TestAnchorsAreWritten(t *testing.T) {
	d, _ := parse(t, "## Größe of {x} < 1 <i>\n\ntext")
	for _, p := range d.Placements() {
		p.HTML, p.Plain = "<b>x</b>", `"x`
	}
	want := `<h2 id="größe-of---1">Größe of <b>x</b> &lt; 1 &lt;i&gt; ` +
		`<a class="here" href="#gr%C3%B6%C3%9Fe-of---1" aria-label="Link to this part: Größe of &quot;x &lt; 1">↳</a></h2>` + "\n<p>text</p>\n"
	if html := render(t, d, RenderOptions{Anchors: true}); html != want {
		t.Errorf("%s\nwant\n%s", html, want)
	}
	if html := render(t, d, RenderOptions{}); strings.Contains(html, "id=") || strings.Contains(html, "<a") {
		t.Error(html)
	}
	// headings of a text have no ids, since they are not numbered with those of the page
	d, _ = ParseText("## a", noPlace, false)
	if html := render(t, d, RenderOptions{Anchors: true}); html != "<h2>a</h2>\n" {
		t.Error(html)
	}
}

func noPlace(start, end int) source.Span { return source.Span{} }

func TestTitleInBody(t *testing.T) {
	for _, c := range []struct {
		body         string
		line, column int
	}{{"a\n\n# b", 3, 1}, {"a\n\n  # b", 3, 3}, {"a\nb\n===", 1, 1}, {"#", 1, 1}, {"> # b", 1, 3}, {"# {a} #", 1, 1}} {
		d, list := parse(t, c.body)
		if count(list, "title-in-body") != 1 {
			t.Errorf("%q: %v", c.body, list)
			continue
		}
		for _, p := range list {
			if p.Code == "title-in-body" && (p.Line != c.line || p.Column != c.column || p.Severity != source.Error) {
				t.Errorf("%q: %v", c.body, p)
			}
		}
		if html := render(t, d, RenderOptions{}); strings.Contains(html, "<h1") {
			t.Errorf("%q: %s", c.body, html)
		}
	}
	for _, body := range []string{"#a", "\\# a", "    # a", "`# a`", "a # b", "## a"} {
		if _, list := parse(t, body); len(list) > 0 {
			t.Errorf("%q: %v", body, list)
		}
	}
}

func TestLinks(t *testing.T) {
	d, list := parse(t, "[a *b*](c\\_d.md) [e][f] [f] <https://g.example> h@i.example www.j.example [k](<l m.md> \"n\") [o]()\n\n[f]: ../p&amp;q.md#r")
	want := []struct{ to, text, span string }{
		{"c_d.md", "a b", `c\_d.md`},
		{"../p&q.md#r", "e", "../p&amp;q.md#r"},
		{"../p&q.md#r", "f", "../p&amp;q.md#r"},
		{"https://g.example", "https://g.example", "https://g.example"},
		{"mailto:h@i.example", "h@i.example", "h@i.example"},
		{"http://www.j.example", "www.j.example", "www.j.example"},
		{"l m.md", "k", "l m.md"},
		{"", "o", "["},
	}
	if len(list) > 0 || len(d.Links()) != len(want) {
		t.Fatalf("%d: %v", len(d.Links()), list)
	}
	for i, l := range d.Links() {
		if l.Destination != want[i].to || l.Text != want[i].text || l.Span.Text() != want[i].span {
			t.Errorf("%q %q %q, want %q", l.Destination, l.Text, l.Span.Text(), want[i])
		}
		l.Destination = fmt.Sprintf("to %d\"", i)
	}
	html := render(t, d, RenderOptions{})
	for i := range want {
		if !strings.Contains(html, fmt.Sprintf(`href="to%%20%d%%22"`, i)) {
			t.Errorf("%d is not in %s", i, html)
		}
	}
}

func TestRefusedSchemes(t *testing.T) {
	for _, to := range []string{"javascript:x", "JavaScript:x", "vbscript:x", "data:text/html,x", "file:///x", "java&#115;cript:x",
		"javascript&colon;x", "&#1;javascript:x", "java&Tab;script:x", `javascript\:x`,
		"ms-msdt:/id", "search-ms:query=x", "intent://x#Intent;end", "blob:https://x/y", "view-source:https://x"} {
		for _, body := range []string{"[a](<" + to + ">)", "![a](<" + to + ">)", "[a][b]\n\n[b]: <" + to + ">"} {
			d, list := parse(t, body)
			if len(list) != 1 || list[0].Code != "link-scheme" || list[0].Severity != source.Error {
				t.Errorf("%s: %v", body, list)
			}
			html := render(t, d, RenderOptions{})
			if strings.Contains(html, "href") || strings.Contains(html, "src") {
				t.Errorf("%s: %s", body, html)
			}
		}
	}
	for _, to := range []string{"ftp://x", "about:blank", "x:javascript:"} {
		if _, list := parse(t, "[a](<"+to+">)"); len(list) != 1 || list[0].Code != "link-scheme" {
			t.Errorf("%s: %v", to, list)
		}
	}
	// destinations set by the caller are checked too
	d, _ := parse(t, "[a](b) ![c](d)")
	d.Links()[0].Destination, d.Pictures()[0].Destination = "javascript:x", "data:x"
	if html := render(t, d, RenderOptions{}); html != "<p><a>a</a> c</p>\n" {
		t.Error(html)
	}
	for _, to := range []string{"javascript.md", "mailto:a@b.example", "tel:+1", "1:b.md", "a/data:b", "#file:", "?data:", "https://a.example/javascript:b"} {
		if _, list := parse(t, "[a]("+to+")"); len(list) > 0 {
			t.Errorf("%s: %v", to, list)
		}
	}
}

func TestPictures(t *testing.T) {
	d, list := parse(t, "![a {x} *b* `c`](d.png \"e\")\n\n![]( f.png) ![ ](g.png) ![{y}](h.png)\n\n[![i](j.png)](k.md)")
	if n := count(list, "picture-without-text"); n != 2 || len(list) != 2 || list[0].Severity != source.Error || list[0].Line != 3 || list[0].Column != 1 || list[1].Column != 13 {
		t.Errorf("%v", list)
	}
	fill(d)
	var got []string
	for _, p := range d.Pictures() {
		got = append(got, p.Destination+"="+p.Span.Text()+"="+p.Alt())
	}
	if s := strings.Join(got, " "); s != "d.png=d.png=a x b c f.png=f.png= g.png=g.png= h.png=h.png=y j.png=j.png=i" {
		t.Error(s)
	}
	p := d.Pictures()[0]
	p.Destination, p.Width, p.Height = "/p/d 1.png", 640, 480
	want := `<p><img src="/p/d%201.png" alt="a x b c" title="e" width="640" height="480" loading="lazy" decoding="async"></p>`
	if html := render(t, d, RenderOptions{}); !strings.HasPrefix(html, want) {
		t.Error(html)
	}
	d.Placements()[0].Plain = `"><script>`
	if html := render(t, d, RenderOptions{}); !strings.Contains(html, `alt="a &quot;&gt;&lt;script&gt; b c"`) {
		t.Error(html)
	}
}

func TestTexts(t *testing.T) {
	d, _ := parse(t, "Use 500\n**ml** of [it \\& all](x.md), 20&nbsp;°C {a} mm `1 ml` <b c=\"2 ml\"> www.a.example\\\nnext\n\n## Head {b} 3 g\n\n![4 {c} kg](d)\n\n| e | 5 l |\n|-|-|\n| f | g |\n\n- é{x}\n\n```\n6 ml\n```\n")
	want := []string{
		"Use 500 ml of it & all, 20\u00a0°C |Use 500\n**ml** of [it \\& all](x.md), 20&nbsp;°C ",
		" mm | mm ", "next|next", "Head |Head ", " 3 g| 3 g", "4 |4 ", " kg| kg", "e|e", "5 l|5 l", "f|f", "g|g", "é|é",
	}
	got := d.Texts()
	if len(got) != len(want) {
		t.Fatalf("%d: %+v", len(got), got)
	}
	for i, x := range got {
		if s := x.Text + "|" + x.Span.Text(); s != want[i] {
			t.Errorf("got  %q\nwant %q", s, want[i])
		}
		if x.Heading != (i == 3 || i == 4) || x.Picture != (i == 5 || i == 6) {
			t.Errorf("%q: heading %v, picture %v", x.Text, x.Heading, x.Picture)
		}
	}
	for find, written := range map[string]string{
		"500 ml": "500\n**ml", "it & all": "it \\& all", "20\u00a0°C": "20&nbsp;°C", "°C": "°C", "&": "\\&", "\u00a0": "&nbsp;", "Use": "Use",
	} {
		at := strings.Index(got[0].Text, find)
		if s := got[0].At(at, at+len(find)).Text(); s != written {
			t.Errorf("%q is at %q, want %q", find, s, written)
		}
	}
}

func TestPlain(t *testing.T) {
	d, _ := parse(t, "## A {x}\n\nb *c*\nd `e` <i>f\n\n- [x] g[^1]\n\n| h | i |\n|-|-|\n| j | {y} |\n\n```\nk\nl\n```\n\n<div>m</div>\n\n[^1]: n")
	fill(d)
	if got, want := d.Plain(), "A x\nb c d e f\ng\nh\ni\nj\ny\nk\nl\nn"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestParseText(t *testing.T) {
	// the text is a byte shorter than the file for each escape, as after reading YAML
	f, _ := source.New("page.md", []byte(`note: "say \"{a}\" {b"`))
	start := strings.Index(f.Text, `say`)
	text := `say "{a}" {b`
	offset := func(i int) int { return start + i + strings.Count(text[:i], `"`) }
	d, list := ParseText(text, func(from, to int) source.Span { return f.Span(offset(from), offset(to)) }, true)
	if got := d.Placements()[0].FormulaSpan.Text(); got != "a" {
		t.Errorf("%q", got)
	}
	if len(list) != 1 || list[0].Column != 20 {
		t.Errorf("%v", list)
	}
	for _, c := range []struct{ text, inline, blocks string }{
		{"a *b* {c}", "a <em>b</em> <b>c</b>", "<p>a <em>b</em> <b>c</b></p>\n"},
		{"{c}", "<b>c</b>", "<b>c</b>\n"},
		{"## a", "## a", "<h2>a</h2>\n"},
		{"- a\n- b", "- a\n- b", "<ul>\n<li>a</li>\n<li>b</li>\n</ul>\n"},
		{"    a", "a", "<pre tabindex=\"0\"><code>a\n</code></pre>\n"},
		{"a\n\n    b\n\nc", "a<br>\nb<br>\nc", "<p>a</p>\n<pre tabindex=\"0\"><code>b\n</code></pre>\n<p>c</p>\n"},
		{"a\n\n  \n", "a", "<p>a</p>\n"},
		{"", "", ""},
		{"| a |\n|-|", "| a |\n|-|", "<section class=\"wide\" tabindex=\"0\" aria-label=\"Table 1: a\">\n<table>\n<thead>\n<tr>\n<th scope=\"col\">a</th>\n</tr>\n</thead>\n</table>\n</section>\n"},
		{"> a", "&gt; a", "<blockquote>\n<p>a</p>\n</blockquote>\n"},
		{"a[^1]\n\n[^1]: b", "a[^1]<br>\n[^1]: b", "<p>a<a href=\"b\">^1</a></p>\n"},
		{"<b>", "&lt;b&gt;", "<p>&lt;b&gt;</p>\n"},
		{"<div>", "&lt;div&gt;", "<p>&lt;div&gt;</p>\n"},
	} {
		for inline, want := range map[bool]string{true: c.inline, false: c.blocks} {
			d, list := ParseText(c.text, noPlace, inline)
			if len(list) > 0 {
				t.Errorf("%q: %v", c.text, list)
			}
			fill(d)
			if html := render(t, d, RenderOptions{Anchors: true}); html != want {
				t.Errorf("%q (inline: %v):\n%q\nwant\n%q", c.text, inline, html, want)
			}
			for _, p := range d.Placements() {
				if p.Block && inline {
					t.Errorf("%q: a block within a line", c.text)
				}
			}
		}
	}
}

func TestRawHTML(t *testing.T) {
	safe := func(html string) string {
		return strings.NewReplacer("<script>", "", "</script>", "", "<i onclick=\"x\">", "<i>").Replace(html)
	}
	for _, c := range []struct{ body, shown, let string }{
		{"a <i onclick=\"x\">b</i>", "<p>a &lt;i onclick=&quot;x&quot;&gt;b&lt;/i&gt;</p>\n", "<p>a <i>b</i></p>\n"},
		{"a <i>b\n\nc</i> d", "<p>a &lt;i&gt;b</p>\n<p>c&lt;/i&gt; d</p>\n", "<p>a <i>b</i></p>\n<p>c d</p>\n"},
		{"<script>x</script>", "<p>&lt;script&gt;x&lt;/script&gt;</p>\n", "x"},
		{"<div>\n\n*a* {b}\n\n</div>", "<p>&lt;div&gt;</p>\n<p><em>a</em> <b>b</b></p>\n<p>&lt;/div&gt;</p>\n", "<div>\n<p><em>a</em> <b>b</b></p>\n</div>"},
		{"<div>\n\n- a </div>\n", "<p>&lt;div&gt;</p>\n<ul>\n<li>a &lt;/div&gt;</li>\n</ul>\n", "<div>\n<ul>\n<li>a </li>\n</ul>\n</div>"},
		{"a <b><u>c</b> d", "<p>a &lt;b&gt;&lt;u&gt;c&lt;/b&gt; d</p>\n", "<p>a <b><u>c</u></b> d</p>\n"},
		{"a <br> <B>b</B>", "<p>a &lt;br&gt; &lt;B&gt;b&lt;/B&gt;</p>\n", "<p>a <br> <B>b</b></p>\n"},
		{"<!-- a\n\nb -->\n\nc <div> <!-- d -->e", "<p>c &lt;div&gt; e</p>\n", "&lt;!-- a\n\nb -->\n<p>c <div> &lt;!-- d -->e</div></p>\n"},
		{"<div>\n<!-- a --> b\n</div>", "<p>&lt;div&gt;\n b\n&lt;/div&gt;</p>\n", "<div>\n&lt;!-- a --> b\n</div>"},
		{"a <!-- b -->", "<p>a </p>\n", "<p>a &lt;!-- b --></p>\n"},
	} {
		d, _ := parse(t, c.body)
		fill(d)
		if html := render(t, d, RenderOptions{}); html != c.shown {
			t.Errorf("%q:\n%q\nwant\n%q", c.body, html, c.shown)
		}
		html := render(t, d, RenderOptions{RawHTML: safe})
		if err := balanced(html); err != nil {
			t.Errorf("%q: %v", c.body, err)
		}
		if strings.TrimRight(html, "\n") != strings.TrimRight(c.let, "\n") {
			t.Errorf("%q:\n%q\nwant\n%q", c.body, html, c.let)
		}
	}
}

func TestHighlightCode(t *testing.T) {
	d, _ := parse(t, "```go a\nx < y\n```\n\n```\nz\n```\n\n``` none\nw\n```\n")
	html := render(t, d, RenderOptions{HighlightCode: func(language, code string) string {
		if language == "go" && code == "x < y\n" {
			return "<b>x</b> &lt; y\n"
		}
		if language == "" {
			t.Error("asked without a language")
		}
		return ""
	}})
	want := "<pre tabindex=\"0\"><code class=\"language-go\"><b>x</b> &lt; y\n</code></pre>\n<pre tabindex=\"0\"><code>z\n</code></pre>\n<pre tabindex=\"0\"><code class=\"language-none\">w\n</code></pre>\n"
	if html != want {
		t.Errorf("%s\nwant\n%s", html, want)
	}
}

func TestNotesAndTheirFaults(t *testing.T) {
	d, list := parse(t, "a[^x] b[^y] c[^x] `[^z]` \\[^z] [link[^x]](l)\n\n[^x]: d\n\n[^u]: e\n")
	if len(list) != 2 || list[0].Code != "note-missing" || list[0].Column != 8 || list[1].Code != "note-unused" || list[1].Line != 5 {
		t.Errorf("%v", list)
	}
	html := render(t, d, RenderOptions{})
	if err := wellFormed(html); err != nil {
		t.Errorf("%v\n%s", err, html)
	}
	for _, part := range []string{`id="Note-1-from"`, `id="Note-1-from-2"`, `id="Note-1-from-3"`, `aria-label="Back from note 1, place 3"`} {
		if !strings.Contains(html, part) {
			t.Errorf("no %s in %s", part, html)
		}
	}
}

func TestWriterFails(t *testing.T) {
	d, _ := parse(t, "a")
	if err := d.Render(failing{}, RenderOptions{}); !errors.Is(err, errFull) {
		t.Errorf("%v", err)
	}
}

var errFull = errors.New("full")

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errFull }

// Many goroutines parse and write documents at once; for -race.
func TestManyAtOnce(t *testing.T) {
	done := make(chan string)
	for range 8 {
		go func() {
			d, _ := parse(t, ordinary)
			fill(d)
			done <- render(t, d, RenderOptions{Anchors: true})
		}()
	}
	first := <-done
	for range 7 {
		if <-done != first {
			t.Error("not the same")
		}
	}
}

// A panic of the parser is an error of its own text only.
func TestFaultIsContained(t *testing.T) {
	f, _ := source.New("page.md", []byte("a"))
	d, list := read(faulty{}, []byte(f.Text), true, false, f.Span)
	if len(list) != 1 || list[0].Code != "body-unreadable" || list[0].Severity != source.Error {
		t.Errorf("%v", list)
	}
	if html := render(t, d, RenderOptions{}); html != "" {
		t.Error(html)
	}
}

type faulty struct{ parser.Parser }

func (faulty) Parse(text.Reader, ...parser.ParseOption) ast.Node { panic("fault") }

// A comment that does not end is an error, whether it would hide the rest of the page or be shown.
func TestCommentThatDoesNotEnd(t *testing.T) {
	for body, column := range map[string]int{"a <!-- b": 3, "<!-- a --> <!-- b\n\nc": 12, "<!-- a": 1, "a <!-- b --> c": 0, "a \\<!-- b": 0, "`<!--`": 0} {
		_, list := parse(t, body)
		switch {
		case column == 0 && len(list) == 0:
		case column == 0 || len(list) != 1 || list[0].Code != "comment-not-closed" || list[0].Column != column:
			t.Errorf("%q: %v", body, list)
		}
	}
}
