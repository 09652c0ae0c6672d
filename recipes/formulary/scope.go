package formulary

import (
	"maps"
	"slices"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

// entryScope resolves names for formulas outside any page: those of an entry, of a
// check, of a trial.
type entryScope struct {
	set     *Set
	also    *Entry // one that is not of the set yet
	symbols map[string]formula.Symbol
	columns map[string]formula.Column
	slots   int
}

func (s *entryScope) bind(name string, kind quantity.Kind, own formula.Ownership) {
	s.symbols[name] = formula.Symbol{Kind: kind, Slot: s.Slot(), Ownership: own}
}

// owned gives the symbols with all of them owned.
func (s *entryScope) owned() map[string]formula.Symbol {
	out := maps.Clone(s.symbols)
	for name, symbol := range out {
		symbol.Ownership = formula.Owned
		out[name] = symbol
	}
	return out
}

func (s *entryScope) Symbol(of, name string) (formula.Symbol, bool) {
	v, ok := s.symbols[name]
	return v, ok && of == ""
}

func (s *entryScope) Symbols() []string { return slices.Sorted(maps.Keys(s.symbols)) }

// trialFile is the one name that a trial's columns are under.
const trialFile = "table"

func (s *entryScope) Column(file, name string) (formula.Column, bool) {
	c, ok := s.columns[name]
	return c, ok && file == trialFile
}

func (s *entryScope) Columns(file string) []string {
	switch {
	case len(s.columns) == 0:
		return nil
	case file == "":
		return []string{trialFile}
	case file == trialFile:
		return slices.Sorted(maps.Keys(s.columns))
	}
	return nil
}

func (s *entryScope) Trade(name string) (*formula.Trade, bool) {
	if s.also != nil && s.also.Name == name {
		return s.also.trade, true
	}
	return s.set.Trade(name)
}

func (s *entryScope) Trades() []string { return s.set.names }

func (s *entryScope) Slot() int {
	s.slots++
	return s.slots - 1
}
