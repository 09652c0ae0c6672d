package formula

import (
	"strings"

	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Trade is a function of the formulary: a small named formula in this language. Its
// body is inferred anew at every call, in place, so that both back ends see one tree.
type Trade struct {
	Name   string
	Params []Param
	// Fixed are values that the body knows by name and a caller cannot set.
	Fixed []Fixed
	// Result is the kind that the body must come out as.
	Result Fit
	Body   *Formula
	// Guards are tried in order; the first whose condition holds refuses the case.
	Guards []TradeGuard
	// Windows are the tested windows among the parameters.
	Windows []Window
}

// Param is a parameter of a Trade.
type Param struct {
	Name string
	Fit
	// Owned says that the argument must be the shop's own: see Ownership.
	Owned bool
}

// Fixed is a value that a body knows by name.
type Fixed struct {
	Name  string
	Value quantity.Value
}

// Fit is what kinds a parameter takes, or a result may be. The zero Fit is a plain
// number.
type Fit struct {
	// Kind is one kind. quantity.Any is every kind that can be computed with; money
	// without a code is any currency, the same one throughout a call.
	Kind quantity.Kind
	// Amount keeps temperatures on a scale out of Any: what is scaled has no zero of
	// its own choosing.
	Amount bool
	// Like names a parameter before it whose kind this is; Step makes it the kind of a
	// difference of two such values.
	Like string
	Step bool
}

// TradeGuard is where a function's valid range ends.
type TradeGuard struct {
	// When holds outside the range.
	When *Formula
	// Reason says to the reader which value is outside, and why.
	Reason string
}

// Window says by their numbers which parameter must lie within which two others.
type Window struct{ Value, Lowest, Highest int }

// Words says what a Fit takes, for a message.
func (f Fit) Words() string {
	switch {
	case f.Like != "" && f.Step:
		return "a difference of " + f.Like
	case f.Like != "":
		return "the kind of " + f.Like
	case f.Kind.Sort == quantity.Unknown && f.Amount:
		return "a quantity other than a temperature"
	case f.Kind.Sort == quantity.Unknown:
		return "a quantity"
	case f.Kind.Money != 0 && f.Kind.Currency == "":
		k := f.Kind
		k.Money, k.Currency = 0, ""
		name := "money"
		if f.Kind.Money < 0 {
			name = "something for money"
		}
		if k != quantity.Number {
			name += " (" + strings.Replace(f.sample("USD").Default().Text, "USD", "currency", 1) + ")"
		}
		return name
	}
	return f.Kind.Name()
}

// sample is the kind with a currency put in.
func (f Fit) sample(currency string) quantity.Kind {
	k := f.Kind
	if k.Money != 0 && k.Currency == "" {
		k.Currency = currency
	}
	return k
}

// binding is what the arguments of one call have settled so far.
type binding struct {
	kinds    map[string]quantity.Kind
	currency string
}

// want is the kind that a Fit asks for in this call; quantity.Any where it leaves it
// open.
func (b *binding) want(f Fit) quantity.Kind {
	if f.Like != "" {
		k := b.kinds[f.Like]
		if f.Step {
			k = k.Difference()
		}
		return k
	}
	return f.sample(b.currency)
}

// takes tells whether a kind fits, and learns its currency where that was open.
func (b *binding) takes(f Fit, k quantity.Kind) bool {
	want := b.want(f)
	switch {
	case want.Sort == quantity.Unknown:
		return k.Sort == quantity.Measure || k.Sort == quantity.Point && !f.Amount
	case want.Money != 0 && want.Currency == "" && k.Currency != "":
		open := k
		open.Currency = ""
		if open == want {
			b.currency = k.Currency
			return true
		}
		return false
	}
	return k == want
}

// tradeScope sees the parameters alone, and the other functions of the formulary.
type tradeScope struct {
	Scope
	params map[string]Symbol
}

func (s tradeScope) Symbol(of, name string) (Symbol, bool) {
	v, ok := s.params[name]
	return v, ok && of == ""
}

func (s tradeScope) Symbols() []string {
	var out []string
	for name := range s.params {
		out = append(out, name)
	}
	return out
}

func (s tradeScope) Column(string, string) (Column, bool) { return Column{}, false }
func (s tradeScope) Columns(string) []string              { return nil }

// Form is how a call is written: name(first, second).
func (t *Trade) Form() string {
	var b strings.Builder
	b.WriteString(t.Name)
	b.WriteByte('(')
	for i, p := range t.Params {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(p.Name)
	}
	b.WriteByte(')')
	return b.String()
}

// trade expands a call: each argument is bound once, then the guards, then the body.
func (in *inference) trade(t *Trade, args []ast.Node, start, end, level int) *Node {
	form := t.Form()
	if len(args) != len(t.Params) {
		return in.fail(source.ArgumentCount(t.Name, form, len(args)), start, end)
	}
	scope := tradeScope{Scope: in.scope, params: map[string]Symbol{}}
	settled := &binding{kinds: map[string]quantity.Kind{}}
	var values []*Node
	bad := false
	for i, a := range args {
		x := in.node(a, level+1)
		values = append(values, x)
		p := t.Params[i]
		settled.kinds[p.Name] = x.Kind
		if x.Kind.Sort == quantity.Unknown {
			bad = true
			continue
		}
		if currency := settled.currency; !settled.takes(p.Fit, x.Kind) {
			bad = true
			from, to := extent(x)
			switch {
			case p.Kind.Money != 0 && currency != "" && x.Kind.Currency != "" && x.Kind.Currency != currency:
				in.fail(source.CurrenciesMixed(currency, x.Kind.Currency), from, to)
			case p.Like != "" && settled.want(p.Fit).Sort == quantity.Unknown:
			case p.Like != "":
				in.fail(source.WantsKind(p.Name+" in "+form, settled.want(p.Fit).Name(), x.Kind.Name()), from, to)
			default:
				in.fail(source.WantsKind(p.Name+" in "+form, p.Words(), x.Kind.Name()), from, to)
			}
			continue
		}
		own := x.Ownership()
		if p.Owned && own != Owned {
			bad = true
			from, to := extent(x)
			in.fail(source.ArgumentNotOwned(p.Name, form, in.text(from, to), own == Neutral), from, to)
			continue
		}
		s := Symbol{Kind: x.Kind, Slot: in.scope.Slot(), Ownership: own}
		if u, ok := x.FirstUnit(); ok {
			s.Unit = u
		}
		scope.params[p.Name] = s
	}
	if bad {
		return in.hole(start, end)
	}
	in.windows(t, values)
	for _, f := range t.Fixed {
		scope.params[f.Name] = Symbol{Kind: f.Value.Kind, Slot: in.scope.Slot(), Ownership: Neutral}
	}
	inner := func(f *Formula) *Node {
		n, list := Infer(f, scope)
		if n == nil {
			// entries are tried when they are loaded; with these kinds the body fails
			why := ""
			if len(list) > 0 {
				why = list[0].Message
			}
			in.fail(source.TradeFails(t.Name, why), start, end)
			return nil
		}
		return in.moved(n, start, end)
	}
	body := inner(t.Body)
	if body == nil {
		return in.hole(start, end)
	}
	if !settled.takes(t.Result, body.Kind) {
		words := settled.want(t.Result).Name()
		if t.Result.Like == "" {
			words = t.Result.Words()
		}
		return in.fail(source.TradeResult(t.Name, words, body.Kind.Name()), start, end)
	}
	for i := len(t.Guards) - 1; i >= 0; i-- {
		outside := inner(t.Guards[i].When)
		if outside == nil {
			return in.hole(start, end)
		}
		if outside.Kind != quantity.Yes {
			return in.fail(source.TradeFails(t.Name, source.WantsKind("outside", quantity.Yes.Name(), outside.Kind.Name()).Message), start, end)
		}
		holds := &Node{Op: Not, Kind: quantity.Yes, Args: []*Node{outside}, Start: start, End: end}
		body = &Node{Op: Guard, Kind: body.Kind, Reason: t.Guards[i].Reason, Args: []*Node{holds, body}, Start: start, End: end}
	}
	bind := func(name string, value *Node) {
		body = &Node{Op: Let, Kind: body.Kind, Slot: scope.params[name].Slot, Args: []*Node{value, body}, Start: start, End: end}
	}
	for _, f := range t.Fixed {
		bind(f.Name, &Node{Op: Num, Kind: f.Value.Kind, Value: f.Value.Base, Start: start, End: end})
	}
	for i := len(t.Params) - 1; i >= 0; i-- {
		bind(t.Params[i].Name, values[i])
	}
	return body
}

// MostGrown bounds the parts that bench formulas add to one formula.
const MostGrown = 20_000

// moved copies a tree of another formula to the place of the call, which is what a
// message about it must show. Its own literals lend the caller no unit.
func (in *inference) moved(n *Node, start, end int) *Node {
	if in.grown++; in.grown == MostGrown {
		in.fail(source.FormulaTooLarge(MostGrown), start, end)
	}
	if in.grown >= MostGrown {
		return in.hole(start, end)
	}
	c := *n
	c.Start, c.End = start, end
	if c.Op == Num {
		c.Unit = nil
	}
	c.Args = make([]*Node, len(n.Args))
	for i, a := range n.Args {
		c.Args[i] = in.moved(a, start, end)
	}
	return &c
}

// windows reports a value that may be set beyond its tested window: the case is then
// refused, and a reader meets the refusal at the end of the control.
func (in *inference) windows(t *Trade, values []*Node) {
	for _, w := range t.Windows {
		x := values[w.Value]
		set, okSet := in.ranges[x.Slot]
		low, okLow := in.constant(values[w.Lowest])
		high, okHigh := in.constant(values[w.Highest])
		if x.Op != Var || !okSet || !okLow || !okHigh {
			continue
		}
		if quantity.Less(set[0], low) || quantity.Less(high, set[1]) {
			show := quantity.DefaultShow(x.Kind, unitOf(x))
			text := func(v float64) string { return show.Format(v).Text }
			in.list = append(in.list, in.f.diagnose(source.WiderThanTested(in.text(x.Start, x.End), text(set[0]), text(set[1]), text(low), text(high)), x.Start, x.End))
		}
	}
}

func unitOf(n *Node) quantity.Unit {
	u, _ := n.FirstUnit()
	return u
}

// constant is the value of a literal or of a given that cannot be set.
func (in *inference) constant(n *Node) (float64, bool) {
	switch n.Op {
	case Num:
		return n.Value, true
	case Var:
		r, ok := in.ranges[n.Slot]
		return r[0], ok && r[0] == r[1]
	}
	return 0, false
}
