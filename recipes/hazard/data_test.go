package hazard

import (
	"encoding/xml"
	"io"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"labsite/recipes/molar"
)

func TestEveryCodeHasAText(t *testing.T) {
	list := Built()
	need := func(where, code string) {
		if text, ok := StatementText(code); !ok || !strings.HasSuffix(text, ".") {
			t.Errorf("%s: %s has no text", where, code)
		}
	}
	for _, s := range list.Substances {
		for _, code := range s.Statements {
			need(s.ID, code)
		}
		for _, c := range slices.Concat(s.Classes, s.Pure, s.Superseded) {
			need(s.ID, c.Statement)
		}
		for _, l := range s.Limits {
			need(s.ID, l.Statement)
		}
		if s.Elsewhere != nil {
			for _, code := range s.Elsewhere.Adds {
				need(s.ID, code)
			}
		}
		for _, code := range s.Statements {
			h := list.statements[code]
			if strings.HasPrefix(code, "EUH") {
				continue
			}
			for _, set := range [][]string{h.PrecautionaryCLP, h.PrecautionaryUN} {
				if len(set) == 0 {
					t.Errorf("%s calls up no precautionary statement", code)
				}
				for _, p := range set {
					if list.precautions[p] == nil {
						t.Errorf("%s calls up %s, which has no text", code, p)
					}
				}
			}
		}
	}
	for _, g := range list.Gases {
		for _, code := range g.Statements {
			need(g.ID, code)
		}
	}
}

// Places that the supplier fills must not reach a reader.
func TestPrecautionsAreComplete(t *testing.T) {
	open := regexp.MustCompile(`…|\[|\w/\w`)
	for _, p := range Built().Precautionary {
		text := p.Text
		if p.Completed != "" {
			text = p.Completed
		}
		if open.MatchString(text) || !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, ":") {
			t.Errorf("%s: %s", p.Code, text)
		}
		if !slices.Contains([]string{"general", "prevention", "response", "storage", "disposal"}, p.Group) {
			t.Errorf("%s is in group %q", p.Code, p.Group)
		}
	}
}

func TestEveryValueHasASource(t *testing.T) {
	list := listOf(t, written(t)) // the program keeps this for few values
	check := func(where string, all map[string]Provenance, must ...string) {
		for _, key := range must {
			if _, ok := all[key]; !ok {
				t.Errorf("%s: no provenance of %s", where, key)
			}
		}
		for key, p := range all {
			if !slices.Contains([]string{"read", "memory", "computed"}, p.Status) {
				t.Errorf("%s: %s has the status %q", where, key, p.Status)
			}
			if len(p.Source) == 0 {
				t.Errorf("%s: %s has no source", where, key)
			}
			for _, s := range p.Source {
				if _, ok := list.Sources[s]; !ok {
					t.Errorf("%s: %s names the source %s, which is not described", where, key, s)
				}
			}
			if p.Status == "read" && slices.Equal(p.Source, []string{"MEMORY"}) {
				t.Errorf("%s: %s is read from memory", where, key)
			}
		}
	}
	for _, s := range list.Substances {
		check(s.ID, s.Provenance, "classification", "signal_and_pictograms", "cas_ec", "formula", "molar_mass", "advice", "disposal")
		// A harmonised row has its index number and classes; another says so.
		harmonised := strings.HasPrefix(s.Basis, "harmonised") || strings.HasPrefix(s.Basis, "derived")
		if harmonised != (s.Index != "" && len(s.Classes) > 0) {
			t.Errorf("%s: %q with index %q and %d classes", s.ID, s.Basis, s.Index, len(s.Classes))
		}
		if !harmonised && s.Provenance["classification"].Status != "memory" {
			t.Errorf("%s is not harmonised and not marked as from memory", s.ID)
		}
	}
	for _, h := range list.Hazard {
		check(h.Code, h.Provenance, "text")
	}
	for _, p := range list.Precautionary {
		check(p.Code, p.Provenance, "text")
	}
	for _, i := range list.Incompatibilities {
		check(i.ID, i.Provenance, "effect", "sides", "signal_word", "do")
	}
	for _, w := range list.Waste {
		check(w.ID, w.Provenance, "rule")
	}
	for key, s := range list.Sources {
		if s.Title == "" || s.Edition == "" || s.Reuse == "" {
			t.Errorf("source %s lacks title, edition or reuse", key)
		}
	}
}

// Check digits: CAS, check digit verification; EC numbers by the sum of the
// figures times their place, modulo 11 (European Chemicals Agency; from memory).
func TestNumbersHaveTheirCheckDigits(t *testing.T) {
	cas := func(where, number string) {
		if want, ok := casDigit(number); !ok || number[len(number)-1] != want {
			t.Errorf("%s: CAS number %s", where, number)
		}
	}
	ec := func(where, number string) {
		digits, sum := strings.ReplaceAll(number, "-", ""), 0
		if len(digits) != 7 {
			t.Errorf("%s: EC number %s", where, number)
			return
		}
		for i := range 6 {
			sum += int(digits[i]-'0') * (i + 1)
		}
		if sum%11 != int(digits[6]-'0') {
			t.Errorf("%s: EC number %s", where, number)
		}
	}
	for _, s := range Built().Substances {
		cas(s.ID, s.CAS)
		if s.EC != "" {
			ec(s.ID, s.EC)
		}
		for _, f := range s.Forms {
			cas(s.ID+" "+f.Name, f.CAS)
		}
		for _, r := range s.Related {
			if r.CAS != "" {
				cas(s.ID+" "+r.Name, r.CAS)
			}
			if r.EC != "" {
				ec(s.ID+" "+r.Name, r.EC)
			}
		}
	}
	for _, g := range Built().Gases {
		if g.CAS != "" {
			cas(g.ID, g.CAS)
		}
		if g.EC != "" {
			ec(g.ID, g.EC)
		}
	}
	for _, wrong := range []string{"123-31-8", "7732-18-4"} {
		if d, ok := casDigit(wrong); !ok || wrong[len(wrong)-1] == d {
			t.Errorf("%s passes", wrong)
		}
	}
	if d, ok := casDigit("7732-18-5"); !ok || d != '5' { // water, the worked example of CAS
		t.Errorf("7732-18-5 gives %c", d)
	}
}

func TestMolarMassesFollowFromFormulas(t *testing.T) {
	check := func(where, formula string, stated float64) {
		got, err := molar.Mass(formula)
		if err != nil {
			t.Errorf("%s: %v", where, err)
			return
		}
		// Stated to two decimals, or one where five figures give no more.
		if math.Abs(got-stated) > 0.0051 {
			t.Errorf("%s: %s weighs %.3f g/mol, the row says %v", where, formula, got, stated)
		}
	}
	for _, s := range Built().Substances {
		check(s.ID, s.Formula, s.MolarMass)
		for _, f := range s.Forms {
			check(s.ID+" "+f.Name, f.Formula, f.MolarMass)
		}
	}
}

// The label of every row is what its statements require.
func TestLabelsAreWhatStatementsDemand(t *testing.T) {
	for _, s := range Built().Substances {
		word, pictograms := LabelOf(s.Statements, s.Classes)
		if word != s.SignalWord {
			t.Errorf("%s: %v demand %q, the row says %q", s.ID, s.Statements, word, s.SignalWord)
		}
		if !slices.Equal(pictograms, inOrder(s.Pictograms)) {
			t.Errorf("%s: %v demand %v, the row says %v", s.ID, s.Statements, pictograms, s.Pictograms)
		}
		if !slices.Equal(absorb(s.Statements), s.Statements) {
			t.Errorf("%s: %v repeats a statement that a stronger one absorbs", s.ID, s.Statements)
		}
		var classes []string
		for _, c := range s.Classes {
			classes = append(classes, c.Statement)
		}
		if len(classes) > 0 {
			label := slices.DeleteFunc(slices.Clone(s.Statements), func(c string) bool { return strings.HasPrefix(c, "EUH") })
			left := absorb(classes)
			slices.Sort(label)
			slices.Sort(left)
			if !slices.Equal(label, left) {
				t.Errorf("%s: classes bring %v, the label says %v", s.ID, left, label)
			}
		}
	}
	for _, g := range Built().Gases {
		word, pictograms := LabelOf(g.Statements, g.Classes)
		drawn := slices.DeleteFunc(inOrder(g.Pictograms), func(p string) bool { return p == "GHS04" }) // gas under pressure: from the group, not a statement
		if word != g.SignalWord || !slices.Equal(pictograms, drawn) {
			t.Errorf("%s: %v demand %q %v, the row says %q %v", g.ID, g.Statements, word, pictograms, g.SignalWord, drawn)
		}
	}
}

// Source: CLP Art. 20 and 26, as in the notes on signal words.
func TestPrecedence(t *testing.T) {
	for _, c := range []struct {
		statements []string
		classes    []Class
		word       string
		pictograms string
	}{
		{[]string{"H301", "H315", "H317"}, nil, "Danger", "GHS06"},
		{[]string{"H314", "H302"}, nil, "Danger", "GHS05 GHS07"},
		{[]string{"H318", "H315"}, nil, "Danger", "GHS05"},
		{[]string{"H334", "H317", "H319"}, nil, "Danger", "GHS08"},
		{[]string{"H334", "H302"}, nil, "Danger", "GHS08 GHS07"},
		{[]string{"H351", "H317"}, nil, "Warning", "GHS08 GHS07"},
		{[]string{"H411"}, nil, "", "GHS09"},
		{[]string{"H412", "EUH031"}, nil, "", ""},
		{[]string{"H228"}, []Class{{Class: "Flam. Sol. 2", Statement: "H228"}}, "Warning", "GHS02"},
		{[]string{"H228"}, []Class{{Class: "Flam. Sol. 1", Statement: "H228"}}, "Danger", "GHS02"},
		{[]string{"H272"}, []Class{{Class: "Ox. Liq. 3", Statement: "H272"}}, "Warning", "GHS03"},
		{[]string{"H301", "H420"}, nil, "Danger", "GHS06 GHS07"},
		{nil, nil, "", ""},
	} {
		word, pictograms := LabelOf(c.statements, c.classes)
		if word != c.word || strings.Join(pictograms, " ") != c.pictograms {
			t.Errorf("%v: %q %v, want %q %s", c.statements, word, pictograms, c.word, c.pictograms)
		}
	}
}

func TestIncompatibilitiesNameRowsThatAre(t *testing.T) {
	list := Built()
	for _, i := range list.Incompatibilities {
		for _, id := range slices.Concat(i.OneIs, i.OtherIs) {
			if list.ids[id] == nil {
				t.Errorf("%s names %s, which is not in the list", i.ID, id)
			}
		}
		for _, id := range i.OneIs {
			if slices.Contains(i.OtherIs, id) {
				t.Errorf("%s has %s on both sides", i.ID, id)
			}
		}
		for _, g := range i.Gases {
			if list.gases[g] == nil {
				t.Errorf("%s gives off %s, which is not described", i.ID, g)
			}
		}
		if ansiRank(i.Word) < 0 {
			t.Errorf("%s has the word %q", i.ID, i.Word)
		}
		if !slices.Contains([]string{"do-not-mix", "do-not-contact", "order-of-addition", "ignition", "property"}, i.Kind) {
			t.Errorf("%s is of kind %q", i.ID, i.Kind)
		}
		if i.Happens == "" || i.Do == "" {
			t.Errorf("%s does not say what happens and what to do", i.ID)
		}
	}
	for _, s := range list.Substances {
		if list.waste[s.Waste] == nil {
			t.Errorf("%s: waste %q", s.ID, s.Waste)
		}
	}
	for _, g := range list.Gases {
		if g.Substance != "" && list.ids[g.Substance] == nil {
			t.Errorf("gas %s is %s, which is not in the list", g.ID, g.Substance)
		}
	}
}

func TestNamesAreUnique(t *testing.T) {
	owner := map[string]string{}
	for _, s := range Built().Substances {
		for _, n := range append([]string{s.Name}, s.Synonyms...) {
			if other := owner[Fold(n)]; other != "" && other != s.ID {
				t.Errorf("%s names both %s and %s", n, other, s.ID)
			}
			owner[Fold(n)] = s.ID
		}
		if !regexp.MustCompile(`^[a-z0-9-]+$`).MatchString(s.ID) {
			t.Errorf("ID %q", s.ID)
		}
	}
}

func TestStandingCautions(t *testing.T) {
	last, seen := 99, map[string]bool{}
	for _, c := range Built().Cautions {
		if !regexp.MustCompile(`^[a-z][a-z0-9_]*$`).MatchString(c.Name) || seen[c.Name] {
			t.Errorf("name %q", c.Name)
		}
		seen[c.Name] = true
		if r := ansiRank(c.Word); r < 0 || r > last {
			t.Errorf("%s: %s comes after a milder one, or is not a word of ANSI Z535.6", c.Name, c.Word)
		} else {
			last = r
		}
		if len(c.Text) < 40 || !strings.HasSuffix(c.Text, ".") || strings.Contains(c.Text, "\n") {
			t.Errorf("%s: %q", c.Name, c.Text)
		}
	}
	for _, name := range []string{"lock_out", "ventilation", "bright_screen", "wet_hands", "hot_water", "rollers", "darkness", "acid_into_water", "no_food_vessels"} {
		if !seen[name] {
			t.Errorf("there is no caution %s", name)
		}
	}
	if _, ok, near := StandingCaution("hotwater"); ok || near != "hot_water" {
		t.Errorf("hotwater offers %q", near)
	}
	for _, word := range []string{"safety data sheet", "local codes", "licensed practice", "classify no mixture", "certify nothing"} {
		if !strings.Contains(strings.Join(strings.Fields(StandingNotice()), " "), word) {
			t.Errorf("the standing notice does not speak of %s", word)
		}
	}
}

func TestPictogramsAreDrawn(t *testing.T) {
	for _, p := range Built().Pictograms {
		svg, ok := PictogramSVG(p.Code)
		if !ok {
			t.Errorf("%s is not drawn", p.Code)
			continue
		}
		if !strings.Contains(svg, "<title>"+p.Code+" "+p.Name+"</title>") || !strings.Contains(svg, `fill="#fff"`) {
			t.Errorf("%s has no title or no white ground", p.Code)
		}
		if strings.Contains(svg, " id=") || strings.Contains(svg, "currentColor") {
			t.Errorf("%s has an id, or takes its colour from the page", p.Code)
		}
		for d := xml.NewDecoder(strings.NewReader(svg)); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", p.Code, err)
			}
		}
	}
	if _, ok := PictogramSVG("GHS10"); ok {
		t.Error("there is a tenth symbol")
	}
	// The frame against white and black: 3:1 at least (WCAG 2.2, 1.4.11).
	svg, _ := PictogramSVG("GHS02")
	colour := regexp.MustCompile(`stroke="#([0-9a-f]{6})"`).FindStringSubmatch(svg)[1]
	n, _ := strconv.ParseUint(colour, 16, 32)
	linear := func(c uint64) float64 {
		x := float64(c&0xff) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	l := 0.2126*linear(n>>16) + 0.7152*linear(n>>8) + 0.0722*linear(n)
	if white, black := 1.05/(l+0.05), (l+0.05)/0.05; white < 3 || black < 3 {
		t.Errorf("the frame has %.2f:1 to white and %.2f:1 to black", white, black)
	}
}

// Nothing private may be in what is shipped.
func TestDataIsClean(t *testing.T) {
	files, _ := os.ReadDir("data")
	for _, f := range files {
		raw, err := os.ReadFile("data/" + f.Name())
		if err != nil {
			t.Fatal(err)
		}
		if m := regexp.MustCompile(`(?i)(/home/|/tmp/|/root/|\.\./|file://|\x{00a0})`).Find(raw); m != nil {
			t.Errorf("%s holds %q", f.Name(), m)
		}
	}
}
