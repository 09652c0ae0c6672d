// Package quantity knows numbers with units: their kinds, the units themselves
// (data, in units.txt), how a person writes them, how exactly they convert, and
// how they are shown again.
//
// It knows no formulas and no pages. Inside the program a quantity is a float64
// in the base unit of its kind (centimetre, gram, second, mole, kelvin, stop, the
// currency, and what these make when joined; a temperature on a scale is kept in
// degrees Celsius), so that everything after reading is plain arithmetic.
package quantity

import (
	"math/big"
	"strings"
)

// Sort tells apart what dimensions alone do not.
type Sort uint8

const (
	// Measure is an amount of something: it adds, subtracts and scales.
	Measure Sort = iota
	// Point is a temperature on a scale: two of them subtract, nothing else.
	Point
	// YesNo is a truth value.
	YesNo
	// Word is a text.
	Word
	// Unknown is the kind of something already reported; it fits everywhere.
	Unknown
)

// Kind is what a value is of: powers of the base kinds, and a sort. Kinds are
// compared with ==.
type Kind struct {
	Length, Mass, Time, Amount, Degree, Stop, Money int8
	// Currency is an ISO 4217 code, set where Money is not 0.
	Currency string
	Sort     Sort
}

// Kinds that have a name.
var (
	Number   = Kind{}
	Length   = Kind{Length: 1}
	Area     = Kind{Length: 2}
	Volume   = Kind{Length: 3}
	Mass     = Kind{Mass: 1}
	Time     = Kind{Time: 1}
	Amount   = Kind{Amount: 1}
	Degree   = Kind{Degree: 1}
	Scale    = Kind{Degree: 1, Sort: Point}
	Stops    = Kind{Stop: 1}
	Pressure = Kind{Mass: 1, Length: -1, Time: -2}
	Energy   = Kind{Mass: 1, Length: 2, Time: -2}
	Power    = Kind{Mass: 1, Length: 2, Time: -3}
	Yes      = Kind{Sort: YesNo}
	Text     = Kind{Sort: Word}
	Any      = Kind{Sort: Unknown}
)

var kindNames = map[Kind]string{
	Number: "a plain number", Length: "a length", Area: "an area", Volume: "a volume", Mass: "a mass",
	Time: "a time", Amount: "an amount of substance", Degree: "a temperature difference",
	Scale: "a temperature", Stops: "stops", Pressure: "a pressure", Energy: "an energy",
	Power: "a power", Yes: "yes or no", Text: "a text",
}

// Name is the kind in words for a message: "a volume", "USD", "g/ml".
func (k Kind) Name() string {
	if n, ok := kindNames[k]; ok {
		return n
	}
	if k.Sort == Unknown {
		return "unknown"
	}
	if k == (Kind{Money: 1, Currency: k.Currency}) {
		return "money in " + k.Currency
	}
	return "a quantity in " + k.Default().Text
}

// Times is the kind of a product, Over of a quotient; ok is false where one
// expression would mix currencies, stops would multiply stops, a point, a text or
// a yes/no takes part, or a power leaves the range of -9 to 9.
func (k Kind) Times(o Kind) (Kind, bool) { return k.join(o, 1) }

// Over is the kind of a quotient; see Times.
func (k Kind) Over(o Kind) (Kind, bool) { return k.join(o, -1) }

func (k Kind) join(o Kind, sign int8) (Kind, bool) {
	if k.Sort == Unknown || o.Sort == Unknown {
		return Any, true
	}
	if k.Sort != Measure || o.Sort != Measure {
		return Kind{}, false
	}
	if k.Money != 0 && o.Money != 0 && k.Currency != o.Currency {
		return Kind{}, false
	}
	r := Kind{
		Length: k.Length + sign*o.Length, Mass: k.Mass + sign*o.Mass, Time: k.Time + sign*o.Time,
		Amount: k.Amount + sign*o.Amount, Degree: k.Degree + sign*o.Degree, Stop: k.Stop + sign*o.Stop,
		Money: k.Money + sign*o.Money,
	}
	if r.Money != 0 {
		r.Currency = k.Currency + o.Currency
		if k.Currency != "" && o.Currency != "" {
			r.Currency = k.Currency
		}
	}
	return r, r.bounded()
}

func (k Kind) bounded() bool {
	for _, p := range k.powers() {
		if p < -9 || p > 9 {
			return false
		}
	}
	return k.Stop >= -1 && k.Stop <= 1
}

func (k Kind) powers() [7]int8 {
	return [7]int8{k.Money, k.Mass, k.Amount, k.Length, k.Degree, k.Stop, k.Time}
}

// Power is the kind raised to a whole power.
func (k Kind) Power(n int) (Kind, bool) {
	if k.Sort == Unknown {
		return Any, true
	}
	if k.Sort != Measure || n < -9 || n > 9 {
		return Kind{}, k == Number && k.Sort == Measure
	}
	r := Number
	step := k
	if n < 0 {
		step, _ = Number.Over(k)
		n = -n
	}
	for range n {
		var ok bool
		if r, ok = r.Times(step); !ok {
			return Kind{}, false
		}
	}
	return r, true
}

// Root is the kind whose square this is, where there is one.
func (k Kind) Root() (Kind, bool) {
	if k.Sort == Unknown {
		return Any, true
	}
	if k.Sort != Measure {
		return Kind{}, false
	}
	for _, p := range k.powers() {
		if p%2 != 0 {
			return Kind{}, false
		}
	}
	r := Kind{Length: k.Length / 2, Mass: k.Mass / 2, Time: k.Time / 2, Amount: k.Amount / 2,
		Degree: k.Degree / 2, Stop: k.Stop / 2, Money: k.Money / 2, Currency: k.Currency}
	return r, true
}

// Difference is the kind of a difference of two values of this kind: for a point
// the temperature difference, for everything else the kind itself.
func (k Kind) Difference() Kind {
	if k.Sort == Point {
		k.Sort = Measure
	}
	return k
}

// Default is the unit a value of this kind is shown in where its formula names
// none: ml, mm, m², g, mol, K, stop, the currency, and these joined.
func (k Kind) Default() Unit {
	switch k {
	case Number, Yes, Text, Any:
		return Unit{Factor: 1, Kind: k, Decimals: -1, exact: big.NewRat(1, 1), zero: new(big.Rat)}
	case Scale:
		return must("°C")
	case Pressure:
		return must("kPa")
	case Energy:
		return must("J")
	case Power:
		return must("W")
	}
	var over, under []string
	part := func(power int8, names ...string) {
		list := &over
		if power < 0 {
			list, power = &under, -power
		}
		name := names[0]
		if power > 1 {
			name += string('0' + rune(power))
		}
		*list = append(*list, name)
	}
	if k.Money != 0 {
		part(k.Money, k.Currency)
	}
	if k.Mass != 0 {
		part(k.Mass, "g")
	}
	if k.Amount != 0 {
		part(k.Amount, "mol")
	}
	switch n := k.Length; {
	case n == 0:
	case n%3 == 0:
		part(n/3, "ml")
	case n == 2 || n == -2:
		part(n, "m")
	default:
		part(n, "mm")
	}
	if k.Degree != 0 {
		part(k.Degree, "K")
	}
	if k.Stop != 0 {
		part(k.Stop, "stop")
	}
	if k.Time != 0 {
		part(k.Time, "s")
	}
	text := strings.Join(over, "*")
	for _, u := range under {
		text += "/" + u
	}
	return must(text)
}
