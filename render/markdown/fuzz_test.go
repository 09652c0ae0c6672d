package markdown

import (
	"strings"
	"testing"

	"labsite/recipes/source"
)

// FuzzBody checks that any text can be parsed, that spans are right, and that the result is well formed, safe and
// always the same.
func FuzzBody(f *testing.F) {
	for _, e := range examples(f) {
		f.Add(e.Markdown)
	}
	for _, s := range []string{
		ordinary, "{a}", "{a in b in c}", `{"}" + f("\"}")}`, "\\{a}", "| {a|b} | ![{c} d](e) |\n|-|-|\n| {f | g} |",
		"# {a}\n\n## {b}\n\nc\n===\n", "[^1] [^1]\n\n[^1]: {a}\n\n    - [ ] b", "t\n: {d}\n\n: e\n", "- [x] {a}\n- {b}\n",
		"[{a} [^1]](b) <javascript:c> [d](data:e)\n\n[^1]: f", "<div>\n\n{a}\n\n</div>\n<p>{b}", "a<b><c>{d}</b></e>",
		"www.a.bc{d} e@f.gh\\\n{i}  \n{j}", ">>> - 1. + {a}", "![a [b](c) <d:e> {f}](g)", "{if a > b { c } else { d }}",
		"~a~ ~~b~~ {c", "&#0;&amp;{a}&quot;\x00", "\\&amp; {é} {٣ g}", "a  \n\tb    \n{c}",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<14 {
			t.Skip()
		}
		file, _ := source.New("page.md", []byte("---\n---\n"+text))
		const start = len("---\n---\n")
		for _, reader := range []struct {
			read   func(d *Document) source.List
			inline bool
		}{
			{func(d *Document) source.List { return d.parse(bodyReader, true) }, false},
			{func(d *Document) source.List { return d.parse(textReader, false) }, false},
			{func(d *Document) source.List { return d.parse(inlineReader, false) }, true},
		} {
			d := newDocument(file.Text[start:])
			d.inline = reader.inline
			d.place = func(from, to int) source.Span { return file.Span(start+from, start+to) }
			for _, problem := range reader.read(d) {
				if problem.Line < 3 || problem.Line > file.Lines() {
					t.Fatalf("out of place: %v", problem)
				}
			}
			checkSpans(t, d)
			for _, p := range d.Placements() {
				p.HTML, p.Plain = "<b>1</b>", `<script>"&`
			}
			opt := RenderOptions{Anchors: true}
			html := render(t, d, opt)
			if err := wellFormed(html); err != nil {
				t.Fatalf("%v\nin %s\nof %q", err, html, text)
			}
			if strings.Contains(strings.ToLower(html), "<script") || strings.Contains(html, `href="javascript:`) {
				t.Fatalf("not safe: %s\nof %q", html, text)
			}
			if again := render(t, d, opt); again != html {
				t.Fatalf("not the same twice: %q", text)
			}
			opt.RawHTML = asWritten
			if err := balanced(render(t, d, opt)); err != nil {
				t.Fatalf("with raw HTML: %v\nof %q", err, text)
			}
		}
	})
}

func checkSpans(t *testing.T, d *Document) {
	t.Helper()
	for _, p := range d.Placements() {
		whole := p.Span.Text()
		if !strings.HasPrefix(whole, "{") || !strings.HasSuffix(whole, "}") || strings.Contains(whole, "\n") ||
			strings.TrimSpace(whole[1:len(whole)-1]) != p.Text || p.FormulaSpan.Text() != p.Formula || p.ShowSpan.Text() != p.Show || p.Formula == "" {
			t.Fatalf("%+v: %q %q %q", *p, whole, p.FormulaSpan.Text(), p.ShowSpan.Text())
		}
	}
	for _, x := range d.Texts() {
		if x.Span.Start >= x.Span.End || x.Span.End > len(x.Span.File.Text) {
			t.Fatalf("%q at %d:%d", x.Text, x.Span.Start, x.Span.End)
		}
		if len(x.pieces) == 1 && x.pieces[0].same && x.Span.Text() != x.Text {
			t.Fatalf("%q is written %q", x.Text, x.Span.Text())
		}
	}
	for _, l := range d.Links() {
		if l.Span.Start > l.Span.End || l.Span.End > len(l.Span.File.Text) {
			t.Fatalf("%+v", *l)
		}
	}
	for _, h := range d.Headings() {
		if h.Span.Start >= h.Span.End {
			t.Fatalf("%+v", h)
		}
	}
}
