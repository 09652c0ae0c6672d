package hazard

import (
	"slices"
	"strings"
	"testing"
)

func share100(percent float64) *float64 { f := percent / 100; return &f }

func codes(all []Hazard) string {
	var out []string
	for _, h := range all {
		out = append(out, h.Code)
	}
	return strings.Join(out, " ")
}

func symbols(b Block) string {
	var out []string
	for _, p := range b.Pictograms {
		out = append(out, p.Code)
	}
	return strings.Join(out, " ")
}

func ids(all []Clash) string {
	var out []string
	for _, c := range all {
		out = append(out, c.ID)
	}
	return strings.Join(out, " ")
}

func TestFind(t *testing.T) {
	for name, id := range map[string]string{
		"pyrogallol": "pyrogallol", "PYROGALLOL": "pyrogallol", "Pyrogallic  Acid": "pyrogallol", "87-66-1": "pyrogallol",
		"acetic acid": "acetic-acid-glacial", "glacial acetic acid": "acetic-acid-glacial", "acetic acid 28 %": "acetic-acid-28", "64-19-7": "acetic-acid-glacial",
		"sodium sulphite": "sodium-sulfite", "Sodium Sulfite": "sodium-sulfite", "sulphuric acid": "sulfuric-acid",
		"sodium carbonate": "sodium-carbonate", "sodium carbonate monohydrate": "sodium-carbonate", "anhydrous sodium carbonate": "sodium-carbonate", "5968-11-6": "sodium-carbonate",
		"aluminum potassium sulfate": "potassium-alum", "borax": "borax", "borax pentahydrate": "borax", "benzotriazole": "benzotriazole",
		"ascorbic acid": "ascorbic-acid", "hydrogen\u00a0peroxide": "hydrogen-peroxide", "hypo": "sodium-thiosulfate", "TEA": "triethanolamine",
	} {
		if s, near := Find(name); s == nil || s.ID != id {
			t.Errorf("%q finds %v (near %q), want %s", name, s, near, id)
		}
	}
	for name, want := range map[string]string{
		"pyrogalol": "Pyrogallol", "hydroqinone": "Hydroquinone", "sodium sulfte": "Sodium sulfite",
		"plutonium": "", "": "", "123-31-8": "", "87-66-2": "",
	} {
		if s, near := Find(name); s != nil || near != want {
			t.Errorf("%q finds %v and offers %q, want %q", name, s, near, want)
		}
	}
}

// What one substance does to eyes and skin goes without saying beside a worse one; each keeps
// its own statements.
func TestBlockSaysTheGravest(t *testing.T) {
	b := BlockFor([]Use{{Name: "hydroquinone"}, {Name: "triethanolamine"}, {Name: "potassium ferricyanide"}}, nil)
	all := codes(b.Hazards)
	if !strings.Contains(all, "H318") || strings.Contains(all, "H319") {
		t.Errorf("statements of the page: %s", all)
	}
	if got := codes(b.Items[1].Hazards); !strings.Contains(got, "H319") {
		t.Errorf("statements of triethanolamine: %s", got)
	}
}

// The page of the format's own example.
func TestBlockOfTheExamplePage(t *testing.T) {
	b := BlockFor([]Use{{Name: "pyrogallol"}, {Name: "triethanolamine"}}, nil)
	if b.SignalWord != "Warning" || symbols(b) != "GHS08 GHS07" {
		t.Errorf("%s %s", b.SignalWord, symbols(b))
	}
	// Annex VI, index 604-009-00-6, and H319 of triethanolamine (from memory).
	if got := codes(b.Hazards); got != "H302 H312 H319 H332 H341 H412" {
		t.Errorf("statements %s", got)
	}
	if got := b.Pictograms[1].Substances; !slices.Equal(got, []string{"Pyrogallol", "Triethanolamine"}) {
		t.Errorf("GHS07 is of %v", got)
	}
	if b.Precautions[0].Name != "prevention" || b.Precautions[0].Items[0].Code != "P280" {
		t.Errorf("what to wear is not first: %+v", b.Precautions[0])
	}
	var groups []string
	for _, g := range b.Precautions {
		groups = append(groups, g.Name)
	}
	if got := strings.Join(groups, " "); got != "prevention response storage disposal" {
		t.Errorf("groups %s", got)
	}
	if b.Items[0].Review != NotReviewed || b.Items[0].Signed || b.Items[0].FromMemory || !b.Items[1].FromMemory {
		t.Errorf("provenance: %+v", b.Items)
	}
	if len(b.Items[0].Sources) == 0 || !strings.Contains(b.Items[0].Basis, "604-009-00-6") || !strings.Contains(b.Items[1].Basis, "from memory") {
		t.Errorf("basis: %q and %q", b.Items[0].Basis, b.Items[1].Basis)
	}
	if doubts := strings.Join(b.Items[0].Doubts, " "); !strings.Contains(doubts, "minimum") || !strings.Contains(doubts, "H317 (May cause an allergic skin reaction)") {
		t.Errorf("doubts: %s", doubts)
	}
	if len(b.Meet) != 0 || len(b.Order) != 0 || b.AcidIntoWater != "" {
		t.Errorf("they meet: %v", b.Meet)
	}
	if len(b.Waste) != 2 || b.WasteApart == "" {
		t.Errorf("waste: %v", b.Waste)
	}
}

func TestStatementsAreSaidOnce(t *testing.T) {
	b := BlockFor([]Use{{Name: "sodium hydroxide"}, {Name: "silver nitrate"}, {Name: "sulfuric acid"}}, nil)
	n := 0
	for _, h := range b.Hazards {
		if h.Code == "H314" {
			n++
			if len(h.Substances) != 3 {
				t.Errorf("H314 is of %v", h.Substances)
			}
		}
	}
	if n != 1 {
		t.Errorf("H314 is there %d times", n)
	}
	// Danger before Warning before the rest, and no word twice.
	if b.SignalWord != "Danger" {
		t.Error(b.SignalWord)
	}
	last := 9
	for _, h := range b.Hazards {
		if r := wordRank(h.SignalWord); r > last {
			t.Errorf("%s comes after a milder statement", h.Code)
		} else {
			last = r
		}
	}
	again := BlockFor([]Use{{Name: "lye"}, {Name: "sodium hydroxide"}, {Name: "1310-73-2"}}, nil)
	if len(again.Items) != 1 {
		t.Errorf("one substance by three names is %d", len(again.Items))
	}
}

// Source: specific concentration limits of CLP Annex VI Part 3 Table 3, index
// numbers 607-002-00-6, 016-020-00-8, 011-002-00-6, 008-003-00-9, 605-001-00-5,
// 007-001-01-2 and 017-011-00-1, as read for the list.
func TestStrengthDecidesWhereTheRegulationHasLimits(t *testing.T) {
	for _, c := range []struct {
		name    string
		percent float64
		codes   string
		word    string
		symbols string
	}{
		{"acetic acid", 99, "H314 H226", "Danger", "GHS05 GHS02"},
		{"acetic acid", 90, "H314 H226", "Danger", "GHS05 GHS02"},
		{"acetic acid", 89.9, "H314", "Danger", "GHS05"},
		{"acetic acid", 28, "H314", "Danger", "GHS05"},
		{"64-19-7", 25, "H314", "Danger", "GHS05"},
		{"acetic acid", 24.9, "H315 H319", "Warning", "GHS07"},
		{"acetic acid", 10, "H315 H319", "Warning", "GHS07"},
		{"acetic acid", 2, "", "", ""},
		{"sulfuric acid", 15, "H314", "Danger", "GHS05"},
		{"sulfuric acid", 5, "H315 H319", "Warning", "GHS07"},
		{"sodium hydroxide", 2, "H314", "Danger", "GHS05"},
		{"sodium hydroxide", 1, "H315 H319", "Warning", "GHS07"},
		{"hydrogen peroxide", 70, "H314 H271 H302 H332 H335", "Danger", "GHS05 GHS03 GHS07"},
		{"hydrogen peroxide", 55, "H314 H272 H302 H332 H335", "Danger", "GHS05 GHS03 GHS07"},
		{"hydrogen peroxide", 35, "H318 H302 H315 H332 H335", "Danger", "GHS05 GHS07"},
		{"hydrogen peroxide", 8, "H318 H302 H332", "Danger", "GHS05 GHS07"},
		{"hydrogen peroxide", 6, "H302 H319 H332", "Warning", "GHS07"},
		{"hydrogen peroxide", 3, "H302 H332", "Warning", "GHS07"},
		{"formaldehyde", 37, "H301 H311 H314 H331 H350 H317 H335 H341", "Danger", "GHS06 GHS05 GHS08"},
		{"formaldehyde", 5, "H301 H311 H331 H350 H315 H317 H319 H335 H341", "Danger", "GHS06 GHS08"},
		{"formaldehyde", 0.1, "H301 H311 H331 H350 H341", "Danger", "GHS06 GHS08"},
		{"ammonia", 5, "H314 H335 H400", "Danger", "GHS05 GHS07 GHS09"},
		{"ammonia", 4.9, "H314 H400", "Danger", "GHS05 GHS09"},
		{"sodium hypochlorite", 5, "H314 H410 EUH031 EUH206", "Danger", "GHS05 GHS09"},
		{"sodium hypochlorite", 4, "H314 H410 EUH206", "Danger", "GHS05 GHS09"},
	} {
		b := BlockFor([]Use{{c.name, share100(c.percent)}}, nil)
		if got := codes(b.Hazards); got != c.codes {
			t.Errorf("%s at %v %%: %s, want %s", c.name, c.percent, got, c.codes)
		}
		if b.SignalWord != c.word || symbols(b) != c.symbols {
			t.Errorf("%s at %v %%: %q %s, want %q %s", c.name, c.percent, b.SignalWord, symbols(b), c.word, c.symbols)
		}
		if !strings.Contains(strings.Join(b.Items[0].Doubts, " "), "sheet") {
			t.Errorf("%s at %v %% does not say that a supplier's sheet overrules: %v", c.name, c.percent, b.Items[0].Doubts)
		}
	}
}

// A substance without limits keeps its statements at any strength: a mixture is
// never calculated.
func TestNothingIsCalculated(t *testing.T) {
	pure := BlockFor([]Use{{Name: "hydroquinone"}}, nil)
	weak := BlockFor([]Use{{"hydroquinone", share100(0.001)}}, nil)
	if codes(pure.Hazards) != codes(weak.Hazards) || pure.SignalWord != weak.SignalWord || symbols(pure) != symbols(weak) {
		t.Errorf("0.001 %% hydroquinone: %s, pure: %s", codes(weak.Hazards), codes(pure.Hazards))
	}
	for _, s := range Built().Substances {
		if len(s.Limits) > 0 {
			continue
		}
		b := BlockFor([]Use{{s.Name, share100(0.5)}}, nil)
		if len(b.Items[0].Hazards) != len(s.Statements) {
			t.Errorf("%s at 0.5 %% has %s of %v", s.ID, codes(b.Hazards), s.Statements)
		}
	}
}

func TestOddStrengths(t *testing.T) {
	for _, percent := range []float64{0, -5, 101, 1e300} {
		b := BlockFor([]Use{{"sulfuric acid", share100(percent)}}, nil)
		if codes(b.Hazards) != "H314" || !strings.Contains(strings.Join(b.Items[0].Doubts, " "), "is not possible") {
			t.Errorf("%v %%: %s %v", percent, codes(b.Hazards), b.Items[0].Doubts)
		}
	}
}

// Whatever a page names, the block never looks safe.
func TestNeverLooksSafe(t *testing.T) {
	for _, s := range Built().Substances {
		for _, strength := range []*float64{nil, share100(100), share100(0.01)} {
			b := BlockFor([]Use{{s.Name, strength}}, nil)
			if len(b.Bounds) == 0 || b.Empty() {
				t.Errorf("%s: the block leaves nothing open", s.ID)
			}
			if len(b.Hazards) == 0 && !strings.Contains(strings.Join(b.Items[0].Doubts, " "), "does not mean that it is harmless") {
				t.Errorf("%s has no statement and looks harmless", s.ID)
			}
			if b.SignalWord == "" && !strings.Contains(strings.Join(b.Unknown, " "), "No signal word is listed") {
				t.Errorf("%s has no signal word and looks harmless", s.ID)
			}
			if b.Items[0].Review != NotReviewed {
				t.Errorf("%s is %s", s.ID, b.Items[0].Review)
			}
		}
	}
	b := BlockFor([]Use{{Name: "unheard-of salt"}}, nil)
	if b.Empty() || len(b.Missing) != 1 || !strings.Contains(b.Unknown[0], "not in the hazard list") {
		t.Errorf("an unknown name: %+v", b)
	}
	if !BlockFor(nil, nil).Empty() {
		t.Error("a page without substances is not empty")
	}
}

func TestWhatMustNotMeet(t *testing.T) {
	for _, c := range []struct{ a, b, meet string }{
		{"acetic acid", "sodium sulfite", "acid-sulfite"},
		{"citric acid", "sodium sulfide", "acid-sulfide"},
		{"sodium hypochlorite", "ammonium thiosulfate", "hypochlorite-ammonia hypochlorite-reducer"},
		{"sodium hypochlorite", "citric acid", "hypochlorite-acid"},
		{"potassium permanganate", "isopropanol", "permanganate-organic"},
		{"potassium permanganate", "hydroquinone", "permanganate-organic"},
		{"potassium dichromate", "hydroquinone", "oxidiser-organic"},
		{"potassium ferricyanide", "sulfuric acid", "ferricyanide-acid"},
		{"formaldehyde", "hydrogen peroxide", "formaldehyde-oxidiser"},
		{"hexamine", "citric acid", "hexamine-acid"},
		{"thiourea", "hydrogen peroxide", "thiourea-oxidiser"},
		{"potassium bromide", "potassium permanganate", "oxidiser-halide"},
		{"ammonia", "silver nitrate", "silver-ammonia"},
		{"ammonia", "gold chloride", "gold-ammonia"},
		// Two of one side do not meet.
		{"acetic acid", "citric acid", ""},
		{"sodium sulfite", "sodium metabisulfite", ""},
		{"potassium permanganate", "potassium dichromate", ""},
		{"hydroquinone", "pyrogallol", ""},
	} {
		for _, uses := range [][]Use{{{Name: c.a}, {Name: c.b}}, {{Name: c.b}, {Name: c.a}}} {
			b := BlockFor(uses, nil)
			if got := ids(b.Meet); got != c.meet {
				t.Errorf("%s and %s: %q, want %q", c.a, c.b, got, c.meet)
			}
			if !strings.Contains(strings.Join(b.Bounds, " "), "not known to be safe together") {
				t.Errorf("%s and %s look safe together", c.a, c.b)
			}
		}
	}
	b := BlockFor([]Use{{Name: "sodium sulfide"}}, nil)
	if !strings.Contains(ids(b.KeepApart), "acid-sulfide") || b.KeepApart[0].Word != "DANGER" {
		t.Errorf("sodium sulfide is to be kept apart from: %s", ids(b.KeepApart))
	}
	for _, c := range b.KeepApart {
		if c.ID == "acid-sulfide" && (len(c.Gases) != 1 || c.Gases[0].Name != "Hydrogen sulfide") {
			t.Errorf("the gases are %+v", c.Gases)
		}
	}
}

func TestWhatMeets(t *testing.T) {
	b := BlockFor([]Use{{Name: "sulfuric acid"}, {Name: "sodium sulfite"}}, nil)
	if len(b.Meet) != 1 || !slices.Equal(b.Meet[0].One, []string{"Sulfuric acid"}) || !slices.Equal(b.Meet[0].Other, []string{"Sodium sulfite"}) ||
		b.Meet[0].Happens != "Gives off sulfur dioxide, at once with metabisulfite or strong acid." ||
		b.Meet[0].Do != "Dissolve in plenty of cold water; add acid last, slowly; keep face away from the vessel." {
		t.Errorf("%+v", b.Meet)
	}
}

func TestAcidIntoWater(t *testing.T) {
	const rule = "Acid into water, never water into acid."
	for _, c := range []struct {
		use  Use
		want string
	}{
		{Use{Name: "sulfuric acid"}, rule},
		{Use{"sulfuric acid", share100(50)}, rule},
		{Use{"sulfuric acid", share100(5)}, ""},
		{Use{Name: "acetic acid"}, rule},
		{Use{"acetic acid", share100(28)}, rule},
		{Use{"acetic acid", share100(2)}, ""},
		{Use{Name: "citric acid"}, ""},
		{Use{Name: "sodium hydroxide"}, ""},
	} {
		if got := BlockFor([]Use{c.use}, nil).AcidIntoWater; got != c.want {
			t.Errorf("%v: %q", c.use.Name, got)
		}
	}
	if b := BlockFor([]Use{{Name: "lye"}}, nil); ids(b.Order) != "naoh-water" {
		t.Errorf("sodium hydroxide: %s", ids(b.Order))
	}
}

// Precautionary statements that say less than another of the same substance are
// left out; those of another substance are not.
func TestWeakerPrecautions(t *testing.T) {
	find := func(b Block, code string) []string {
		for _, g := range b.Precautions {
			for _, p := range g.Items {
				if p.Code == code {
					return p.Substances
				}
			}
		}
		return nil
	}
	b := BlockFor([]Use{{Name: "potassium dichromate"}, {Name: "citric acid"}}, nil)
	if got := find(b, "P260"); !slices.Equal(got, []string{"Potassium dichromate"}) {
		t.Errorf("P260 is of %v", got)
	}
	if got := find(b, "P261"); !slices.Equal(got, []string{"Citric acid"}) {
		t.Errorf("P261 is of %v", got)
	}
	for _, g := range b.Precautions {
		for _, p := range g.Items {
			if strings.ContainsAny(p.Text, "…[") {
				t.Errorf("%s is left open: %s", p.Code, p.Text)
			}
		}
	}
}

func BenchmarkBlock(b *testing.B) {
	uses := []Use{{Name: "hydroquinone"}, {Name: "sodium sulfite"}, {"acetic acid", share100(28)}, {Name: "ammonium thiosulfate"}, {Name: "potassium bromide"}}
	for b.Loop() {
		BlockFor(uses, nil)
	}
}
