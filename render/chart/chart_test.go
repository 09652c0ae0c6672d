package chart

import (
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "rewrite the files that tests compare with")

// invented charts: the numbers are not process data.

func curve(name string, base float64, refused func(x float64) bool) Line {
	l := Line{Name: name}
	for x := 18.0; x <= 24; x += 0.5 {
		l.Points = append(l.Points, Point{X: x, Y: base * math.Pow(1.09, 20-x), OK: !refused(x)})
	}
	return l
}

func never(float64) bool { return false }

func degrees(v float64) string { return fmt.Sprintf("%g °C", v) }

func timeCurves() Chart {
	above := func(x float64) bool { return x > 23 }
	return Chart{
		ID: "time-curve", Caption: "Developing time against developer temperature",
		X:     Axis{Label: "Developer temperature", Unit: "°C", Low: 18, High: 24, Format: degrees},
		Y:     Axis{Label: "Developing time", Kind: Duration, Least: 15},
		Lines: []Line{curve("1+50", 480, above), curve("1+100", 660, above)},
		Own:   &Point{X: 20, Y: 660, OK: true, Shown: "11 min"},
	}
}

func strips() Chart {
	m := Marks{Name: "Morning strips", Joined: true}
	for i, v := range []float64{0.01, -0.01, 0.02, 0, 0.13, 0.03, 0.02, -0.07, 0.01} {
		m.Points = append(m.Points, Point{X: 20513 + 2*float64(i), Y: v, OK: i != 6})
	}
	m.Flags = []string{4: "beyond the control limit", 7: "beyond the action limit"}
	signed := func(v float64) string { return fmt.Sprintf("%+.2f", v) }
	return Chart{
		ID: "strips", Caption: "Deviation from aim",
		X:     Axis{Label: "Date", Kind: Date},
		Y:     Axis{Label: "Deviation of density", Format: signed, Tick: signed},
		Marks: []Marks{m},
		Limits: []Limit{{"Aim", 0, Centre}, {"Action", 0.06, Action}, {"Action", -0.06, Action},
			{"Control", 0.09, Control}, {"Control", -0.09, Control}},
	}
}

func TestDrawings(t *testing.T) {
	for _, c := range []Chart{timeCurves(), strips()} {
		path := filepath.Join("testdata", c.ID+".html")
		got := c.Figure()
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
			t.Errorf("%s differs (look at it in a browser before go test -update):\n%s", path, diff)
		}
	}
}

// A chart without points is not drawn: the dates of a page's records would begin in 1970.
func TestNothingMeasuredYet(t *testing.T) {
	c := Chart{ID: "kept", Caption: "Readings", X: Axis{Label: "Made", Kind: Date}, Marks: []Marks{{Name: "measured"}}, Limits: []Limit{{"Aim", 2, Centre}}}
	if got := c.Figure(); strings.Contains(got, "<svg") || !strings.Contains(got, nothingYet) {
		t.Errorf("a chart without a reading is %s", got)
	}
	c.Marks[0].Points = points(20000, 2)
	if got := c.Figure(); !strings.Contains(got, "<svg") || strings.Contains(got, nothingYet) {
		t.Errorf("a chart with a reading is %s", got)
	}
}

func TestDescribe(t *testing.T) {
	for _, c := range []struct {
		chart Chart
		want  string
	}{
		{timeCurves(), "Across: Developer temperature, 18 °C to 24 °C. Up: Developing time. " +
			"1+50: falls from 9 min 30 s at 18 °C to 6 min 11 s at 23 °C; no figure from 23.5 °C to 24 °C. " +
			"1+100: falls from 13 min 4 s at 18 °C to 8 min 30 s at 23 °C; no figure from 23.5 °C to 24 °C. " +
			"At the values set on this page: 11 min at 20 °C."},
		{strips(), "Across: Date, 1 March 2026 to 17 March 2026. Up: Deviation of density. " +
			"Morning strips: 8 points, lowest −0.07 on 15 March 2026, highest +0.13 on 9 March 2026; " +
			"2 out of limits: 9 March 2026, +0.13 (beyond the control limit); 15 March 2026, −0.07 (beyond the action limit). " +
			"Lines across: Aim +0.00, Action +0.06, Action −0.06, Control +0.09, Control −0.09."},
		{Chart{By: "Clearings", Lines: []Line{{Name: "2", Points: points(1, 5, 2, 6)}}}, "A line for each value of Clearings. 2: rises from 5 at 1 to 6 at 2."},
		{Chart{Lines: []Line{{Name: "Flat", Points: points(1, 5, 2, 5, 3, 5)}}}, "Flat: stays at 5 from 1 to 3."},
		{Chart{Lines: []Line{{Points: points(1, 5, 2, 7, 3, 6)}}}, "The line: rises from 5 at 1 to 7 at 2, then falls to 6 at 3."},
		{Chart{Lines: []Line{{Points: points(3, 6, 1, 5, 2, 7)}}}, "The line: rises from 5 at 1 to 7 at 2, then falls to 6 at 3."},
		{Chart{Lines: []Line{{Points: points(1, 5, 2, 7, 3, 6, 4, 8)}}}, "The line: goes up and down, from 5 at 1 to 8 at 4; lowest 5 at 1, highest 8 at 4."},
		{Chart{Lines: []Line{{Name: "Gone", Points: []Point{{X: 1}, {X: 2}}}}}, "Gone: no figure anywhere."},
		{Chart{Lines: []Line{{Name: "Holes", Points: []Point{{1, 1, true, ""}, {2, 0, false, ""}, {3, 1, true, "one"}, {4, math.NaN(), true, ""}}}}},
			"Holes: stays at 1 from 1 to 3; no figure at 2, at 4."},
		{Chart{Marks: []Marks{{Points: points(1, 2), Flags: []string{}}}, Limits: []Limit{{"Aim", 2, Centre}}}, "Measured: 1 point, 2 at 1; none out of limits. Lines across: Aim 2."},
		{Chart{Marks: []Marks{{Points: points(1, 2)}}, Limits: []Limit{{"Aim", 2, Centre}}}, "Measured: 1 point, 2 at 1. Lines across: Aim 2."},
		{Chart{Marks: []Marks{{Name: "Empty"}}, Own: &Point{}}, "Empty: no points. At the values set on this page there is no figure."},
	} {
		if got := c.chart.Describe(); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

func points(xy ...float64) (p []Point) {
	for i := 0; i+1 < len(xy); i += 2 {
		p = append(p, Point{X: xy[i], Y: xy[i+1], OK: true})
	}
	return p
}

func TestDescribeNamesTenAndCountsTheRest(t *testing.T) {
	m := Marks{}
	for i := range 14 {
		m.Points = append(m.Points, Point{X: float64(i), Y: 1, OK: true})
		m.Flags = append(m.Flags, "high")
	}
	c := Chart{Marks: []Marks{m}}
	if got := c.Describe(); !strings.Contains(got, "14 out of limits") || !strings.Contains(got, "9, 1 (high) and 4 more.") || strings.Contains(got, "10, 1") {
		t.Error(got)
	}
	if n := strings.Count(c.Figure(), "<li>"); n != 14 {
		t.Errorf("the list names %d, want 14", n)
	}
}

func TestBreaks(t *testing.T) {
	l := Line{Name: "L", Points: points(1, 1, 2, 2, 3, 3, 4, 4, 5, 5)}
	count := func() int {
		return strings.Count(Chart{Lines: []Line{l}}.SVG(Wide), `class="chart-line chart-tone-1"`)
	}
	if n := count(); n != 1 {
		t.Fatalf("unbroken: %d paths", n)
	}
	l.Points[2].OK = false
	if n := count(); n != 2 {
		t.Errorf("broken once: %d paths, want 2", n)
	}
}

// A refused value is nowhere in the output, neither as a number nor as a coordinate.
func TestRefusedValuesAreNotShown(t *testing.T) {
	c := Chart{ID: "r", Caption: "c",
		Lines: []Line{{Name: "L", Points: []Point{{1, 1, true, ""}, {2, 777, false, "777 ml"}, {3, 2, true, ""}}}},
		Marks: []Marks{{Name: "M", Points: []Point{{2, 777, false, "777 ml"}}, Flags: []string{"why"}}},
		Own:   &Point{2, 777, false, "777 ml"}}
	if out := c.Figure() + c.Describe(); strings.Contains(out, "777") || strings.Contains(out, "why") || strings.Contains(out, "chart-own") {
		t.Error(out)
	}
	if _, y := c.domains(); y.high > 3 {
		t.Errorf("the axis reaches %g", y.high)
	}
}

func TestLinesDifferWithoutColour(t *testing.T) {
	seen := map[string]int{}
	for i := range 24 {
		look := dashes[i%len(dashes)] + "/" + lineShapes[i%len(lineShapes)]
		if j, ok := seen[look]; ok {
			t.Errorf("lines %d and %d look alike: %s", j, i, look)
		}
		seen[look] = i
	}
	svg := timeCurves().SVG(Wide)
	for _, want := range []string{">1+50<", ">1+100<", `stroke-dasharray="9 5"`} {
		if !strings.Contains(svg, want) {
			t.Errorf("no %s in the drawing", want)
		}
	}
}

func TestLongNamesBecomeLetters(t *testing.T) {
	c := timeCurves()
	c.Lines[0].Name = "Panchromatic sheet film in the weaker dilution of the two"
	d := c.draw(Narrow)
	if d.side[0].letter != "A" || d.side[1].letter != "B" {
		t.Fatalf("letters %q, %q", d.side[0].letter, d.side[1].letter)
	}
	var all []string
	for _, l := range d.labels {
		all = append(all, l.words)
	}
	if whole := strings.Join(all, " "); !strings.Contains(whole, "A Panchromatic sheet film in the weaker dilution of the two") {
		t.Errorf("the key lacks the name: %s", whole)
	}
}

func TestTextsAreEscaped(t *testing.T) {
	evil := `<script>&"'` + "\x00\xff\u0007"
	c := Chart{ID: `a" b`, Caption: evil, X: Axis{Label: evil, Unit: evil}, Y: Axis{Label: evil},
		Lines: []Line{{Name: evil, Points: points(1, 1, 2, 2)}, {Name: evil + "2", Points: points(1, 2, 2, 1)}},
		Marks: []Marks{{Name: evil, Points: points(1, 1), Flags: []string{evil}}}, Limits: []Limit{{Name: evil, Y: 1}},
		Own: &Point{1, 1, true, evil}}
	out := c.Figure()
	if strings.Contains(out, "<script") {
		t.Error("a text became an element")
	}
	inspect(t, c, out)
}

type failer interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

// inspect checks what must be true of every figure.
func inspect(t failer, c Chart, out string) {
	t.Helper()
	ids := map[string]bool{}
	decoder := xml.NewDecoder(strings.NewReader(out))
	number := regexp.MustCompile(`-?[0-9.]+(?:e[-+]?[0-9]+)?`)
	size := 0.0 // width or height of the drawing, whichever is more
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("no XML: %v\n%s", err, out)
		}
		element, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range element.Attr {
			name := a.Name.Local
			switch name {
			case "style":
				t.Errorf("a style attribute: %s", a.Value)
			case "id":
				if ids[a.Value] {
					t.Errorf("id %s twice", a.Value)
				}
				ids[a.Value] = true
				if !strings.HasPrefix(a.Value, prefix(c.ID)) {
					t.Errorf("id %s does not begin with %s", a.Value, prefix(c.ID))
				}
			case "viewBox":
				for _, f := range strings.Fields(a.Value) {
					v, err := strconv.ParseFloat(f, 64)
					if err != nil || v < 0 || v > 1e6 {
						t.Errorf("viewBox %s", a.Value)
					}
					size = max(size, v)
				}
			case "x", "y", "x1", "x2", "y1", "y2", "width", "height", "d", "transform":
				for _, f := range number.FindAllString(a.Value, -1) {
					if v, err := strconv.ParseFloat(f, 64); err != nil || math.Abs(v) > size+1 {
						t.Errorf("%s=%q lies outside %g", name, a.Value, size)
					}
				}
			case "data-x", "data-y", "data-plot":
				for _, f := range strings.Fields(a.Value) {
					if v, err := strconv.ParseFloat(f, 64); err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
						t.Errorf("%s=%q", name, a.Value)
					}
				}
			}
			if name != "aria-label" && (strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf")) {
				t.Errorf("%s=%q", name, a.Value)
			}
		}
	}
	for _, l := range []Layout{Wide, Narrow} {
		d := c.draw(l)
		whole := box{-0.5, 0, d.width + 0.5, d.height}
		for i, a := range d.labels {
			if !whole.holds(a.box) {
				t.Errorf("%s: text %q at %v leaves the drawing of %g by %g", d.name, a.words, a.box, d.width, d.height)
			}
			for _, b := range d.labels[:i] {
				if a.box.meets(b.box) {
					t.Errorf("%s: texts %q and %q overlap: %v, %v", d.name, b.words, a.words, b.box, a.box)
				}
			}
		}
		checkTicks(t, d.across, d.x)
		checkTicks(t, d.up, d.y)
	}
}

func checkTicks(t failer, ticks []tick, e extent) {
	t.Helper()
	for i, k := range ticks {
		if k.at < e.low || k.at > e.high {
			t.Errorf("tick %g outside %g to %g", k.at, e.low, e.high)
		}
		if i > 0 && ticks[i-1].at >= k.at {
			t.Errorf("ticks %g, %g do not ascend", ticks[i-1].at, k.at)
		}
		if i > 0 && ticks[i-1].label == k.label && ticks[i-1].second == k.second {
			t.Errorf("ticks %g, %g are both %q", ticks[i-1].at, k.at, k.label)
		}
	}
}

func anyChart(t *rapid.T) Chart {
	kind := rapid.SampledFrom([]AxisKind{Plain, Duration, Date, Stops})
	words := rapid.OneOf(rapid.SampledFrom([]string{"", "1+50", "Control", "Upper control limit", "Developer temperature",
		"A name that is much too long to stand beside a line", "Donaudampfschiffahrtsgesellschaftskapitänsmützenabzeichen"}), rapid.String())
	// one scale for a chart: numbers of similar size, or of any
	scale := rapid.SampledFrom([]float64{1, 1, 10, 600, 1e-7, 1e9, 1e90}).Draw(t, "scale")
	value := rapid.OneOf(
		rapid.Map(rapid.IntRange(-20, 40), func(i int) float64 { return float64(i) * scale }),
		rapid.Map(rapid.Float64Range(0, 1), func(f float64) float64 { return f * scale }),
		rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e99, 5e-324}),
	)
	if rapid.Bool().Draw(t, "tame") {
		value = rapid.Map(rapid.Float64Range(18, 24), func(f float64) float64 { return f * scale })
	}
	point := rapid.Custom(func(t *rapid.T) Point {
		return Point{X: value.Draw(t, "x"), Y: value.Draw(t, "y"), OK: rapid.IntRange(0, 6).Draw(t, "ok") > 0,
			Shown: rapid.SampledFrom([]string{"", "", "9 min 15 s"}).Draw(t, "shown")}
	})
	axis := func(name string) Axis {
		a := Axis{Label: words.Draw(t, name), Unit: rapid.SampledFrom([]string{"", "ml", "°C"}).Draw(t, name+" unit"), Kind: kind.Draw(t, name+" kind")}
		if rapid.Bool().Draw(t, name+" bound") {
			a.Low, a.High = value.Draw(t, name+" low"), value.Draw(t, name+" high")
		}
		if rapid.IntRange(0, 3).Draw(t, name+" step") == 0 {
			a.Least = rapid.SampledFrom([]float64{0.1, 1, 15}).Draw(t, name+" least")
		}
		return a
	}
	c := Chart{ID: rapid.SampledFrom([]string{"", "c", "a b\"<"}).Draw(t, "id"), Caption: words.Draw(t, "caption"), X: axis("x"), Y: axis("y")}
	for range rapid.IntRange(0, 9).Draw(t, "lines") {
		c.Lines = append(c.Lines, Line{words.Draw(t, "line"), rapid.SliceOfN(point, 0, 12).Draw(t, "points")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "series") {
		m := Marks{Name: words.Draw(t, "series"), Points: rapid.SliceOfN(point, 0, 25).Draw(t, "marks"), Joined: rapid.Bool().Draw(t, "joined")}
		m.Flags = rapid.SliceOfN(rapid.SampledFrom([]string{"", "", "beyond 3 sigma"}), 0, 30).Draw(t, "flags")
		c.Marks = append(c.Marks, m)
	}
	for range rapid.IntRange(0, 5).Draw(t, "limits") {
		c.Limits = append(c.Limits, Limit{words.Draw(t, "limit"), value.Draw(t, "at"), LimitKind(rapid.IntRange(0, 2).Draw(t, "weight"))})
	}
	if rapid.Bool().Draw(t, "own") {
		p := point.Draw(t, "own")
		c.Own = &p
	}
	return c
}

func TestEveryChart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyChart(t)
		out := c.Figure()
		inspect(t, c, out)
		if again := c.Figure(); again != out {
			t.Fatal("two drawings of one chart differ")
		}
	})
}

func TestEmptyChart(t *testing.T) {
	inspect(t, Chart{}, Chart{}.Figure())
}

// The style sheet and the drawings have the same classes.
func TestStyleNamesClassesThatAreDrawn(t *testing.T) {
	whole := ""
	letters := timeCurves()
	letters.Note = "The limits are those of the first 20 readings."
	letters.Lines[0].Name = "Panchromatic sheet film in the weaker dilution of the two"
	for range 6 {
		letters.Lines = append(letters.Lines, curve("another", 500, never))
	}
	for _, c := range []Chart{timeCurves(), strips(), letters} {
		whole += c.Figure()
	}
	var drawn []string
	for _, m := range regexp.MustCompile(`class="([^"]*)"`).FindAllStringSubmatch(whole, -1) {
		drawn = append(drawn, strings.Fields(m[1])...)
	}
	for _, m := range regexp.MustCompile(`\.(chart[a-z0-9-]*)`).FindAllStringSubmatch(Style, -1) {
		if !slices.Contains(drawn, m[1]) {
			t.Errorf("the style sheet names .%s, which is never drawn", m[1])
		}
	}
}
