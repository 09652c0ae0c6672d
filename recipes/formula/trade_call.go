package formula

import (
	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// tradeScope sees only the parameters and the other functions of the formulary.
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

// tradeCall is one call of a bench formula that is being expanded.
type tradeCall struct {
	*inference
	trade      *Trade
	scope      tradeScope
	settled    *binding
	values     []*Node
	start, end int
}

// trade expands a call: each argument is bound once, then the guards, then the body.
func (in *inference) trade(t *Trade, args []ast.Node, start, end, level int) *Node {
	if len(args) != len(t.Params) {
		return in.fail(source.ArgumentCount(t.Name, t.Form(), len(args)), start, end)
	}
	c := &tradeCall{inference: in, trade: t, scope: tradeScope{Scope: in.scope, params: map[string]Symbol{}},
		settled: &binding{kinds: map[string]quantity.Kind{}}, start: start, end: end}
	fits := true
	for i, a := range args {
		x := in.node(a, level+1)
		c.values = append(c.values, x)
		fits = c.argument(t.Params[i], x) && fits
	}
	if !fits {
		return in.hole(start, end)
	}
	in.windows(t, c.values)
	for _, f := range t.Fixed {
		c.scope.params[f.Name] = Symbol{Kind: f.Value.Kind, Slot: in.scope.Slot(), Ownership: Neutral}
	}
	body := c.body()
	if body != nil {
		body = c.guarded(body)
	}
	if body == nil {
		return in.hole(start, end)
	}
	return c.bound(body)
}

// argument checks a value against its parameter, and gives the parameter a slot.
func (c *tradeCall) argument(p Param, x *Node) bool {
	c.settled.kinds[p.Name] = x.Kind
	if x.Kind.Sort == quantity.Unknown {
		return false
	}
	form := c.trade.Form()
	from, to := x.Extent()
	if currency := c.settled.currency; !c.settled.takes(p.Fit, x.Kind) {
		switch {
		case p.Kind.Money != 0 && currency != "" && x.Kind.Currency != "" && x.Kind.Currency != currency:
			c.fail(source.CurrenciesMixed(currency, x.Kind.Currency), from, to)
		case p.Like != "" && c.settled.want(p.Fit).Sort == quantity.Unknown:
		case p.Like != "":
			c.fail(source.WantsKind(p.Name+" in "+form, c.settled.want(p.Fit).Name(), x.KindName()), from, to)
		default:
			c.fail(source.WantsKind(p.Name+" in "+form, p.Words(), x.KindName()), from, to)
		}
		return false
	}
	own := x.Ownership()
	if p.Owned && own != Owned {
		c.fail(source.ArgumentNotOwned(p.Name, form, c.text(from, to), own == Neutral), from, to)
		return false
	}
	s := Symbol{Kind: x.Kind, Slot: c.inference.scope.Slot(), Ownership: own}
	_, s.Lens = x.lens()
	if u, ok := x.FirstUnit(); ok {
		s.Unit = u
	}
	c.scope.params[p.Name] = s
	return true
}

// inner infers a formula of the entry with these arguments; it reports a failure and gives
// nil. Entries were tried with every kind when they were loaded, so this is rare.
func (c *tradeCall) inner(f *Formula) *Node {
	n, list := Infer(f, c.scope)
	if n == nil {
		why := ""
		if len(list) > 0 {
			why = list[0].Message
		}
		c.fail(source.TradeFails(c.trade.Name, why), c.start, c.end)
		return nil
	}
	return c.moved(n, c.start, c.end)
}

// body is the entry's formula, of the kind that the entry gives.
func (c *tradeCall) body() *Node {
	body := c.inner(c.trade.Body)
	if body == nil {
		return nil
	}
	result := c.trade.Result
	if !c.settled.takes(result, body.Kind) {
		words := c.settled.want(result).Name()
		if result.Like == "" {
			words = result.Words()
		}
		return c.refused(source.TradeResult(c.trade.Name, words, body.Kind.Name()))
	}
	return body
}

func (c *tradeCall) refused(p source.Problem) *Node {
	c.fail(p, c.start, c.end)
	return nil
}

// guarded sets the guards around the body, the first outermost.
func (c *tradeCall) guarded(body *Node) *Node {
	guards := c.trade.Guards
	for i := len(guards) - 1; i >= 0; i-- {
		outside := c.inner(guards[i].When)
		if outside == nil {
			return nil
		}
		if outside.Kind != quantity.Yes {
			return c.refused(source.TradeFails(c.trade.Name, source.WantsKind("outside", quantity.Yes.Name(), outside.Kind.Name()).Message))
		}
		holds := &Node{Op: Not, Kind: quantity.Yes, Args: []*Node{outside}, Start: c.start, End: c.end}
		body = Guard.kinds(c.inference, &Node{Op: Guard, Reason: guards[i].Reason, Args: []*Node{holds, body}, Start: c.start, End: c.end})
	}
	return body
}

// bound sets a let around the body for each fixed value and each argument, the first
// argument outermost.
func (c *tradeCall) bound(body *Node) *Node {
	bind := func(name string, value *Node) {
		body = Let.kinds(c.inference, &Node{Op: Let, Slot: c.scope.params[name].Slot, Args: []*Node{value, body}, Start: c.start, End: c.end})
	}
	for _, f := range c.trade.Fixed {
		bind(f.Name, &Node{Op: Num, Kind: f.Value.Kind, Value: f.Value.Base, Start: c.start, End: c.end})
	}
	for i := len(c.trade.Params) - 1; i >= 0; i-- {
		bind(c.trade.Params[i].Name, c.values[i])
	}
	return body
}

// MostGrown bounds the parts that bench formulas add to one formula.
const MostGrown = 20_000

// moved copies a tree of another formula and places it at the call, which is what a message
// about it must show. Its literals lose their units, so that the caller's result is not shown in
// those.
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

// windows reports a value that a reader can set beyond its tested window: the page would refuse
// values that its own field offers.
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
