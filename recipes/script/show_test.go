package script

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"labsite/recipes/prove"
)

// awkward are values near which the form or the rounding changes.
var awkward = []float64{0, 1, -1, 0.5, -0.5, 1.5, 2.5, 0.05, 0.15, 0.25, 0.35, 1.005, 2.675, 9.994, 9.995, 9.996, 99.94, 99.95, 99.96, 999.4, 999.5, 999.6,
	0.9999999999, 0.99999999999999, 1e-12, 1e-9, 1e-7, 4e-4, 1e-15, 1e-16, 59.4, 59.5, 59.94, 59.95, 59.96, 59.999999999, 60, 60.4, 89.5, 119.6, 299.9, 300, 3599.4, 3599.5,
	172799.4, 172799.5, 172800, 86400 * 99.95, 0.4, 0.39999, 1. / 3, 2. / 3, 1. / 101, 1. / 125, 1. / 3000, 0.3, 7.5, 12.5, 17.5, 22.5, 1e3, 1e6, 123456.789, 1e15, 1e16,
	9007199254740993, 1e20, 123456789012345678901, 1e21, 3.7e22, 1e30, 1.7e100, 1e300, -59.96, -0.004, -1e-13, -17.77777777777778, -40, 37.77777777777778, 453.59237, 29.5735295625,
	1000.0000001, 999.9999999999, 10.0000000001, 100.00000001}

// TestShowing compares how values are written, in every form and over values of all sizes. If only a part is
// tested, each form has every fifth value, beginning with another one.
func TestShowing(t *testing.T) {
	t.Parallel()
	r := referee(t)
	random := rand.New(rand.NewPCG(3, 17))
	count, ways := 0, 0
	for kind, shows := range showsOf {
		for _, show := range shows {
			for i, unit := range append([]string{""}, unitsOf[kind]...) {
				if i == 0 && unit == "" && kind != "number" || unit == "EUR" {
					continue
				}
				front := fmt.Sprintf("given:\n  x: {value: 1 %s, from: 0 %s, to: 2 %s}\nfigures:\n  y: {formula: x", unit, unit, unit)
				if show != "" {
					front += ", show: " + show
				}
				p := Page{Sheet: pageOf(t, front+"}\n  z: x > x\n")}
				js, err := p.Emit()
				if err != nil {
					t.Fatal(err)
				}
				trial, err := r.Load(js)
				if err != nil {
					t.Fatal(err)
				}
				factor := p.Sheet.Given[0].Value.Unit.Factor
				try := func(base float64) {
					// beyond that, a multiple of a step is not finite
					if math.Abs(base) > 1e290 || t.Failed() {
						return
					}
					count++
					c := prove.NewCase(p.Sheet)
					c.Set(p.Sheet.Given[0], base)
					c.Work()
					got, err := trial.At([]float64{base})
					if err != nil {
						t.Fatalf("%s at %g: %v", front, base, err)
					}
					if what, want, found := p.Differ(p.ByGo(c), got); what != "" {
						t.Errorf("%s at %.17g: %s\nin Go:     %s\nin script: %s", front, base, what, want, found)
					}
				}
				ways++
				for i := ways % nth(); i < len(awkward); i += nth() {
					try(awkward[i])
					try(awkward[i] * factor)
				}
				for range max(1, 20/nth()) {
					try((random.Float64() - 0.2) * math.Pow(10, float64(random.IntN(12)-5)))
					try(float64(random.IntN(4000)) / 8 * factor)
				}
			}
		}
	}
	t.Logf("%d values", count)
}
