package quantity

import (
	_ "embed"
	"fmt"
	"math/big"
	"slices"
	"strings"
)

//go:embed units.txt
var unitLines string

//go:embed currencies.txt
var currencyLines string

// Unit is one unit or several joined.
type Unit struct {
	// Text is the unit as it is shown: "ml", "g/L", "m²". It is empty for a plain
	// number.
	Text string
	Kind Kind
	// Factor is the number of base units in one; Zero is the base value at the
	// unit's own zero, 0 except for temperatures on a scale.
	Factor, Zero float64
	// Decimals is the number of decimals of a currency's minor unit; -1 for all else.
	Decimals int

	exact, zero *big.Rat
}

// Entry is a line of the table of units, for people who look units up.
type Entry struct {
	Unit
	Name   string
	Also   []string
	Source string
	// Exactly is the factor as a fraction of the base unit.
	Exactly string
}

type table struct {
	entries []Entry
	byName  map[string]Unit
	byLower map[string][]string
	names   []string // for the nearest name
}

var units = load()

func load() *table {
	t := &table{byName: map[string]Unit{}, byLower: map[string][]string{}}
	for line := range strings.Lines(unitLines) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		f := strings.Split(line, "|")
		if len(f) != 4 {
			panic("units.txt: " + line)
		}
		for i := range f {
			f[i] = strings.TrimSpace(f[i])
		}
		name, shown, hasShown := strings.Cut(f[0], " shown ")
		plural := ""
		if i := strings.IndexByte(name, '('); i > 0 {
			name, plural = name[:i], name[:i]+strings.Trim(name[i:], "()")
		}
		u := t.define(name, f[2])
		u.Text = name
		if hasShown {
			u.Text = shown
		}
		e := Entry{Unit: u, Name: name, Also: strings.Fields(f[1]), Source: f[3], Exactly: u.exact.RatString()}
		t.entries = append(t.entries, e)
		t.add(name, u)
		for _, also := range e.Also {
			t.add(also, u)
		}
		if plural != "" {
			t.add(plural, u)
		}
	}
	for line := range strings.Lines(currencyLines) {
		f := strings.Fields(line)
		if len(f) == 0 || f[0] == "#" {
			continue
		}
		for _, code := range f[1:] {
			u := Unit{Text: code, Kind: Kind{Money: 1, Currency: code}, Factor: 1, Decimals: int(f[0][0] - '0'),
				exact: big.NewRat(1, 1), zero: new(big.Rat)}
			t.entries = append(t.entries, Entry{Unit: u, Name: code, Source: "ISO 4217, from memory", Exactly: "1"})
			t.add(code, u)
		}
	}
	slices.Sort(t.names)
	return t
}

func (t *table) add(name string, u Unit) {
	t.byName[name] = u
	low := strings.ToLower(name)
	t.byLower[low] = append(t.byLower[low], name)
	t.names = append(t.names, name)
}

// define reads a definition of units.txt. It panics on a mistake: the file is part of the
// program, and its tests find one.
func (t *table) define(name, text string) Unit {
	u := Unit{Factor: 1, Decimals: -1, exact: big.NewRat(1, 1), zero: new(big.Rat)}
	if text == "base" {
		u.Kind = map[string]Kind{"cm": Length, "g": Mass, "s": Time, "mol": Amount, "K": Degree, "stop": Stops}[name]
		return u
	}
	point := strings.HasPrefix(text, "point ")
	text = strings.TrimPrefix(text, "point ")
	text, zero, _ := strings.Cut(text, " from ")
	factor, unit, _ := strings.Cut(text, " ")
	if _, ok := u.exact.SetString(factor); !ok {
		panic("units.txt: " + name)
	}
	if unit != "" {
		of, n, ok := t.read(unit)
		if !ok || n != len(unit) {
			panic("units.txt: " + name + ": " + unit)
		}
		u.Kind = of.Kind
		u.exact.Mul(u.exact, of.exact)
	}
	if point {
		u.Kind.Sort = Point
		u.zero.SetString(zero)
		u.Zero, _ = u.zero.Float64()
	}
	u.Factor, _ = u.exact.Float64()
	return u
}

// Lookup finds a single unit by any of its spellings.
func Lookup(name string) (Unit, bool) {
	u, ok := units.byName[name]
	return u, ok
}

// IsUnit reports whether a name is one of a unit's spellings.
func IsUnit(name string) bool {
	_, ok := units.byName[name]
	return ok
}

// Entries lists all units in the order of the table, currencies last.
func Entries() []Entry { return slices.Clone(units.entries) }

// ReadUnit reads a unit, single or joined, from the start of text, as far as it
// goes without a space, and gives its length in bytes. A name before "(" is a
// function's and ends the unit before it.
func ReadUnit(text string) (u Unit, n int, ok bool) { return units.read(text) }

func must(text string) Unit {
	u, n, ok := units.read(text)
	if !ok || n != len(text) {
		panic(fmt.Sprintf("quantity: no unit %q", text))
	}
	return u
}

// Base turns a number of this unit into base units.
func (u Unit) Base(v float64) float64 { return v*u.Factor + u.Zero }

// Of turns base units into a number of this unit.
func (u Unit) Of(base float64) float64 { return (base - u.Zero) / u.Factor }

// BaseUnit names the base unit that values of a kind are kept in: "cm3", "g", "g*cm2/s2".
func BaseUnit(k Kind) string {
	switch k {
	case Scale:
		return "°C"
	case Date:
		return ""
	}
	text := ""
	add := func(name string, p int) {
		if p == 0 {
			return
		}
		sign := "*"
		if p < 0 {
			sign, p = "/", -p
		}
		if text == "" && sign == "*" {
			sign = ""
		}
		text += sign + name
		if p > 1 {
			text += string('0' + rune(p))
		}
	}
	for i, name := range [8]string{k.Currency, "g", "mol", "cm", "K", "stop", "s", k.Other} {
		add(name, int(k.powers()[i]))
	}
	for part := range strings.FieldsSeq(k.Counts) {
		add(countPower(part))
	}
	return text
}
