package quantity

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// foreign is each unit in the notation of GNU units, and what that program calls the
// base unit of its kind. K is a difference; points are converted in a test of their own.
var foreign = map[string]string{
	"cm": "cm", "nm": "nm", "µm": "um", "mm": "mm", "m": "m", "km": "km", "inch": "inch", "ft": "ft",
	"sq_inch": "inch^2", "sq_ft": "ft^2",
	"ml": "ml", "µl": "ul", "cl": "cl", "dl": "dl", "l": "l",
	"gal": "usgallon", "quart": "usquart", "pint": "uspint", "cup": "uscup", "fl_oz": "usfluidounce",
	"tbsp": "ustablespoon", "tsp": "usteaspoon",
	"imp_gal": "brgallon", "imp_quart": "brquart", "imp_pint": "brpint", "imp_fl_oz": "brfluidounce",
	"g": "g", "µg": "ug", "mg": "mg", "kg": "kg", "lb": "lb", "oz_av": "oz", "grain": "grain", "oz_ap": "apounce",
	"s": "s", "ms": "ms", "min": "min", "h": "hour", "day": "day", "week": "week",
	// its year is the tropical one, so the Julian year is spelt out
	"year": "(365.25 day)", "month": "(365.25 day / 12)",
	"mol": "mol", "mmol": "mmol",
	"K": "K", "Δ°C": "degC", "Δ°F": "degF",
	"Pa": "Pa", "kPa": "kPa", "bar": "bar", "psi": "psi", "J": "J", "kJ": "kJ", "W": "W", "kW": "kW", "kWh": "kW hour",
	"%": "percent", "ppm": "ppm",
}

// Units that GNU units does not know in this sense, and why.
var notForeign = map[string]string{
	"stop": "an exposure is a ratio there, not a logarithm",
	"°C":   "a point: TestPointsAgainstReferee",
	"°F":   "a point: TestPointsAgainstReferee",
}

// referee asks GNU units about pairs of expressions in one run.
func referee(t *testing.T, pairs [][2]string) []float64 {
	t.Helper()
	path, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") == "" {
			t.Skip("GNU units is not installed (Debian: apt-get install units); this outside check is left out")
		}
		t.Fatal("GNU units is not installed (Debian: apt-get install units)")
	}
	var in bytes.Buffer
	for _, p := range pairs {
		fmt.Fprintf(&in, "%s\n%s\n", p[0], p[1])
	}
	command := exec.Command(path, "-q", "-t", "-1", "-d", "15")
	command.Stdin = &in
	command.Env = append(os.Environ(), "LC_ALL=C", "UNITS_ENGLISH=US")
	out, err := command.Output()
	if err != nil && len(out) == 0 {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(pairs) {
		t.Fatalf("%d questions, %d answers: %s", len(pairs), len(lines), out)
	}
	answers := make([]float64, len(lines))
	for i, line := range lines {
		if answers[i], err = strconv.ParseFloat(strings.TrimSpace(line), 64); err != nil {
			t.Fatalf("%q to %q: %s", pairs[i][0], pairs[i][1], line)
		}
	}
	return answers
}

// Every unit of the table, and every pair of units of one kind, against GNU units
// (Debian package units, 2.22), to 12 digits.
func TestUnitsAgainstReferee(t *testing.T) {
	var names []string
	kinds := map[Kind][]string{}
	for _, e := range Entries() {
		if e.Kind.Money != 0 || notForeign[e.Name] != "" {
			continue
		}
		if foreign[e.Name] == "" {
			t.Errorf("%s is compared with nothing", e.Name)
			continue
		}
		names = append(names, e.Name)
		kinds[e.Kind] = append(kinds[e.Kind], e.Name)
	}
	// cubes and squares are read without being in the table
	for _, extra := range []struct{ name, as string }{{"cm3", "cm^3"}, {"m3", "m^3"}, {"mm2", "mm^2"}, {"cm2", "cm^2"}, {"m2", "m^2"},
		{"inch3", "inch^3"}, {"g/l", "g/l"}, {"oz_av/gal", "oz/usgallon"}, {"lb/ft3", "lb/ft^3"}, {"kg/m3", "kg/m^3"},
		{"ml/m2", "ml/m^2"}, {"fl_oz/sq_ft", "usfluidounce/ft^2"}, {"cm/min", "cm/min"}, {"ft/min", "ft/min"}, {"m/h", "m/hour"},
		{"kJ/kg/K", "kJ/kg/K"}, {"J/g/Δ°F", "J/g/degF"}, {"W/m2", "W/m^2"}, {"mol/l", "mol/l"}, {"mmol/ml", "mmol/ml"},
		{"/l", "1/l"}, {"/gal", "1/usgallon"}, {"/min", "1/min"}, {"/h", "1/hour"}, {"kg*m/s2", "kg m/s^2"}, {"lb*ft/s2", "lb ft/s^2"},
		{"W*h", "W hour"}, {"Pa*m3", "Pa m^3"}} {
		foreign[extra.name] = extra.as
		kinds[must(extra.name).Kind] = append(kinds[must(extra.name).Kind], extra.name)
		names = append(names, extra.name)
	}
	var pairs [][2]string
	var mine []float64
	for _, group := range kinds {
		for _, from := range group {
			for _, to := range group {
				if from != to {
					pairs = append(pairs, [2]string{"3.25 " + foreign[from], foreign[to]})
					mine = append(mine, must(to).Of(must(from).Base(3.25)))
				}
			}
		}
	}
	if len(pairs) < 200 {
		t.Fatalf("only %d conversions", len(pairs))
	}
	for i, answer := range referee(t, pairs) {
		if math.Abs(mine[i]-answer) > 1e-12*math.Abs(answer) {
			t.Errorf("%s in %s: %.15g here, %.15g by GNU units", pairs[i][0], pairs[i][1], mine[i], answer)
		}
	}
	t.Logf("%d units, %d conversions", len(names), len(pairs))
}

func TestPointsAgainstReferee(t *testing.T) {
	var pairs [][2]string
	var mine []float64
	c, f := must("°C"), must("°F")
	for v := -40.0; v <= 212; v += 7.25 {
		pairs = append(pairs, [2]string{fmt.Sprintf("tempF(%g)", v), "tempC"}, [2]string{fmt.Sprintf("tempC(%g)", v), "tempF"})
		mine = append(mine, c.Of(f.Base(v)), f.Of(c.Base(v)))
	}
	for i, answer := range referee(t, pairs) {
		if math.Abs(mine[i]-answer) > 1e-10 {
			t.Errorf("%s in %s: %.15g here, %.15g by GNU units", pairs[i][0], pairs[i][1], mine[i], answer)
		}
	}
}

// The factors as NIST Special Publication 811 (2008), appendix B.8, prints them, from
// memory; the digits printed are the tolerance. Base units here are cm, g, s.
func TestPrintedFactors(t *testing.T) {
	for _, c := range []struct {
		unit, in string
		printed  string
	}{
		{"ft", "m", "0.3048"},
		{"inch", "cm", "2.54"},
		{"sq_ft", "m2", "0.09290304"},
		{"sq_inch", "cm2", "6.4516"},
		{"gal", "l", "3.785412"},
		{"quart", "ml", "946.3529"},
		{"pint", "ml", "473.1765"},
		{"cup", "ml", "236.5882"},
		{"fl_oz", "ml", "29.57353"},
		{"tbsp", "ml", "14.78676"},
		{"tsp", "ml", "4.928922"},
		{"imp_gal", "l", "4.54609"},
		{"imp_fl_oz", "ml", "28.41306"},
		{"lb", "kg", "0.45359237"},
		{"oz_av", "g", "28.34952"},
		{"oz_ap", "g", "31.10348"},
		{"grain", "mg", "64.79891"},
		{"psi", "kPa", "6.894757"},
		{"bar", "kPa", "100"},
		{"kWh", "kJ", "3600"},
		{"Δ°F", "K", "0.5555556"},
		{"day", "s", "86400"},
		{"lb/ft3", "kg/m3", "16.01846"},
		{"lb/gal", "kg/m3", "119.8264"},
		{"oz_av/gal", "g/l", "7.489152"},
		{"ft/min", "m/s", "0.00508"},
		{"gal/min", "l/s", "0.06309020"},
	} {
		want, _ := strconv.ParseFloat(c.printed, 64)
		decimals := 0
		if i := strings.IndexByte(c.printed, '.'); i >= 0 {
			decimals = len(c.printed) - i - 1
		}
		got := must(c.in).Of(must(c.unit).Base(1))
		if math.Abs(got-want) > 0.5000001*math.Pow10(-decimals) {
			t.Errorf("1 %s is %.12g %s, printed %s", c.unit, got, c.in, c.printed)
		}
	}
}

// Every unit that the page format names is read, by every spelling that it gives.
func TestUnitsOfThePageFormat(t *testing.T) {
	all := `ms s min h day week month year °C °F K Δ°C Δ°F delta_C delta_F nm µm mm cm m km inch ft mm2 cm2 m2 sq_inch sq_ft
		µl ml cl dl l m3 cm3 tsp tbsp fl_oz cup pint quart gal imp_fl_oz imp_pint imp_quart imp_gal
		µg mg g kg oz_av oz_ap lb grain mmol mol Pa kPa psi bar W kW J kJ kWh % ppm stop USD EUR GBP JPY
		L mL cL dL µL um ul ug days weeks months years inches cups pints quarts stops grains m² m³ g/l ml/m2 cm/min kJ/kg/K /l /min /inch`
	for name := range strings.FieldsSeq(all) {
		if u, n, ok := ReadUnit(name); !ok || n != len(name) || u.Text == "" {
			t.Errorf("%q is not read as a unit", name)
		}
	}
	for _, name := range []string{"", "x", "oz", "ML", "Ml", "kG", "°", "/", "//l", "/°C", "g//l", "g*", "_", "8"} {
		if u, n, ok := ReadUnit(name); ok && n == len(name) {
			t.Errorf("%q is read as the unit %q", name, u.Text)
		}
	}
}

// Each factor is the float of its fraction, and each entry names its source.
func TestEntries(t *testing.T) {
	seen := map[string]string{}
	for _, e := range Entries() {
		if e.Source == "" || e.Name == "" {
			t.Errorf("%+v has no name or no source", e)
		}
		for _, spelling := range append(e.Also, e.Name) {
			if other := seen[spelling]; other != "" {
				t.Errorf("%s means %s and %s", spelling, other, e.Name)
			}
			seen[spelling] = e.Name
			if u, ok := Lookup(spelling); !ok || u.Text != e.Text || !IsUnit(spelling) {
				t.Errorf("%s is not found", spelling)
			}
		}
		if f, _ := e.exact.Float64(); f != e.Factor {
			t.Errorf("%s: %v is not %s", e.Name, e.Factor, e.Exactly)
		}
	}
}

// The sizes in messages agree with the table, to the digits written.
func TestMeasures(t *testing.T) {
	for us, m := range measures {
		for _, c := range []struct{ unit, size string }{{us, m[1]}, {"imp_" + us, m[2]}} {
			u, ok := Lookup(c.unit)
			size, trouble := Parse(c.size)
			if !ok || trouble != nil || math.Abs(size.Base/u.Factor-1) > 0.0005 {
				t.Errorf("%s is called %s: %v", c.unit, c.size, u.Factor)
			}
		}
	}
}

// What is proposed for a word is a unit.
func TestProposed(t *testing.T) {
	units := func(of string, names ...string) {
		for _, name := range names {
			if u, n, ok := ReadUnit(name); !ok || n != len(name) {
				t.Errorf("%s stands for %s, which is not a unit: %+v", of, name, u)
			}
		}
	}
	for word, unit := range meant {
		if IsUnit(word) {
			t.Errorf("%s is a unit itself", word)
		}
		units(word, unit)
	}
	for _, s := range sayings() {
		units(s.words, s.units...)
	}
}
