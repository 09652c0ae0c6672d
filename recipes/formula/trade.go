package formula

import (
	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Trade is a function of the formulary: a small named formula in this language. Its
// body is inferred anew at every call, in place, so that both back ends see one tree.
type Trade struct {
	Name   string
	Params []Param
	Result quantity.Kind
	Body   *Formula
	// Guards must hold, in order, or the case is refused with their reason.
	Guards []TradeGuard
}

// Param is a parameter of a Trade. Any accepts every kind.
type Param struct {
	Name string
	Kind quantity.Kind
}

// TradeGuard is a part of a function's valid range.
type TradeGuard struct {
	Holds  *Formula
	Reason string
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

// trade expands a call: each argument is bound once, then the guards, then the body.
func (in *inference) trade(t *Trade, args []ast.Node, start, end, level int) *Node {
	form := t.Name + "("
	for i, p := range t.Params {
		if i > 0 {
			form += ", "
		}
		form += p.Name
	}
	form += ")"
	if len(args) != len(t.Params) {
		return in.fail(source.ArgumentCount(t.Name, form, len(args)), start, end)
	}
	scope := tradeScope{Scope: in.scope, params: map[string]Symbol{}}
	var values []*Node
	unknown := false
	for i, a := range args {
		x := in.node(a, level+1)
		values = append(values, x)
		if x.Kind.Sort == quantity.Unknown {
			unknown = true
			continue
		}
		p := t.Params[i]
		if p.Kind.Sort != quantity.Unknown && x.Kind != p.Kind {
			in.fail(source.WantsKind(p.Name+" in "+form, p.Kind.Name(), x.Kind.Name()), x.Start, x.End)
			unknown = true
			continue
		}
		s := Symbol{Kind: x.Kind, Slot: in.scope.Slot()}
		if u, ok := x.FirstUnit(); ok {
			s.Unit = u
		}
		scope.params[p.Name] = s
	}
	if unknown {
		return in.hole(start, end)
	}
	inner := func(f *Formula) *Node {
		n, list := Infer(f, scope)
		if n == nil {
			// entries are checked when they are loaded; with these kinds the body fails
			for _, d := range list {
				in.fail(source.TradeFails(t.Name, d.Message), start, end)
				break
			}
		}
		return n
	}
	body := inner(t.Body)
	for i := len(t.Guards) - 1; i >= 0 && body != nil; i-- {
		holds := inner(t.Guards[i].Holds)
		if holds == nil {
			return in.hole(start, end)
		}
		body = &Node{Op: Guard, Kind: body.Kind, Reason: t.Guards[i].Reason, Args: []*Node{holds, body}, Start: start, End: end}
	}
	if body == nil {
		return in.hole(start, end)
	}
	for i := len(t.Params) - 1; i >= 0; i-- {
		body = &Node{Op: Let, Kind: body.Kind, Slot: scope.params[t.Params[i].Name].Slot, Args: []*Node{values[i], body}, Start: start, End: end}
	}
	return body
}
