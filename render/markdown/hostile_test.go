package markdown

import (
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"labsite/recipes/source"
)

// hostile is an input that makes a careless Markdown parser slow, or use much memory or stack: a head, a part that
// is repeated to fill half of the size if there is one, a part that fills the rest, and a tail. A # in a part is
// replaced by a number.
type hostile struct{ name, head, before, part, tail string }

var hostiles = []hostile{
	{"quotes", "", "", ">", ""},
	{"quotes with blanks", "", "", "> ", "a"},
	{"quotes, lazy", strings.Repeat(">", 100) + "a\n", "", "a\n", ""},
	{"quotes, line by line", "", "", "> > > > > > > > > > > > > > > > > > > > > > > > a\n", ""},
	{"brackets", "", "", "[", ""},
	{"brackets closed", "", "[", "]", ""},
	{"brackets around", "", "[", "a]", ""},
	{"bracket pairs", "", "", "[]", ""},
	{"bracket lines", "", "", "[a]\n", ""},
	{"bracket words", "", "", "[a] ", ""},
	{"bracket chain", "", "", "[a][b]", ""},
	{"bracket chain open", "", "", "[a][b", ""},
	{"bracket caret", "", "", "[^a", ""},
	{"bracket caret pairs", "[^a]: b\n\n", "", "[^a] ", ""},
	{"bracket caret other", "[^b]: b\n\n", "", "[^a] ", ""},
	{"bracket caret lines", "[^b]: b\n\n", "", "[^b]\n", ""},
	{"pictures", "", "", "![", ""},
	{"pictures in pictures", "", "![a", "](b)", ""},
	{"links in links", "", "[a", "](b)", ""},
	{"links in line", "", "", "[a](b", ""},
	{"links, angled", "", "", "[a](<b", ""},
	{"links, titled", "", "", "[a](b \"c", ""},
	{"links, other titles", "", "", "[a](b 'c", ""},
	{"links, bracket titled", "", "", "[a](b (c", ""},
	{"links and stars", "*x ", "", "[a *b](c) ", ""},
	{"links whole", "", "", "[a](b) ", ""},
	{"links by name", "[a]: b\n\n", "", "[a] ", ""},
	{"links by name in lines", "[a]: b\n\n", "", "[a]\n", ""},
	{"definitions", "", "", "[a]:b\n", ""},
	{"definitions, titles", "", "", "[a]:b '\n", ""},
	{"definitions, numbered", "", "", "[a#]:b\n", ""},
	{"definitions, apart", "", "", "[a#]:b\n\n", ""},
	{"stars", "", "", "*", ""},
	{"stars open", "", "", "*a ", ""},
	{"stars close", "", "", "a* ", ""},
	{"stars apart", "", "", "_a b* ", ""},
	{"stars, three", "", "", "a**b c* ", ""},
	{"stars, nested", "", "*a ", "a* ", ""},
	{"stars, doubled and nested", "", "**a ", "a** ", ""},
	{"stars by paragraph", "", "", strings.Repeat("_a b* ", 500) + "\n\n", ""},
	{"tildes", "", "", "~a ~~b ", ""},
	{"round brackets", "", "", "(", ""},
	{"backticks", "", "", "`", ""},
	{"backticks apart", "", "", "` ", ""},
	{"backticks growing", growing(600), "", "a", ""},
	{"backticks growing in lines", strings.ReplaceAll(growing(600), " ", "\n"), "", "a\n", ""},
	{"backtick lines", "", "", "`a\n", ""},
	{"breaks", "", "", "- - - - ", ""},
	{"breaks and text", "", "", "- - - - ", "a"},
	{"lists", "", "", "- ", "a"},
	{"lists numbered", "", "", "1. ", "a"},
	{"list lines", "", "", "-\n", ""},
	{"list items", "", "", "- a\n", ""},
	{"list stairs", stairs(), "", "a\n", ""},
	{"list stairs again", "", "", stairs() + "\n", ""},
	{"tasks", "", "", "- [ ] a\n", ""},
	{"braces", "", "", "{", ""},
	{"braces open", "", "", "{a", ""},
	{"braces in braces", "", "{a", "}", ""},
	{"braces empty", "", "", "{}", ""},
	{"braces with blanks", "", "", "{ a } ", ""},
	{"braces placed", "", "", "{a}", ""},
	{"braces closing", "", "", "}", ""},
	{"braces quoted", "", "", "{a\"", ""},
	{"braces escaped", "", "", "\\{", ""},
	{"braces in cells", "|a|b|\n|-|-|\n", "", "|{a|{b|\n", ""},
	{"tags", "", "", "<a ", ""},
	{"tags whole", "", "", "<a>", ""},
	{"tags, attributes", "<a", "", " b", ""},
	{"tags, quotes", "", "", "<a b=\"<a b='", ""},
	{"tags, lines", "", "", "b <a\n", ""},
	{"html blocks", "", "", "<div>\n\n", ""},
	{"comments", "", "", "a <!-- ", ""},
	{"comment blocks", "", "", "<!--\n", ""},
	{"instructions", "", "", "a <? ", ""},
	{"declarations", "", "", "a <!A ", ""},
	{"autolinks", "", "", "<a:b", ""},
	{"entities", "", "", "&", ""},
	{"entities long", "", "", "&aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", ""},
	{"table, wide and tall", strings.Repeat("|a", 1<<14) + "\n" + strings.Repeat("|-", 1<<14) + "\n", "", "a\n", ""},
	{"tables", "", "", "|a|b|\n|-|-|\n|c|d|\n\n", ""},
	{"table, cells", "|a|\n|-|\n", "", "|a\n", ""},
	{"delimiter rows", "a|b\n", "", "-|-\n", ""},
	{"escaped pipes", "|a|\n|-|\n", "", "|`\\|`\n", ""},
	{"notes", "[^1]\n\n", "", "[^#]: a\n", ""},
	{"notes in notes", "[^1]\n\n", "", "[^#]: ", "a"},
	{"note marks", "[^1]: a\n\n", "", "[^1]", ""},
	{"terms", "", "", "a\n: b\n\n", ""},
	{"terms after one", "a\n", "", ": a\n", ""},
	{"terms in terms", "a\n", "", ": ", "a"},
	{"mail", "", "", "_a", "@b.c"},
	{"mail domains", strings.Repeat("_a", 30) + "@", "", "a.", "c"},
	{"mails", "", "", "a@b.c ", ""},
	{"addresses", "", "", "_http://a.a", ""},
	{"addresses, dots", "", "", "(http://a.a.a.a.a.a.a.a", ""},
	{"lines", "", "", "\n", ""},
	{"one letter lines", "", "", "a\n", ""},
	{"one letter paragraphs", "", "", "a\n\n", ""},
	{"titles", "", "", "# a\n", ""},
	{"headings, one name", "", "", "## a\n", ""},
	{"headings, numbers", "", "", "## a\n## a-#\n", ""},
	{"underlines", "", "", "a\n-\n", ""},
	{"fences", "", "", "```\na\n```\n", ""},
	{"tabs", "", "", "\t", "a"},
	{"tabbed list", "", "", "-\t", "a"},
	{"indented", "", "", "    a\n", ""},
	{"backslashes", "", "", "\\", ""},
	{"blanks", "a", "", " ", "b"},
	{"nothing", "", "", "\x00", ""},
	{"words", "", "", "plain words and nothing else in one line ", ""},
	{"hard breaks", "", "", "a  \n", ""},
}

func growing(most int) string {
	var b strings.Builder
	for i := 1; i <= most; i++ {
		b.WriteString(strings.Repeat("`", i) + " ")
	}
	return b.String()
}

func stairs() string {
	var b strings.Builder
	for i := range 60 {
		b.WriteString(strings.Repeat(" ", 2*i) + "- a\n")
	}
	return b.String()
}

// fill builds an input as large as a page may be or, if dense, as large as the bounds on lines and marks allow,
// divided by scale.
func (h hostile) fill(dense bool, scale int) string {
	var b strings.Builder
	b.WriteString(h.head)
	signs, lines := 0, 0
	count := func(s string) {
		lines += strings.Count(s, "\n")
		for i := range len(s) {
			if marks[s[i]] {
				signs++
			}
		}
	}
	count(h.head)
	room := func(part string, share int) bool {
		if dense && (signs+len(part) >= mostMarks*share/2/scale || lines+len(part) >= mostLines*share/2/scale) {
			return false
		}
		return b.Len()+len(part)+len(h.tail)+8 < largest*share/2/scale
	}
	for h.before != "" && room(h.before, 1) {
		b.WriteString(h.before)
		count(h.before)
	}
	for i := 0; room(h.part, 2); i++ {
		part := strings.ReplaceAll(h.part, "#", strconv.Itoa(i))
		if !strings.Contains(h.part, "a#") && !strings.Contains(h.part, "^#") {
			part = h.part
		}
		b.WriteString(part)
		count(part)
	}
	b.WriteString(h.tail)
	return b.String()
}

// Hostile inputs are parsed, and the result is well formed; BenchmarkHostile takes them in full size.
func TestHostileIsReadAndBalanced(t *testing.T) {
	for _, h := range hostiles {
		for _, dense := range []bool{false, true} {
			text := h.fill(dense, 64)
			for _, mode := range modes {
				d, list := mode.read(text)
				for _, problem := range list {
					if problem.Code == "body-unreadable" {
						t.Errorf("%s, %s: %v", h.name, mode.name, problem)
					}
				}
				html := render(t, d, RenderOptions{Anchors: true})
				if err := wellFormed(html); err != nil {
					t.Errorf("%s, %s: %v", h.name, mode.name, err)
				}
			}
		}
	}
}

// What is refused is reported once, at its place.
func TestHostileIsReported(t *testing.T) {
	full := map[string]string{
		"quotes":          "markup-too-dense",
		"lines":           "markup-too-dense",
		"brackets":        "markup-too-dense",
		"lists":           "markup-too-deep",
		"breaks and text": "markup-too-deep",
	}
	dense := map[string]string{
		"quotes":                    "markup-too-deep",
		"links in line":             "markup-too-involved",
		"links, angled":             "markup-too-involved",
		"braces open":               "markup-too-involved",
		"stars apart":               "markup-too-involved",
		"stars, nested":             "markup-too-involved",
		"pictures in pictures":      "markup-too-involved",
		"definitions":               "markup-too-involved",
		"notes":                     "too-many-notes",
		"stars, doubled and nested": "markup-too-involved",
		"table, cells":              "text-table-too-large",
		"table, wide and tall":      "text-table-too-large",
	}
	for _, h := range hostiles {
		for _, try := range []struct {
			code  string
			dense bool
		}{{full[h.name], false}, {dense[h.name], true}} {
			if try.code == "" {
				continue
			}
			_, list := modes[0].read(h.fill(try.dense, 1))
			if n := count(list, try.code); n != 1 {
				t.Errorf("%s (dense: %v): %s said %d times, want once; all: %v", h.name, try.dense, try.code, n, list.Sorted()[:min(3, len(list))])
			}
		}
	}
}

func TestDeepEmphasisIsCut(t *testing.T) {
	text := strings.Repeat("*a ", 100) + strings.Repeat("a* ", 100)
	d, list := modes[0].read(text)
	if n := count(list, "markup-too-deep"); n != 1 {
		t.Fatalf("said %d times", n)
	}
	html := render(t, d, RenderOptions{})
	if n := strings.Count(html, "<em>"); n != deepestRun+1 {
		t.Errorf("%d levels written", n)
	}
}

func TestTooLong(t *testing.T) {
	d, list := modes[0].read(strings.Repeat("word ", largest/5+1))
	if len(list) != 1 || list[0].Code != "body-too-large" || list[0].Severity != source.Error {
		t.Errorf("%v", list)
	}
	if html := render(t, d, RenderOptions{}); html != "" {
		t.Errorf("%d bytes written", len(html))
	}
}

func count(list source.List, code string) (n int) {
	for _, p := range list {
		if p.Code == code {
			n++
		}
	}
	return n
}

var modes = []struct {
	name string
	read func(text string) (*Document, source.List)
}{
	{"body", func(text string) (*Document, source.List) {
		f, _ := source.New("page.md", []byte(text))
		return Parse(f, 0)
	}},
	{"text", func(text string) (*Document, source.List) {
		f, _ := source.New("page.md", []byte(text))
		return ParseText(text, f.Span, false)
	}},
	{"inline", func(text string) (*Document, source.List) {
		f, _ := source.New("page.md", []byte(text))
		return ParseText(text, f.Span, true)
	}},
}

// BenchmarkHostile parses and writes each hostile input in full size, and reports the largest size of the heap
// meanwhile (MiB-peak).
func BenchmarkHostile(b *testing.B) {
	for _, h := range hostiles {
		for _, dense := range []bool{false, true} {
			text := h.fill(dense, 1)
			f, _ := source.New("page.md", []byte(text))
			b.Run(fmt.Sprintf("%s/dense=%v", h.name, dense), func(b *testing.B) {
				runtime.GC()
				stop, peak := watchHeap()
				for b.Loop() {
					d, _ := Parse(f, 0)
					if err := d.Render(io.Discard, RenderOptions{Anchors: true}); err != nil {
						b.Fatal(err)
					}
					d.Texts()
					d.Plain()
				}
				close(stop)
				b.ReportMetric(float64(<-peak>>20), "MiB-peak")
			})
		}
	}
}

func watchHeap() (stop chan struct{}, peak chan uint64) {
	stop, peak = make(chan struct{}), make(chan uint64, 1)
	go func() {
		var most uint64
		for {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapInuse)
			select {
			case <-stop:
				peak <- most
				return
			case <-time.After(5 * time.Millisecond):
			}
		}
	}()
	return stop, peak
}
