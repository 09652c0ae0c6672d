package theme

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/dop251/goja"

	"labsite/recipes/quantity"
	"labsite/themes"
)

// bareDocument is as much of a page as measure.js needs when it is loaded.
const bareDocument = `
var localStorage = { getItem: () => null, setItem() {} };
var document = { querySelector: (s) => s === "main" ? { querySelectorAll: () => [] } : null, addEventListener() {}, dispatchEvent() {} };
var addEventListener = () => {};
`

// What readers see in the other system is the same amount by the table of units: to three digits, or to a
// tenth for a temperature on a scale.
func TestExchangesInScript(t *testing.T) {
	raw, err := themes.Files.ReadFile(MeasureFile)
	if err != nil {
		t.Fatal(err)
	}
	published := Slim(MeasureFile, withExchanges(raw))
	shown := map[string]func(string) string{}
	for _, system := range []string{"us", "metric"} {
		vm := goja.New()
		// a reader who has chosen a system sees it, whichever one the page uses
		if _, err := vm.RunString(strings.Replace(bareDocument, "null, set", fmt.Sprintf("%q, set", system), 1) + string(published)); err != nil {
			t.Fatal(err)
		}
		// a field writes "fl oz", as people do
		asked, err := vm.RunString(`(text) => measure.read(measure.field(text))`)
		if err != nil {
			t.Fatal(err)
		}
		field, _ := goja.AssertFunction(asked)
		shown[system] = func(text string) string {
			v, err := field(goja.Undefined(), vm.ToValue(text))
			if err != nil {
				t.Fatal(err)
			}
			return v.String()
		}
	}
	for _, e := range quantity.Exchanges() {
		for _, u := range e.From {
			for _, number := range []float64{0.25, 1, 7.5, 20, 99.5, 480, 2000, 12345, -3} {
				text := strings.TrimSpace(fmt.Sprint(number) + " " + u.Text)
				got := shown[e.System](text)
				v, trouble := quantity.Parse(got)
				if trouble != nil || got == text {
					t.Errorf("%s is shown as %q", text, got)
					continue
				}
				base, near := u.Base(number), math.Abs(u.Base(number))*0.005
				if u.Zero != v.Unit.Zero {
					near = 0.051 * v.Unit.Factor
				}
				if v.Kind != u.Kind || math.Abs(v.Base-base) > near {
					t.Errorf("%s is shown as %s, which is off by %v", text, got, v.Base-base)
				}
				for _, to := range e.To {
					if to.Text == v.Unit.Text && math.Abs(base) < to.Least {
						t.Errorf("%s is shown as %s", text, got)
					}
				}
			}
		}
	}
}
