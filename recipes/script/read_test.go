package script

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/dop251/goja"
	"pgregory.net/rapid"

	"labsite/recipes/quantity"
)

// reading is what labsite.read returns.
type reading struct {
	Base                float64
	Text, Unit, Kind    string
	Code, Message, Hint string
}

const readProbe = `(text) => {
	const r = labsite.read(text);
	return r.problem ? [null, r.problem.code, r.problem.message, r.problem.hint] : [r.value.base, r.value.text, r.value.unit, r.value.kind];
}`

func reader(t testing.TB) func(text string) (reading, error) {
	t.Helper()
	r := referee(t)
	v, err := r.vm.RunString("(" + readProbe + ")")
	if err != nil {
		t.Fatal(err)
	}
	call, _ := goja.AssertFunction(v)
	return func(text string) (reading, error) {
		v, err := call(goja.Undefined(), r.vm.ToValue(text))
		if err != nil {
			return reading{}, err
		}
		o := v.ToObject(r.vm)
		if at := func(i string) goja.Value { return o.Get(i) }; goja.IsNull(at("0")) {
			return reading{Code: at("1").String(), Message: at("2").String(), Hint: at("3").String()}, nil
		} else {
			return reading{Base: at("0").ToFloat(), Text: at("1").String(), Unit: at("2").String(), Kind: at("3").String()}, nil
		}
	}
}

// sameReading compares how Go and the script read a text: they must give the same value to the last bit, or
// the same refusal in the same words. A reader is offered no similarly spelled unit, since a field lists
// the units of its kind.
func sameReading(t interface {
	Errorf(format string, args ...any)
}, read func(string) (reading, error), text string) {
	text = strings.ToValidUTF8(text, "\ufffd")
	v, trouble := quantity.Parse(text)
	got, err := read(text)
	if err != nil {
		t.Errorf("%q: %v", text, err)
		return
	}
	if trouble != nil {
		if got.Code != trouble.Code {
			t.Errorf("%q: Go refuses it as %s (%s), the script as %s %+v", text, trouble.Code, trouble.Message, got.Code, got)
			return
		}
		if hasControl(text) {
			return // the two languages escape such characters differently
		}
		if got.Message != trouble.Message {
			t.Errorf("%q: %s\nin script: %s", text, trouble.Message, got.Message)
		}
		if got.Hint != trouble.Hint && !(trouble.Code == "unknown-unit" && got.Hint == "`labsite units` lists the units.") {
			t.Errorf("%q: %s\nin script: %s", text, trouble.Hint, got.Hint)
		}
		return
	}
	if got.Code != "" {
		t.Errorf("%q: Go reads %v, the script refuses it: %s", text, v.Base, got.Message)
		return
	}
	if got.Base != v.Base || got.Text != v.Text || got.Unit != v.Unit.Text {
		t.Errorf("%q: Go reads %.17g %q %q, the script %.17g %q %q", text, v.Base, v.Text, v.Unit.Text, got.Base, got.Text, got.Unit)
	}
	if name := v.Kind.Name(); got.Kind != name && !strings.HasPrefix(name, "a quantity in ") {
		t.Errorf("%q: %s in Go, %s in the script", text, name, got.Kind)
	}
}

func hasControl(text string) bool {
	for _, r := range text {
		if !strconv.IsPrint(r) {
			return true
		}
	}
	return false
}

// corpus is every text in the tests of quantities and in their fuzz corpora, and every value in the demo.
func corpus(t testing.TB) []string {
	t.Helper()
	seen := map[string]bool{}
	files, err := filepath.Glob("../quantity/*_test.go")
	if err != nil || len(files) < 3 {
		t.Fatalf("%d test files, %v", len(files), err)
	}
	for _, name := range files {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if text, err := strconv.Unquote(lit.Value); err == nil && len(text) < 300 {
					seen[text] = true
				}
			}
			return true
		})
	}
	quoted := regexp.MustCompile(`"((?:[^"\\\n]|\\.)*)"`)
	values := regexp.MustCompile(`[\w ]+: *([^,{}\n]+)`)
	add := func(pattern string, re *regexp.Regexp) {
		names, _ := filepath.Glob(pattern)
		for _, name := range names {
			raw, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range re.FindAllStringSubmatch(string(raw), -1) {
				text := m[1]
				if u, err := strconv.Unquote(`"` + text + `"`); err == nil {
					text = u
				}
				if len(text) < 300 {
					seen[text] = true
				}
			}
		}
	}
	add("../quantity/testdata/checks.json", quoted)
	add("../quantity/testdata/fuzz/*/*", quoted)
	add("testdata/fuzz/*/*", quoted)
	add("../../content/*/*.md", values)
	var out []string
	for text := range seen {
		out = append(out, text)
	}
	return out
}

func TestReading(t *testing.T) {
	t.Parallel()
	read := reader(t)
	texts := corpus(t)
	parsed := 0
	for _, text := range texts {
		sameReading(t, read, text)
		if _, trouble := quantity.Parse(text); trouble == nil {
			parsed++
		}
	}
	t.Logf("%d texts, %d of them quantities", len(texts), parsed)
	if parsed < 150 {
		t.Errorf("only %d quantities among %d texts", parsed, len(texts))
	}
}

// Every unit is read by every name, alone and joined. If only a part is tested, each name is read in one or
// two of the seven ways; TestOtherEngine reads all of the corpus.
func TestReadingUnits(t *testing.T) {
	t.Parallel()
	read := reader(t)
	var names []string
	for _, e := range quantity.Entries() {
		names = append(names, e.Name, e.Text)
		names = append(names, e.Also...)
		names = append(names, e.Name+"s", e.Name+"es", strings.ToUpper(e.Name), strings.ToLower(e.Name))
	}
	var words []string
	meant := quantity.Meant()
	for word := range meant.Meant {
		words = append(words, word, word+"s")
	}
	words = append(words, "gr", "pounds", "deg", "°", "M", "mil", "floz", "qts", "gallons", "Pt", "GAL", "oz", "Ounces")
	for _, word := range words {
		for _, text := range []string{"2.5 " + word, "7 g/" + word + " more"} {
			sameReading(t, read, text)
		}
	}
	for i, name := range names {
		other := names[(i*7+3)%len(names)]
		for way, text := range []string{"2.5 " + name, "3 " + name + "2", "1/3 " + name + "³", "7 " + name + "/" + other, "0.1 /" + name, "4 " + name + "*" + other + "/s2", "5" + name} {
			if (i+way)%nth() == 0 {
				sameReading(t, read, text)
			}
		}
	}
}

// Texts made at random of parts of quantities.
func TestReadingGenerated(t *testing.T) {
	t.Parallel()
	read := reader(t)
	pieces := []string{"1", "0", "12", "007", "100", "3.5", "0.25", ".5", "5.", "1e3", "2.5e-3", "1e99", "1E+100", "1_000", "0x1F", "1,5", "123456789012345678901234567890123456789012",
		" ", " ", " ", " ", "\u00a0", "\t", "\n", "+", "-", "−", "/", ":", "*", "(", ")", ",", "%", "in", " in ", "by", "..", "±", "²", "³", "2",
		"ml", "l", "L", "g", "kg", "s", "min", "h", "day", "days", "°C", "°F", "℃", "K", "Δ°F", "∆", "μ", "µm", "º", "stop", "stops", "USD", "EUR", "oz", "fl_oz", "m", "cm", "kJ", "ppm", "xyz", "e", "_", "F", "in", "each",
		"fl", "fl oz", "fl. oz.", "sq", "sq m", "cu in", "US", "US gal", "imp pint", "deg", "deg. C", "degrees F", "gallon", "qt", "gr", "M"}
	forms := []string{"N U", "N U N U", "N h N min N s", "N min N s", "N day N h", "N N/N U", "N/N U", "N+N", "N in N", "N:N", "N,N U", "N.N,N", "N,N,N U", "N U/U", "N /U", "-N U", "N"}
	rapid.Check(t, func(rt *rapid.T) {
		piece := func() string { return rapid.SampledFrom(pieces).Draw(rt, "piece") }
		for range 20 {
			text := ""
			if rapid.Bool().Draw(rt, "form") {
				for _, c := range rapid.SampledFrom(forms).Draw(rt, "of") {
					switch c {
					case 'N':
						text += pieces[rapid.IntRange(0, 16).Draw(rt, "number")]
					case 'U':
						text += pieces[rapid.IntRange(41, len(pieces)-1).Draw(rt, "unit")]
					default:
						text += string(c)
					}
				}
			} else {
				for range rapid.IntRange(1, 7).Draw(rt, "count") {
					text += piece()
				}
			}
			sameReading(rt, read, text)
		}
	})
}

func FuzzReading(f *testing.F) {
	for _, text := range []string{"500 ml", "10 min 30 s", "1 2/3 stop", "1+100", "1 in 100", "68 °F", "3 kJ/kg/K", "1/125 s", "0,5 ml", "20 oz"} {
		f.Add(text)
	}
	read := reader(f)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) < 4000 {
			sameReading(t, read, text)
		}
	})
}
