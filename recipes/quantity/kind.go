package quantity

import (
	"math/big"
	"slices"
	"strconv"
	"strings"
)

// Sort distinguishes kinds of equal dimensions.
type Sort uint8

const (
	// Measure is an amount of something: it adds, subtracts and scales.
	Measure Sort = iota
	// Point is a temperature on a scale or a date: all that two of them do is subtract.
	Point
	// YesNo is a truth value.
	YesNo
	// Word is a text.
	Word
	// Unknown is the kind of something already reported as wrong; it fits everywhere.
	Unknown
)

// Kind is what a value is of: powers of the base kinds, and a sort. Kinds are
// compared with ==.
type Kind struct {
	Length, Mass, Time, Amount, Degree, Stop, Money int8
	// Currency is an ISO 4217 code, set where Money is not 0.
	Currency string
	// Other and OtherMoney are a second currency and its power, as in a rate of exchange
	// (USD/GBP): the later code of the two, and of the opposite sign.
	Other      string
	OtherMoney int8
	// Counts are powers of counted things, in the order of their words: "roll-1 sheet1".
	Counts string
	Sort   Sort
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
	Date     = Kind{Time: 1, Sort: Point}
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
	Scale: "a temperature", Date: "a date", Stops: "stops", Pressure: "a pressure", Energy: "an energy",
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
	if name, power := k.counted(); power == 1 && k == (Kind{Counts: k.Counts}) {
		return "a count of " + several(name)
	}
	return "a quantity in " + k.Default().Text
}

// IsCount reports whether the kind is a number of one counted thing: 3 bottles.
func (k Kind) IsCount() bool {
	_, power := k.counted()
	return power == 1 && k == Kind{Counts: k.Counts}
}

// counted is the one counted thing of a kind and its power, which is 0 if it has none or more
// than one.
func (k Kind) counted() (name string, power int) {
	if k.Counts == "" || strings.Contains(k.Counts, " ") {
		return "", 0
	}
	return countPower(k.Counts)
}

// KindIn is Name, except that a kind without a name of its own is described by the unit in use, if
// that is of the kind.
func KindIn(k Kind, unit Unit) string {
	name := k.Name()
	if unit.Kind == k && unit.Text != "" && name == "a quantity in "+k.Default().Text {
		return "a quantity in " + unit.Text
	}
	return name
}

// Times is the kind of a product, Over of a quotient; ok is false if two currencies are multiplied
// or three joined, stops multiply stops, a point, a text or a yes/no takes part, or a power
// leaves the range of -9 to 9.
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
	r := Kind{
		Length: k.Length + sign*o.Length, Mass: k.Mass + sign*o.Mass, Time: k.Time + sign*o.Time,
		Amount: k.Amount + sign*o.Amount, Degree: k.Degree + sign*o.Degree, Stop: k.Stop + sign*o.Stop,
	}
	fits := true
	if k.Counts != "" || o.Counts != "" {
		r.Counts, fits = joinCounts(k.Counts, o.Counts, int(sign))
	}
	return r, fits && r.joinMoney(k, o, sign) && r.bounded()
}

// joinMoney joins the currencies of two kinds. One may be divided by another, as in a rate of
// exchange; a product of two means nothing.
func (k *Kind) joinMoney(a, b Kind, sign int8) bool {
	if a.Other == "" && b.Other == "" && (a.Money == 0 || b.Money == 0 || a.Currency == "" || b.Currency == "" || a.Currency == b.Currency) {
		if k.Money = a.Money + sign*b.Money; k.Money != 0 {
			if k.Currency = a.Currency; a.Currency == "" {
				k.Currency = b.Currency
			}
		}
		return true
	}
	powers := map[string]int8{}
	powers[a.Currency] += a.Money
	powers[a.Other] += a.OtherMoney
	powers[b.Currency] += sign * b.Money
	powers[b.Other] += sign * b.OtherMoney
	var codes []string
	for code, power := range powers {
		if power != 0 {
			codes = append(codes, code)
		}
	}
	slices.Sort(codes)
	switch len(codes) {
	case 0:
		return true
	case 1:
		k.Currency, k.Money = codes[0], powers[codes[0]]
		return true
	case 2:
		k.Currency, k.Money = codes[0], powers[codes[0]]
		k.Other, k.OtherMoney = codes[1], powers[codes[1]]
		return (k.Money > 0) != (k.OtherMoney > 0)
	}
	return false
}

func (k Kind) bounded() bool {
	for _, p := range k.powers() {
		if p < -9 || p > 9 {
			return false
		}
	}
	return k.Stop >= -1 && k.Stop <= 1
}

func (k Kind) powers() [8]int8 {
	return [8]int8{k.Money, k.Mass, k.Amount, k.Length, k.Degree, k.Stop, k.Time, k.OtherMoney}
}

// Power is the kind raised to a whole power.
func (k Kind) Power(n int) (Kind, bool) {
	if k.Sort == Unknown {
		return Any, true
	}
	if k.Sort != Measure || n < -9 || n > 9 {
		return Kind{}, k == Number
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
		Degree: k.Degree / 2, Stop: k.Stop / 2, Money: k.Money / 2, Currency: k.Currency,
		OtherMoney: k.OtherMoney / 2, Other: k.Other}
	var halves []string
	for part := range strings.FieldsSeq(k.Counts) {
		name, power := countPower(part)
		if power%2 != 0 {
			return Kind{}, false
		}
		halves = append(halves, name+strconv.Itoa(power/2))
	}
	r.Counts = strings.Join(halves, " ")
	return r, true
}

// Difference is the kind of a difference of two values of this kind: for a point
// the temperature difference or, between dates, the time; for everything else the kind
// itself.
func (k Kind) Difference() Kind {
	if k.Sort == Point {
		k.Sort = Measure
	}
	return k
}

// IsPoint reports whether values of the kind are points, of a scale or of the calendar: all that
// two of them do is subtract, which gives the kind of Difference.
func (k Kind) IsPoint() bool { return k.Sort == Point }

// Default is the unit that a value of this kind is shown in if its formula names
// none: ml, mm, m², g, mol, K, stop, the currency, and these joined.
func (k Kind) Default() Unit {
	switch k {
	case Number, Yes, Text, Any:
		return Unit{Factor: 1, Kind: k, Decimals: -1, exact: big.NewRat(1, 1), zero: new(big.Rat)}
	case Scale:
		return must("°C")
	case Date:
		return dateUnit
	case Pressure:
		return must("kPa")
	case Energy:
		return must("J")
	case Power:
		return must("W")
	}
	var p product
	p.add(k.Money, k.Currency)
	p.add(k.OtherMoney, k.Other)
	for counted := range strings.FieldsSeq(k.Counts) {
		name, power := countPower(counted)
		p.add(int8(power), name)
	}
	p.add(k.Mass, "g")
	p.add(k.Amount, "mol")
	switch n := k.Length; {
	case n%3 == 0:
		p.add(n/3, "ml")
	case n == 2 || n == -2:
		p.add(n, "m")
	default:
		p.add(n, "mm")
	}
	p.add(k.Degree, "K")
	p.add(k.Stop, "stop")
	p.add(k.Time, "s")
	return must(p.text())
}

// product is a unit made of others, written as a fraction.
type product struct{ over, under []string }

// add multiplies by a power of a unit, 0 for none of it.
func (p *product) add(power int8, name string) {
	list := &p.over
	if power < 0 {
		list, power = &p.under, -power
	}
	switch {
	case power == 0:
		return
	case power > 1:
		name += string('0' + rune(power))
	}
	*list = append(*list, name)
}

func (p *product) text() string {
	text := strings.Join(p.over, "*")
	for _, u := range p.under {
		text += "/" + u
	}
	return text
}
