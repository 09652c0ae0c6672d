package build

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/source"
	"labsite/render/write"
)

// chained writes pages of which each draws on the next one, and the last on what is given.
func chained(pages int, last string) map[string]string {
	out := map[string]string{"index.md": "---\ntitle: Home\naudience: customers\n---\n"}
	for i := range pages {
		next := fmt.Sprintf("p%04d.md", i+1)
		if i == pages-1 {
			next = last
		}
		draws := ""
		if next != "" {
			draws = "draws_on:\n  a: {page: " + next + ", at: {x: x}}\n"
		}
		out[fmt.Sprintf("p%04d.md", i)] = fmt.Sprintf("---\ntitle: Page %d\naudience: customers\n%sgiven:\n  x: {label: X, value: 1 ml, from: 1 ml, to: 1 l, step: 200 ml}\nfigures:\n  y: {label: Y, formula: x * 2}\n---\n\n{y}\n", i, draws)
	}
	return out
}

func laid(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for p, text := range files {
		if err := os.WriteFile(filepath.Join(dir, p), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A chain that is too long, or a circle of any length, is reported once, with the way from page to
// page; the preview reports it at any of its pages, and reads only a few.
func TestChainsAndCircles(t *testing.T) {
	for _, c := range []struct {
		what  string
		files map[string]string
		want  string // the one diagnostic, "" for none
		way   string
	}{
		{"as deep as may be", chained(page.MostLevels+1, ""), "", ""},
		{"one deeper", chained(page.MostLevels+2, ""), "p0000.md:5 drawn-too-deep", "p0000.md → p0001.md → p0002.md → p0003.md → … (10 more) → p0014.md → p0015.md → p0016.md → p0017.md"},
		{"a long chain", chained(80, ""), "p0062.md:5 drawn-too-deep", "p0062.md → p0063.md → p0064.md → p0065.md → … (10 more) → p0076.md → p0077.md → p0078.md → p0079.md"},
		{"a circle", chained(3, "p0000.md"), "p0002.md:5 page-cycle", "p0000.md → p0001.md → p0002.md → p0000.md"},
		{"a page alone", chained(1, "p0000.md"), "p0000.md:5 page-cycle", "p0000.md → p0000.md"},
		{"a long circle", chained(80, "p0000.md"), "p0079.md:5 page-cycle", "p0000.md → p0001.md → p0002.md → p0003.md → … (73 more) → p0077.md → p0078.md → p0079.md → p0000.md"},
	} {
		dir := laid(t, c.files)
		list := wrongWith(t, dir)
		s, _ := Follow(context.Background(), dir, Options{Day: aDay})
		asked := []string{"p0000.html"}
		if len(c.files) > 2*page.MostLevels {
			asked = append(asked, fmt.Sprintf("p%04d.html", len(c.files)/2))
		}
		for _, name := range asked {
			a, ok := s.Answer(page.Customers, name, true)
			if !ok || (a.Bytes == nil) != (c.want != "") || strings.Join(codes(a.List), " ") != c.want {
				t.Errorf("%s: %s is answered with %q, %v", c.what, name, codes(a.List), ok)
			}
		}
		if n := s.desk.Count(); n > 2*(page.MostLevels+2) {
			t.Errorf("%s: %d pages are read for two", c.what, n)
		}
		newComparer(t, s, dir).compare(c.what, page.Customers)
		s.Close()
		if got := strings.Join(codes(list), " "); got != c.want {
			t.Errorf("%s: %s, want %s", c.what, got, c.want)
		} else if c.want != "" && !strings.HasSuffix(list[0].Message, c.way) {
			t.Errorf("%s: %s", c.what, list[0].Message)
		}
	}
}

// Whether a chain is too long for a page is decided far from it: the preview notices when a page is
// taken out of a chain or a circle, or put into one.
func TestChainsAreFollowed(t *testing.T) {
	dir := laid(t, chained(40, ""))
	s, _ := Follow(context.Background(), dir, Options{Day: aDay})
	defer s.Close()
	change := func(name, old, new string) {
		raw, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || !strings.Contains(string(raw), old) {
			t.Fatal(name, old, err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.Replace(string(raw), old, new, 1)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	s.Answer(page.Customers, "p0000.html", true) // and nothing is known of any other page
	for i, step := range []struct{ name, old, new string }{
		{"p0015.md", "draws_on", "topics"},                               // broken
		{"p0015.md", "topics:\n  a: {page: p0016.md, at: {x: x}}\n", ""}, // the chain is cut in two
		{"p0030.md", "page: p0031.md", "page: p0020.md"},                 // a circle
		{"p0030.md", "page: p0020.md", "page: p0039.md"},                 // a shorter way
		{"p0039.md", "given:", "draws_on: {a: p0000.md}\ngiven:"},        // longer than ever
		{"p0007.md", "x: {label", "a: 1 ml\n  x: {label"},                // a name that is taken twice
		{"p0007.md", "page: p0008.md", "page: p0007.md"},
	} {
		change(step.name, step.old, step.new)
		s.Update(nil)
		s.Answer(page.Customers, "p0000.html", true)
		newComparer(t, s, dir).compare(fmt.Sprint("after change ", i), page.Customers)
	}
	os.Remove(filepath.Join(dir, "p0020.md"))
	s.Update(nil)
	newComparer(t, s, dir).compare("a page is gone", page.Customers)
}

// Pages in pairs that both draw on the next two: every level doubles the number of ways, but not
// the work.
func TestDiamonds(t *testing.T) {
	files := map[string]string{"index.md": "---\ntitle: Home\naudience: customers\n---\n"}
	const levels = page.MostLevels
	for level := range levels + 1 {
		for _, side := range "ab" {
			draws, y := "", "x"
			if level > 0 {
				draws = fmt.Sprintf("draws_on: {a: a%02d.md, b: b%02d.md}\n", level-1, level-1)
				y = "a.y + b.y"
			}
			files[fmt.Sprintf("%c%02d.md", side, level)] = "---\ntitle: T\naudience: customers\nsubstances: [hydroquinone]\n" + draws +
				"cautions:\n  c: {word: WARNING, text: \"Take {y}.\"}\ngiven:\n  x: {label: X, value: 1 ml, from: 1 ml, to: 3 ml, step: 1 ml}\nfigures:\n  y: {label: Y, formula: " + y + "}\nlimits:\n  - {when: y > 0 ml, notice: \"It is {y}.\"}\n---\n\n{y}\n"
		}
	}
	dir := laid(t, files)
	s, _ := Open(t.Context(), dir, Options{Day: aDay})
	defer s.Close()
	desk := s.Desk()
	top := desk.Make(s.Content.Page(fmt.Sprintf("a%02d.md", levels)))
	if n := len(top.Sheet.Parts()); n != 2*levels {
		t.Errorf("%d parts", n)
	}
	if got := top.Proof.Own.Shown(top.Sheet.Figure("y")).Text; got != "65536 ml" {
		t.Errorf("y is %s", got)
	}
	for what, n := range map[string]int{"substances": len(top.Sheet.AllSubstances()), "cautions": len(write.CautionTexts(desk, top.Proof.Own)), "limits": len(write.LimitTexts(desk, top.Proof.Own))} {
		if n != 2*levels+1 {
			t.Errorf("%d %s are reported, want each once", n, what)
		}
	}
	if list := wrongWith(t, dir); list.Errors() > 0 { // this compares scripts with Go as well
		t.Error(told(list))
	}
}

// wrongWith is what a publish of a folder reports.
func wrongWith(t testing.TB, dir string) source.List {
	t.Helper()
	s, list := Open(t.Context(), dir, Options{Day: aDay})
	if s == nil {
		return list
	}
	defer s.Close()
	list, err := s.Publish(t.Context(), page.Customers, &folder{files: map[string][]byte{}})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// BenchmarkChains compares pages that draw on one another with as many that draw on none: a chain,
// a circle, and pages that draw on the next one twice.
func BenchmarkChains(b *testing.B) {
	const pages = 2000
	alone, circle, doubled := chained(pages, ""), chained(pages, "p0000.md"), chained(pages, "")
	for p, text := range alone {
		if from := strings.Index(text, "draws_on"); from >= 0 {
			alone[p] = text[:from] + text[strings.Index(text, "given:"):]
			doubled[p] = strings.Replace(text, "given:", "  b"+strings.Replace(text[from+len("draws_on:\n  a"):strings.Index(text, "given:")], "at: {x: x}", "at: {x: x * 2}", 1)+"given:", 1)
		}
	}
	read := func(b *testing.B, files map[string]string) float64 {
		dir := laid(b, files)
		b.ResetTimer()
		for range b.N {
			wrongWith(b, dir)
		}
		b.StopTimer()
		return b.Elapsed().Seconds() / float64(b.N)
	}
	var beside float64
	b.Run("alone", func(b *testing.B) { beside = read(b, alone) })
	for _, x := range []struct {
		name  string
		files map[string]string
	}{{"chain", chained(pages, "")}, {"circle", circle}, {"doubled", doubled}} {
		b.Run(x.name, func(b *testing.B) { b.ReportMetric(read(b, x.files)/beside, "x-alone") })
	}
}

// A circle that an edit closes is reported, whatever was asked of its pages before: a page that is
// being made must not count as made. The order in which a page's questions are checked is random,
// so a single try proves little.
func TestCircleClosedByAnEdit(t *testing.T) {
	files := chained(2, "")
	open := files["p0001.md"]
	closed := chained(2, "p0000.md")["p0001.md"]
	s, _ := Follow(context.Background(), laid(t, files), Options{Day: aDay})
	defer s.Close()
	for try := range 300 {
		if err := s.Settle(context.Background()); err != nil {
			t.Fatal(err)
		}
		s.Write(map[string][]byte{"p0001.md": []byte(closed)})
		if asked := fmt.Sprintf("p%04d.md", try%3); try%3 < 2 {
			s.PageDiagnostics(asked)
		}
		if err := s.Settle(context.Background()); err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(codes(s.Diagnostics()), " "); got != "p0001.md:5 page-cycle" {
			t.Fatalf("try %d: %q is told", try, got)
		}
		s.Write(map[string][]byte{"p0001.md": []byte(open)})
	}
}
