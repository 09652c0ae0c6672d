package formula_test

import (
	"fmt"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// oneVolume is the scope of a page with one given value, tank.
type oneVolume struct{ slots int }

func (*oneVolume) Symbol(of, name string) (formula.Symbol, bool) {
	unit, _ := quantity.Lookup("ml")
	return formula.Symbol{Kind: quantity.Volume, Unit: unit}, of == "" && name == "tank"
}
func (*oneVolume) Symbols() []string                            { return []string{"tank"} }
func (*oneVolume) Column(string, string) (formula.Column, bool) { return formula.Column{}, false }
func (*oneVolume) Columns(string) []string                      { return nil }
func (*oneVolume) Trade(string) (*formula.Trade, bool)          { return nil, false }
func (*oneVolume) Trades() []string                             { return nil }
func (s *oneVolume) Slot() int                                  { s.slots++; return s.slots }

// A formula is read once and its kinds are inferred once; then it is worked out over plain
// numbers in base units.
func Example() {
	f, _ := formula.Parse("round(tank * dilution(1, 100), 0.1 ml)", nil)
	n, list := formula.Infer(f, &oneVolume{})
	if n == nil {
		fmt.Println(list)
		return
	}
	frame := formula.Frame{V: make([]float64, 1)}
	for _, tank := range []float64{500, 1000} {
		frame.Reset()
		frame.V[0] = tank
		fmt.Println(n.Kind.Name(), n.Eval(&frame))
	}

	f, _ = formula.Parse("tank + 2 min", nil)
	_, list = formula.Infer(f, &oneVolume{})
	fmt.Println(list[0].Code)
	// Output:
	// a volume 5
	// a volume 9.9
	// kinds-differ
}
