package formula

import (
	"math"
	"testing"

	"labsite/recipes/quantity"
)

// Values of formulas, in base units (ml, g, s, °C for a point), from the page format
// sentence by sentence.
func TestValues(t *testing.T) {
	given := map[string]float64{
		"n": 3, "a": 2000, "b": 60, "p": 20, "d": 2, "s": 2, "u": 12.5, "e": 4, "y": 1, "w": 1, "v": 0,
		"tank": 500, "rolls": 2, "bath": 20, "area": 500, "rate": 0.0065, "syrup": 30, "time": 600, "film": 1, "fast": 0, "length": 9,
	}
	for _, c := range []struct {
		text string
		want float64
	}{
		// literals bind tighter than all operators
		{"tank / 101 + 0.5 ml", 500./101 + 0.5},
		{"tank / 2 l/min", 500 / (2000. / 60)},
		{"5 ml / 2 min", 5. / 120},
		{"3 m ** 2", 90000},
		{"5 ml/tank", 0.01},
		{"1/125 s", 0.008},
		{"1 / 125 s", 0.008},
		{"s / 1/3 stop", 6},
		{"1/3 stop * 3", 1},
		{"time - 10 min 30 s", -30},
		{"time - 1 h 5 min + 1 s", 600 - 3900 + 1},
		{"-10 min 30 s", -630},
		{"2 * 1 2/3 stop", 10. / 3},
		{"100 g/l * tank", 50},
		{"tank*2 %", 10},
		{"20 /l * 1 l", 20},
		{"500 ml/2", 250},
		{"tank*2", 1000},
		{"500/2 ml", 250},

		// a minus before a temperature belongs to it, any other negates more loosely than **
		{"-5 °C - bath", -25},
		{"bath - -5 °C", 25},
		{"bath -5 °C", 15},
		{"(-5 °C) - (bath)", -25},
		{"if bath > -5 °C { 1 } else { 2 }", 1},
		{"-2 ** 2", -4},
		{"(-2) ** 2", 4},
		{"2 ** -1", 0.5},
		{"2 ** 3 ** 2", 512},
		{"2 ^ 3", 8},
		{"2 ^ 3 ** 2", 512},
		{"-rolls", -2},
		{"--rolls", 2},
		{"+rolls", 2},
		{"3 - -2", 5},
		{"2 * -3", -6},

		// order of operators
		{"1 + 2 * 3", 7},
		{"(1 + 2) * 3", 9},
		{"8 / 4 / 2", 1},
		{"8 - 4 - 2", 2},
		{"2 * 3 ** 2", 18},
		{"1 + 2 < 4 and not (2 < 1)", 1},

		// temperatures
		{"bath - 68 °F", 0},
		{"bath + 2 K - 20 °C", 2},
		{"bath + 3.6 Δ°F - 20 °C", 2},
		{"2 K + bath - bath", 2},
		{"kelvin(bath)", 293.15}, // NIST SP 811 B.9: T/K = t/°C + 273.15
		{"kelvin(-273.15 °C)", 0},
		{"mean(18 °C, 22 °C, 26 °C) - 0 °C", 22},
		{"min(bath, 18 °C) - 0 °C", 18},
		{"clamp(bath, 18 °C, 19 °C) - 0 °C", 19},
		{"clamp(bath, 18 °C, 24 °C) - 0 °C", 20},
		{"clamp(5, 6, 8)", 6},
		{"(bath - 18 °C) / 1 K", 2},

		// stops
		{"stops(125 / 64)", math.Log2(125. / 64)},
		{"ratio(2 stop)", 4},
		{"ratio(-1 stop)", 0.5},
		{"ratio(stops(5))", 5},
		{"(s + 1 stop) / 1 stop", 3},

		// functions
		{"abs(-3 ml)", 3},
		{"min(3, 1, 2)", 1},
		{"max(3 ml, 1 l, 2 ml)", 1000},
		{"mean(1, 2, 6)", 3},
		{"sqrt(16)", 4},
		{"sqrt(9 m2) / 1 m", 3},
		{"exp(0)", 1},
		{"exp(1)", math.E},
		{"exp2(10)", 1024},
		{"log(exp(2))", 2},
		{"log2(8)", 3},
		{"log10(1000)", 3},
		{"dilution(1, 100)", 1. / 101},
		{"tank * dilution(2, 98)", 10},
		{"floor(2.7)", 2}, {"floor(-2.2)", -3}, {"ceil(2.2)", 3}, {"ceil(-2.7)", -2},

		// rounding: binary noise is not seen, halves go away from zero
		{"floor(15 ml / 3 ml)", 5},
		{"floor(0.3 / 0.1)", 3},
		{"ceil(0.3 / 0.1)", 3},
		{"round(0.15, 0.1)", 0.2},
		{"round(-0.15, 0.1)", -0.2},
		{"round(2.5, 1)", 3},
		{"round(-2.5, 1)", -3},
		{"round(4.951 ml, 0.1 ml)", 5},
		{"round_up(4.91 ml, 0.1 ml)", 5},
		{"round_up(4.9 ml, 0.1 ml)", 4.9},
		{"round_down(4.99 ml, 0.1 ml)", 4.9},
		{"round_down(5 ml, 0.1 ml)", 5},
		{"round(1 l, 7 ml)", 1001},
		{"round(9 min 16 s, 15 s)", 555},
		{"round(1.6 stop, 1/3 stop)", 5. / 3},
		{"round(19.8 °C, 0.5 °C) - 0 °C", 20},
		{"round(19.8 °C, 0.5 K) - 0 °C", 20},
		{"round(20 °C, 5 °F) - 0 °C", (70 - 32) / 1.8}, // 68 °F goes to 70 °F
		{"round(20 °C, 5 Δ°F) - 0 °C", (70 - 32) / 1.8},
		{"round_down(20 °C, 5 °F) - 0 °C", (65 - 32) / 1.8},
		{"round_up(-3 °C, 2 °C) - 0 °C", -2},

		// comparisons
		{"0.1 + 0.2 == 0.3", 1},
		{"0.1 + 0.2 != 0.3", 0},
		{"0.1 + 0.2 <= 0.3", 1},
		{"0.1 + 0.2 > 0.3", 0},
		{"15 ml == 1.5 cl", 1},
		{"1 l == 1000 ml", 1},
		{"1000000001 == 1000000000", 1}, // within 1e-9 of the larger
		{"1.00000001 == 1", 0},
		{"bath == 68 °F", 1},
		{"fast == (1 > 2)", 1},
		{"fast != true", 1},
		{`film == "sheet"`, 1},
		{`"sheet" == film`, 1},
		{`film != "roll"`, 1},
		{`film == 'disc'`, 0},
		{`v == "sheet"`, 1}, // the number of the choice is the given's own
		{`mix.film == "sheet"`, 1},

		// texts come out of formulas, each by its number among those that can
		{`fast ? "roll" : "sheet"`, 1},
		{`(fast ? "roll" : "sheet") == "sheet"`, 1},
		{`film == (fast ? "roll" : "sheet")`, 1},
		{`let x = film; x == "sheet"`, 1},
		{`(y ? "sheet" : film) == film`, 1},
		{`(fast ? "sheet" : v) == film`, 1}, // the same text, though its number is another
		{`(fast ? "other" : film) == "sheet"`, 1},
		{`lookup(times.film, times.x, 1) == "roll"`, 1},
		{`lookup(times.film, times.x, 4) == film`, 1},
		{`first(times.film) == "roll" and last(times.film) == "sheet"`, 1},
		{`lookup(times.minutes, times.film, lookup(times.film, times.x, 1), times.bath, bath)`, 600},
		{`count(times.film, times.film, fast ? "roll" : "sheet")`, 2},

		// words: not binds tightest, then and, then or
		{"true or false and false", 1},
		{"(true or false) and false", 0},
		{"not false and false", 0},
		{"not (false and false)", 1},
		{"not not true", 1},
		{"not 1 > 2", 1},
		{"not rolls + 1 > 2 or false", 0},
		{"not rolls == 3", 1},
		{"not fast == y", 1},

		// only the branch taken is worked out; and and or stop early
		{"rolls == 2 ? 1 : 1 / 0", 1},
		{"rolls != 2 ? 1 / 0 : 1", 1},
		{"if rolls == 2 { 1 } else { sqrt(-1) }", 1},
		{"rolls == 3 and 1 / (rolls - 2) > 0", 0},
		{"rolls == 2 or 1 / (rolls - 2) > 0", 1},
		{"if rolls > 5 { 1 } else if rolls > 1 { 2 } else { 3 }", 2},
		{"(if rolls > 5 { 1 } else { 2 }) + 10", 12},
		{"rolls > 5 ? 1 : rolls > 1 ? 2 : 3", 2},
		{"let x = if rolls > 5 { 1 } else { 2 }; x + 1", 3},

		// let
		{"let x = rolls * 0.052 m2; x * 65 ml/m2 / 1 ml", 2 * 0.052 * 65},
		{"let x = 2; let z2 = x + 1; x * z2", 6},
		{"let x = 2; (let z2 = 3; x * z2) + 1", 7},
		{"1 + (let x = 2; x)", 3},

		// data
		{`lookup(times.minutes, times.film, "roll", times.bath, 20 °C)`, 600},
		{"lookup(times.minutes, times.film, film, times.bath, bath)", 480},
		{"lookup(times.minutes, times.film, film, times.bath, 64.4 °F)", 540},
		{"lookup(times.minutes, times.film, v, times.bath, bath)", 480},
		{"lookup(times.y, times.x, 0.1 + 0.2 + 1.7)", 100}, // equal up to noise
		{"interpolate(times.y, times.x, 3)", 550},
		{"interpolate(times.y, times.x, 1)", 10},
		{"interpolate(times.y, times.x, 8)", 10000},
		{"interpolate(times.y, times.x, 8 * (1 + 1e-10))", 10000},
		{"interpolate_log(times.y, times.x, sqrt(2))", math.Pow(10, 1.5)},
		{"interpolate_log(times.y, times.x, 2)", 100},
		{`interpolate(times.minutes, times.bath, 19 °C, times.film, "roll")`, 630},
		{"interpolate(times.minutes, times.bath, bath, times.film, film)", 480},

		// over rows, all or those that keys choose
		{"sum(times.y)", 11110},
		{"sum(times.y, times.film, film)", 11000}, // the keys of a given choose
		{"sum(times.y, times.bath, 19 °C)", 0},    // no row gives zero
		{`count(times.film, times.bath, 68 °F)`, 2},
		{"count(times.bath, times.bath, 19 °C)", 0},
		{"mean(times.bath) - 0 °C", 19},
		{"mean(times.x, times.film, film)", 6},
		{"median(times.x)", 3},
		{"median(times.x, times.bath, 18 °C, times.film, film)", 4},
		{"smallest(times.x, times.film, film)", 4},
		{"largest(times.bath) - 0 °C", 20},
		{"first(times.y)", 10},
		{"last(times.minutes)", 480},
		{"deviation(times.zero)", math.Sqrt(5. / 3)},
		{"deviation(times.bath) / 1 K", math.Sqrt(4. / 3)}, // of points, a difference
		{"sum(times.y, times.x, 0.1 + 0.2 + 1.7)", 100},    // equal up to noise
	} {
		got, fault, list := value(c.text, given)
		if len(list) > 0 || fault != None {
			t.Errorf("%s: fault %d, %s", c.text, fault, list)
			continue
		}
		if math.Abs(got-c.want) > 1e-12*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s is %.15g, want %.15g", c.text, got, c.want)
		}
	}
}

// A result that is not finite is a fault; keys without a row or a point are a refusal.
func TestFaults(t *testing.T) {
	given := map[string]float64{"tank": 500, "rolls": 0, "bath": 20, "film": 0, "n": 3, "fast": 1}
	for _, c := range []struct {
		text string
		want FaultKind
	}{
		{"1 / 0", NotFinite}, {"0 / 0", NotFinite}, {"tank / rolls", NotFinite}, {"-1 / rolls", NotFinite},
		{"sqrt(-1)", NotFinite}, {"log(0)", NotFinite}, {"log(-1)", NotFinite}, {"log2(rolls)", NotFinite}, {"log10(-0.1)", NotFinite},
		{"exp(1e4)", NotFinite}, {"exp2(1e9)", NotFinite}, {"10 ** 400", NotFinite}, {"(-1) ** 0.5", NotFinite}, {"0 ** -1", NotFinite},
		{"1e99 * 1e99 * 1e99 * 1e99", NotFinite}, {"1e99 ** 3 + 1e99 ** 3 * 1e99", NotFinite}, {"mean(1e99 ** 3 * 1e11, 1e99 ** 3 * 1e11)", NotFinite},
		{"stops(0)", NotFinite}, {"ratio(1e9 stop)", NotFinite}, {"dilution(0, 0)", NotFinite}, {"round(1, rolls)", NotFinite},
		{"min(1 / rolls, 5)", NotFinite}, {"1 / rolls > 5", NotFinite}, {"not (1 / rolls > 5)", NotFinite}, {"clamp(1 / rolls, 0, 1)", NotFinite},
		{"let x = 1 / rolls; 5", NotFinite}, {"1 / rolls == 1 / rolls", NotFinite}, {"fast and 1 / rolls > 1", NotFinite},
		{"1 / rolls > 1 or fast", NotFinite}, {"1 / rolls > 1 ? 1 : 2", NotFinite},
		{`lookup(times.minutes, times.film, film, times.bath, 19 °C)`, NoRow},
		{`lookup(times.minutes, times.film, "roll", times.bath, 18.1 °C)`, NoRow},
		{"lookup(times.minutes, times.film, mix.film, times.bath, bath)", None},
		{"interpolate(times.y, times.x, 0.99)", Beyond}, {"interpolate(times.y, times.x, 8.01)", Beyond},
		{"interpolate(times.y, times.x, 8 * (1 + 2e-9))", Beyond},
		{`interpolate(times.minutes, times.bath, 30 °C, times.film, "roll")`, Beyond},
		{"interpolate(times.y, times.x, 1, times.bath, 35 °C)", NoRow},
		{"interpolate_log(times.y, times.x, 0.5)", Beyond}, {"interpolate_log(times.y, times.x, rolls)", Beyond},
		{"1 / rolls > 0 and interpolate(times.y, times.x, 9) > 1 ml", NotFinite}, // the first fault met
		{"tank / 1 ml", None},
		{"mean(times.y, times.bath, 19 °C)", NoRows}, {"first(times.y, times.bath, 19 °C)", NoRows}, {"deviation(times.y, times.bath, 19 °C)", NoRows},
		{"deviation(times.y, times.x, 1)", FewRows}, {"sum(times.y, times.x, rolls)", None},
	} {
		v, fault, list := value(c.text, given)
		if len(list) > 0 || fault != c.want {
			t.Errorf("%s: fault %d, want %d; %s", c.text, fault, c.want, list)
		}
		if fault == None && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%s is %v", c.text, v)
		}
	}
	// disc is a choice of the given, and no row of the file
	if _, fault, _ := value("lookup(times.minutes, times.film, film, times.bath, bath)", map[string]float64{"film": 2, "bath": 20}); fault != NoRow {
		t.Errorf("a film without rows: fault %d", fault)
	}
	for kind, refuses := range map[FaultKind]bool{None: false, NotFinite: false, NoRow: true, Beyond: true, NoRows: true, FewRows: true, OutOfRange: true} {
		if kind.Refuses() != refuses {
			t.Errorf("fault %d refuses: %v", kind, !refuses)
		}
	}
}

// A figure takes the unit of the first operand from the left that is of its kind.
func TestFirstUnit(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"tank / 101", "ml"},
		{"2 l - tank", "L"},
		{"syrup + tank", "fl_oz"},
		{"round(syrup, 0.1 ml)", "fl_oz"},
		{"round(rolls * 2 g, 0.1 kg)", "g"},
		{"time > 5 min ? 2 l : tank", "L"},
		{"if syrup > 1 ml { tank } else { syrup }", "fl_oz"},
		{"rate * area", ""},
		{"let x = 2 gal; tank + x", "gal"},
		{"let x = 2 gal; x * 2", "gal"},
		{"bath + 2 K", "°C"},
		{"68 °F + 2 K", "°F"},
		{"bath - 20 °C", ""},
		{"lookup(times.minutes, times.film, film, times.bath, bath)", "min"},
		{"3 * lookup(times.y, times.x, 1)", "ml"},
		{"50 g / tank", ""},
		{"50 g/l * 2", "g/L"},
		{"2 * 3", ""},
		{"2 % * 3", "%"},
		{"s + 1/3 stop", "stop"},
	} {
		n, list := infer(c.text)
		if n == nil {
			t.Errorf("%s: %s", c.text, list)
			continue
		}
		u, ok := n.FirstUnit()
		if u.Text != c.want || ok != (c.want != "") {
			t.Errorf("%s takes %q, want %q", c.text, u.Text, c.want)
		}
	}
}

// An operand that was reported elsewhere is not reported again.
func TestUnknownIsSilent(t *testing.T) {
	for _, text := range []string{"z", "z + tank", "z * z", "-z", "not z", "z and y", "z ? 1 : 2", "y ? z : 1 ml", "abs(z)", "min(z, tank)",
		"round(z, 1 ml)", "round(tank, z)", "let x = z; x * 2", "z == 1", "z ** 2", "sqrt(z)", "lookup(times.y, times.x, z)",
		"interpolate(times.y, times.x, z + 1)", "clamp(z, z, z)", "z == \"roll\""} {
		if n, list := infer(text); n != nil || len(list) > 0 {
			t.Errorf("%s: %v, %s", text, n, list)
		}
	}
	// but a second fault beside it is reported
	for text, want := range map[string]string{"z + tnak": "unknown-name", "(tank + bath) * z": "kinds-differ", "min(z, 5oz)": "blank-before-unit"} {
		if _, list := infer(text); codes(list) != want {
			t.Errorf("%s: %s, want %s", text, codes(list), want)
		}
	}
}

func TestReferences(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"tank * strength + tank", "tank strength tank"},
		{"let x = tank; x + y", "tank y"},
		{"round(tank, 1 ml)", "tank"},
		{"mix.syrup + tank", "mix.syrup tank"},
		{`film == "tank"`, "film"},
		{"5 ml", ""},
		{"if fast { tank } else { syrup }", "fast tank syrup"},
		{"lookup(times.y, times.x, rolls)", "times.y times.x rolls"},
	} {
		f, list := Parse(c.text, nil)
		if f == nil {
			t.Errorf("%s: %s", c.text, list)
			continue
		}
		got := ""
		for _, r := range f.References() {
			if got != "" {
				got += " "
			}
			if r.Of != "" {
				got += r.Of + "."
			}
			got += r.Name
			if c.text[r.Start:r.End] != r.Name && c.text[r.Start:r.End] != r.Of+"."+r.Name {
				t.Errorf("%s: %s is placed at %q", c.text, r.Name, c.text[r.Start:r.End])
			}
		}
		if got != c.want {
			t.Errorf("%s uses %q, want %q", c.text, got, c.want)
		}
	}
}

func TestAlone(t *testing.T) {
	name := func(text string) string {
		f, _ := Parse(text, nil)
		n, _ := f.Alone()
		return n
	}
	for text, want := range map[string]string{"tank": "tank", " tank ": "tank", "tank + 1": "", "(tank)": "", "5 ml": "", "-tank": ""} {
		if got := name(text); got != want {
			t.Errorf("%q alone is %q, want %q", text, got, want)
		}
	}
}

// With puts values in the places of names, as {arithmetic} shows them.
func TestWith(t *testing.T) {
	f, _ := Parse("round(tank × 1, 1 ml)", nil)
	if f != nil {
		t.Fatal("× was read")
	}
	f, _ = Parse("let x = tank; x * strength + mix.syrup", nil)
	got := f.With(func(r Reference) (string, bool) {
		switch r.Of + r.Name {
		case "tank":
			return "500 ml", true
		case "mixsyrup":
			return "3 ml", true
		}
		return "", false
	})
	if want := "let x = 500 ml; x * strength + 3 ml"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// The tokens cover the formula in order, and every byte between them is blank.
func TestTokens(t *testing.T) {
	for _, text := range []string{"tank / 2 l/min", `if film == "roll" { round(5 μl, 1 µl) } else { -5 °C - bath }`, "let x = 1/125 s;\n x ** 2"} {
		f, list := Parse(text, nil)
		if f == nil {
			t.Fatal(list)
		}
		at := 0
		for _, k := range f.Tokens() {
			for _, c := range f.Normal()[at:k.Start] {
				if c != ' ' && c != '\n' {
					t.Errorf("%s: %q is between tokens", text, c)
				}
			}
			at = k.End
		}
		if at != len(f.Normal()) {
			t.Errorf("%s: the tokens end at %d", text, at)
		}
	}
}

// A page may use the names of the engine's own functions: only before a bracket would one be a
// function, and there it is refused.
func TestEngineNamesAreFree(t *testing.T) {
	for _, name := range []string{"len", "map", "filter", "all", "any", "one", "none", "now", "date", "keys",
		"values", "type", "int", "float", "string", "env", "split", "join", "uniq", "reverse", "sort", "take", "concat"} {
		prelude[name] = Symbol{Kind: quantity.Number}
		if n, list := infer(name + " * 2 + " + name); n == nil {
			t.Errorf("%s: %s", name, list)
		}
		if n, list := infer(name + "(2)"); n != nil || len(list) == 0 {
			t.Errorf("%s(2) is read", name)
		}
		delete(prelude, name)
	}
}
