package formula

import (
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// prelude is a small abstract page: a and b are two kinds without a name of their own
// in these tests, everything else is a kind with rules of its own.
//
//	n number   a, b measures   c = a·b   p point   d difference   s stops
//	u, e two currencies   y yes/no   w text with choices   z unknown, reported elsewhere
var prelude = map[string]Symbol{
	"n": {Kind: quantity.Number},
	"a": {Kind: quantity.Mass, Unit: unit("kg")},
	"b": {Kind: quantity.Time, Unit: unit("min")},
	"c": {Kind: quantity.Kind{Mass: 1, Time: 1}},
	"p": {Kind: quantity.Scale, Unit: unit("°C")},
	"d": {Kind: quantity.Degree, Unit: unit("K")},
	"s": {Kind: quantity.Stops, Unit: unit("stop")},
	"u": {Kind: quantity.Kind{Money: 1, Currency: "USD"}, Unit: unit("USD")},
	"e": {Kind: quantity.Kind{Money: 1, Currency: "EUR"}, Unit: unit("EUR")},
	"y": {Kind: quantity.Yes},
	"w": {Kind: quantity.Text, Words: []string{"roll", "sheet"}},
	"v": {Kind: quantity.Text, Words: []string{"sheet", "roll"}},
	"z": {Kind: quantity.Any},

	// names of an ordinary page, for tests that read better with them
	"tank":   {Kind: quantity.Volume, Unit: unit("ml")},
	"rolls":  {Kind: quantity.Number},
	"bath":   {Kind: quantity.Scale, Unit: unit("°C")},
	"area":   {Kind: quantity.Area, Unit: unit("m2")},
	"rate":   {Kind: quantity.Kind{Length: 1}, Unit: unit("ml/m2")},
	"syrup":  {Kind: quantity.Volume, Unit: unit("fl_oz")},
	"time":   {Kind: quantity.Time, Unit: unit("min")},
	"film":   {Kind: quantity.Text, Words: []string{"roll", "sheet", "disc"}},
	"fast":   {Kind: quantity.Yes},
	"length": {Kind: quantity.Length, Unit: unit("cm")},
}

var preludeNames = []string{"n", "a", "b", "c", "p", "d", "s", "u", "e", "y", "w", "v", "z",
	"tank", "rolls", "bath", "area", "rate", "syrup", "time", "film", "fast", "length"}

func unit(text string) quantity.Unit {
	u, n, ok := quantity.ReadUnit(text)
	if !ok || n != len(text) {
		panic(text)
	}
	return u
}

// testScope resolves the prelude, a page drawn on (mix) and a data file (times).
type testScope struct{ slots int }

func newScope() *testScope { return &testScope{slots: len(preludeNames)} }

func slotOf(name string) int {
	for i, n := range preludeNames {
		if n == name {
			return i
		}
	}
	return -1
}

func (t *testScope) Symbol(of, name string) (Symbol, bool) {
	if of == "mix" {
		if name == "syrup" || name == "film" {
			of = ""
		}
	}
	s, ok := prelude[name]
	s.Slot = slotOf(name)
	return s, ok && of == ""
}

func (t *testScope) Symbols() []string {
	return append([]string{"mix.syrup", "mix.film"}, preludeNames...)
}

// times is a table of development times: two films, two temperatures, and a rising x.
var times = map[string]Column{
	"film":    {Kind: quantity.Text, Words: []string{"sheet", "roll"}, Cells: []float64{1, 1, 0, 0}},
	"bath":    {Kind: quantity.Scale, Unit: unit("°C"), Cells: []float64{18, 20, 18, 20}},
	"minutes": {Kind: quantity.Time, Unit: unit("min"), Cells: []float64{660, 600, 540, 480}},
	"x":       {Kind: quantity.Number, Cells: []float64{1, 2, 4, 8}},
	"y":       {Kind: quantity.Volume, Unit: unit("ml"), Cells: []float64{10, 100, 1000, 10000}},
	"zero":    {Kind: quantity.Number, Cells: []float64{0, 1, 2, 3}},
}

var other = map[string]Column{
	"x": {Kind: quantity.Number, Cells: []float64{1, 2}},
	"y": {Kind: quantity.Number, Cells: []float64{3, 4}},
}

func (t *testScope) Column(file, name string) (Column, bool) {
	columns := map[string]map[string]Column{"times": times, "other": other}[file]
	c, ok := columns[name]
	c.File, c.Name, c.Table = file+".csv", name, file
	for i := range c.Cells {
		c.Lines = append(c.Lines, i+2)
	}
	return c, ok
}

func (t *testScope) Columns(file string) []string {
	var out []string
	columns := map[string]map[string]Column{"times": times, "other": other}[file]
	if file == "" {
		return []string{"times", "other"}
	}
	for name := range columns {
		out = append(out, name)
	}
	return out
}

func (t *testScope) Trade(string) (*Trade, bool) { return nil, false }
func (t *testScope) Trades() []string            { return nil }
func (t *testScope) Slot() int                   { t.slots++; return t.slots - 1 }

// infer parses and infers a formula that is alone in a file.
func infer(text string) (*Node, source.List) {
	file, list := source.New("test", []byte(text))
	if len(list) > 0 {
		return nil, list
	}
	f, list := Parse(file.Text, file.Span)
	if f == nil {
		return nil, list
	}
	n, more := Infer(f, newScope())
	return n, append(list, more...)
}

// value works a formula out with the values given by name; the fault is none if all
// is well.
func value(text string, values map[string]float64) (float64, FaultKind, source.List) {
	file, _ := source.New("test", []byte(text))
	f, list := Parse(file.Text, file.Span)
	if f == nil {
		return 0, None, list
	}
	scope := newScope()
	n, list := Infer(f, scope)
	if n == nil {
		return 0, None, list
	}
	frame := Frame{V: make([]float64, scope.slots)}
	for name, v := range values {
		frame.V[slotOf(name)] = v
	}
	v := n.Eval(&frame)
	return v, frame.Fault, nil
}

func codes(list source.List) string {
	var out []string
	for _, d := range list {
		out = append(out, d.Code)
	}
	return strings.Join(out, " ")
}
