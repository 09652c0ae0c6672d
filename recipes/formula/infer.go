package formula

import (
	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Symbol is what a name of the page stands for.
type Symbol struct {
	Kind quantity.Kind
	Slot int
	Unit quantity.Unit
	// Words are the choices of a text.
	Words []string
	// Ownership tells whether the shop answers for the value.
	Ownership Ownership
	// Bounded says that Low and High are the ends of what can be set; they are one where
	// nothing can.
	Bounded   bool
	Low, High float64
}

// Scope resolves the names of a formula.
type Scope interface {
	// Symbol finds a given or a figure; of is the name of a page drawn on, or "".
	Symbol(of, name string) (Symbol, bool)
	// Symbols lists the names that Symbol knows, for the nearest one.
	Symbols() []string
	// Column finds a column of a data file.
	Column(file, name string) (Column, bool)
	// Columns lists the data files (file "") or a file's columns.
	Columns(file string) []string
	// Trade finds a function of the formulary.
	Trade(name string) (*Trade, bool)
	// Trades lists their names.
	Trades() []string
	// Slot makes room for one more value in the page's frame.
	Slot() int
}

// Infer finds the kind of every part and builds the tree that is worked out. Where the
// list holds an error the tree is nil. An operand of unknown kind was reported where it
// was defined, and is accepted here without a further word.
func Infer(f *Formula, scope Scope) (*Node, source.List) {
	in := &inference{f: f, scope: scope}
	n := in.node(f.root, 0)
	if in.list.Errors() > 0 || in.unknown {
		return nil, in.list
	}
	return n, in.list
}

type inference struct {
	f       *Formula
	scope   Scope
	list    source.List
	locals  []local
	ranges  map[int][2]float64 // what can be set, by slot
	nodes   int
	grown   int // parts that bench formulas added
	unknown bool
}

type local struct {
	name string
	Symbol
}

func (in *inference) fail(p source.Problem, start, end int) *Node {
	in.list = append(in.list, in.f.diagnose(p, start, end))
	return in.hole(start, end)
}

// hole stands for a part whose trouble was reported.
func (in *inference) hole(start, end int) *Node {
	in.unknown = true
	return &Node{Op: Num, Kind: quantity.Any, Start: start, End: end}
}

// place is the token that a node of the engine's tree stands at.
func (in *inference) place(n ast.Node) (start, end int) {
	t, _ := in.f.scan.tokenAt(in.f.scan.at(n.Location().From))
	return t.Start, t.End
}

func (in *inference) text(start, end int) string {
	return in.f.scan.text[max(0, start):min(end, len(in.f.scan.text))]
}

// node infers one node of the engine's tree, a method for each type and a loud default.
func (in *inference) node(n ast.Node, level int) *Node {
	start, end := 0, 0
	if n != nil {
		start, end = in.place(n)
	}
	if in.nodes++; in.nodes == MostNodes+1 {
		return in.fail(source.FormulaTooLarge(MostNodes), 0, len(in.f.scan.text))
	} else if in.nodes > MostNodes {
		return in.hole(start, end)
	}
	if level > MostLevels {
		return in.fail(source.FormulaTooDeep(MostLevels), start, end)
	}
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return in.name(n, start, end)
	case *ast.BoolNode:
		v := 0.0
		if n.Value {
			v = 1
		}
		return &Node{Op: Num, Kind: quantity.Yes, Value: v, Start: start, End: end}
	case *ast.UnaryNode:
		return in.unary(n, start, end, level)
	case *ast.BinaryNode:
		return in.binary(n, start, end, level)
	case *ast.ConditionalNode:
		return in.conditional(n, level)
	case *ast.VariableDeclaratorNode:
		return in.let(n, start, end, level)
	case *ast.CallNode:
		return in.call(n, start, end, level)
	case *ast.MemberNode:
		return in.member(n, start, end)
	case *ast.BuiltinNode:
		return in.fail(source.NotAllowed("the engine's own "+n.Name, "Formulas have no loops and no closures; write the sum or comparison out, or use lookup."), start, end)
	case *ast.SequenceNode:
		return in.fail(source.NotAllowed("a second result after ;", "; stands only after let. Make two figures."), start, end)
	case *ast.MapNode, *ast.PairNode:
		return in.fail(source.BracesForm(), start, end)
	case *ast.ArrayNode, *ast.SliceNode:
		return in.fail(source.NotAllowed("a list", "Use lookup over a data file."), start, end)
	case *ast.PredicateNode, *ast.PointerNode:
		return in.fail(source.NotAllowed("a closure", "Formulas have no loops; write it out."), start, end)
	case *ast.ChainNode:
		return in.fail(source.NotAllowed("?.", "Every name has a value here; write a plain point."), start, end)
	case *ast.NilNode:
		return in.fail(source.NotAllowed("nil", "Every value has a number here; use a limit to refuse."), start, end)
	case *ast.ConstantNode, *ast.IntegerNode, *ast.FloatNode, *ast.StringNode, *ast.BytesNode:
		// literals were taken out before the engine saw the text
		return in.fail(source.FormulaUnreadable(), start, end)
	}
	return in.fail(source.FormulaUnreadable(), start, end)
}

func (in *inference) name(n *ast.IdentifierNode, start, end int) *Node {
	token, i := in.f.scan.tokenAt(start)
	if i < 0 {
		return in.fail(source.FormulaUnreadable(), start, end)
	}
	switch token.Kind {
	case Literal:
		v := token.Value
		node := &Node{Op: Num, Kind: v.Kind, Value: v.Base, Start: start, End: end}
		if v.Unit.Text != "" {
			node.Unit = &v.Unit
		}
		return node
	case Quoted:
		// a text means something only beside a given with choices: see compare
		return &Node{Op: Num, Kind: quantity.Text, Slot: i, Reason: token.Text, Start: start, End: end}
	}
	return in.symbol("", n.Value, start, end)
}

func (in *inference) symbol(of, name string, start, end int) *Node {
	if of == "" {
		for i := len(in.locals) - 1; i >= 0; i-- {
			if in.locals[i].name == name {
				return in.variable(in.locals[i].Symbol, start, end)
			}
		}
	}
	s, ok := in.scope.Symbol(of, name)
	if ok {
		return in.variable(s, start, end)
	}
	if of == "" && quantity.IsUnit(name) {
		return in.fail(source.UnitAlone(name, in.joined(start, end)), start, end)
	}
	full := name
	if of != "" {
		full = of + "." + name
	}
	if of == "" {
		for _, f := range in.scope.Columns("") {
			if f == name {
				return in.fail(source.DataAlone(name), start, end)
			}
		}
	}
	return in.fail(source.UnknownName(full, source.Nearest(full, append(in.scope.Symbols(), in.localNames()...))), start, end)
}

func (in *inference) localNames() []string {
	var names []string
	for _, l := range in.locals {
		names = append(names, l.name)
	}
	return names
}

// joined proposes 10 g/l for 10 g / l.
func (in *inference) joined(start, end int) string {
	_, i := in.f.scan.tokenAt(start)
	if i < 2 {
		return ""
	}
	op, before := in.f.scan.tokens[i-1], in.f.scan.tokens[i-2]
	sign := in.text(op.Start, op.End)
	if before.Kind != Literal || sign != "/" && sign != "*" {
		return ""
	}
	text := in.text(before.Start, before.End) + sign + in.text(start, end)
	if _, t := quantity.Parse(text); t != nil {
		return "" // such as 5 °C/min
	}
	return text
}

func (in *inference) variable(s Symbol, start, end int) *Node {
	if s.Kind.Sort == quantity.Unknown {
		return in.hole(start, end)
	}
	n := &Node{Op: Var, Kind: s.Kind, Slot: s.Slot, Own: s.Ownership, Start: start, End: end}
	if s.Bounded {
		if in.ranges == nil {
			in.ranges = map[int][2]float64{}
		}
		in.ranges[s.Slot] = [2]float64{s.Low, s.High}
	}
	if s.Unit.Text != "" {
		u := s.Unit
		n.Unit = &u
	}
	return n
}

func (in *inference) member(n *ast.MemberNode, start, end int) *Node {
	of, okOf := n.Node.(*ast.IdentifierNode)
	property, okProperty := n.Property.(*ast.StringNode)
	if !okOf || !okProperty || n.Optional || n.Method {
		return in.fail(source.NotAllowed("this use of a point or an index", "Write page.figure for a page drawn on, file.column inside a data function."), start, end)
	}
	from, _ := in.place(of)
	if t, _ := in.f.scan.tokenAt(from); t.Kind == Literal || t.Kind == Quoted {
		return in.fail(source.UnexpectedSign("."), start-1, start)
	}
	if _, ok := in.scope.Column(of.Value, property.Value); ok {
		return in.fail(source.ColumnAlone(of.Value+"."+property.Value), from, end)
	}
	return in.symbol(of.Value, property.Value, from, end)
}

func (in *inference) unary(n *ast.UnaryNode, start, end, level int) *Node {
	x := in.node(n.Node, level+1)
	switch n.Operator {
	case "not", "!":
		if !in.want(x, quantity.Yes, "not") {
			return in.hole(start, end)
		}
		return &Node{Op: Not, Kind: quantity.Yes, Args: []*Node{x}, Start: start, End: end}
	case "+":
		if in.arithmetic(x, "+") {
			return x
		}
		return in.hole(start, end)
	case "-":
		if x.Kind == quantity.Scale {
			return in.fail(source.PointNegated(), start, end)
		}
		if !in.arithmetic(x, "-") {
			return in.hole(start, end)
		}
		return &Node{Op: Neg, Kind: x.Kind, Args: []*Node{x}, Start: start, End: end}
	}
	return in.fail(source.UnexpectedSign(n.Operator), start, end)
}

// want reports an operand that is not of a kind; it is silent about unknown ones.
func (in *inference) want(x *Node, kind quantity.Kind, what string) bool {
	if x.Kind.Sort == quantity.Unknown {
		return false
	}
	if x.Kind != kind {
		in.fail(source.WantsKind(what, kind.Name(), x.Kind.Name()), x.Start, x.End)
		return false
	}
	return true
}

// arithmetic reports an operand that is no quantity at all.
func (in *inference) arithmetic(x *Node, sign string) bool {
	if x.Kind.Sort == quantity.Unknown {
		return false
	}
	if x.Kind.Sort == quantity.YesNo || x.Kind.Sort == quantity.Word {
		in.fail(source.WantsKind(sign, "a number or a quantity", x.Kind.Name()), x.Start, x.End)
		return false
	}
	return true
}

func (in *inference) conditional(n *ast.ConditionalNode, level int) *Node {
	if n.Cond == n.Exp1 {
		start, end := in.place(n)
		return in.fail(source.NotAllowed("?: without a middle", "Write condition ? value : other value."), start, end)
	}
	cond := in.node(n.Cond, level+1)
	a, b := in.node(n.Exp1, level+1), in.node(n.Exp2, level+1)
	okCond := in.want(cond, quantity.Yes, "a condition")
	if a.Kind.Sort == quantity.Unknown || b.Kind.Sort == quantity.Unknown || !okCond {
		return in.hole(cond.Start, cond.End)
	}
	if a.Kind.Sort == quantity.Word || b.Kind.Sort == quantity.Word {
		return in.fail(source.TextResult(), a.Start, a.End)
	}
	if a.Kind != b.Kind {
		return in.fail(source.KindsSides("the two branches", in.full(a), a.Kind.Name(), in.full(b), b.Kind.Name(), in.factor(a.Kind, b.Kind)), cond.Start, cond.End)
	}
	return &Node{Op: If, Kind: a.Kind, Args: []*Node{cond, a, b}, Start: cond.Start, End: cond.End}
}

func (in *inference) let(n *ast.VariableDeclaratorNode, start, end, level int) *Node {
	token, _ := in.f.scan.tokenAt(start)
	if token.Kind != Name {
		return in.fail(source.LetName(in.text(start, end)), start, end)
	}
	if _, ok := in.scope.Symbol("", n.Name); ok || contains(in.localNames(), n.Name) {
		return in.fail(source.NameTaken(n.Name), start, end)
	}
	if quantity.IsUnit(n.Name) || IsFunction(n.Name) {
		return in.fail(source.LetName(n.Name), start, end)
	}
	value := in.node(n.Value, level+1)
	if value.Kind.Sort == quantity.Word {
		return in.fail(source.TextResult(), value.Start, value.End)
	}
	s := Symbol{Kind: value.Kind, Slot: -1, Ownership: value.Ownership()}
	if u, ok := value.FirstUnit(); ok {
		s.Unit = u
	}
	if value.Kind.Sort != quantity.Unknown {
		s.Slot = in.scope.Slot()
	}
	in.locals = append(in.locals, local{n.Name, s})
	body := in.node(n.Expr, level+1)
	in.locals = in.locals[:len(in.locals)-1]
	if value.Kind.Sort == quantity.Unknown || body.Kind.Sort == quantity.Unknown {
		return in.hole(start, end)
	}
	return &Node{Op: Let, Kind: body.Kind, Slot: s.Slot, Args: []*Node{value, body}, Start: start, End: end}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// extent is the whole stretch of the formula that a tree covers.
func extent(n *Node) (start, end int) {
	start, end = n.Start, n.End
	for _, a := range n.Args {
		s, e := extent(a)
		start, end = min(start, s), max(end, e)
	}
	return start, end
}

func (in *inference) full(n *Node) string {
	start, end := extent(n)
	return in.text(start, end)
}

// factor names the kind that would mend two sides when multiplied to one of them.
func (in *inference) factor(a, b quantity.Kind) source.Factor {
	if a == quantity.Scale || b == quantity.Scale || a.Sort != quantity.Measure || b.Sort != quantity.Measure {
		return source.Factor{}
	}
	k, ok := a.Over(b)
	if !ok || a.Money != b.Money && a.Currency != b.Currency && a.Money != 0 && b.Money != 0 {
		return source.Factor{}
	}
	if inverse, ok := b.Over(a); ok && len(inverse.Default().Text) < len(k.Default().Text) {
		return source.Factor{Side: "left", Kind: inverse.Name(), Unit: inverse.Default().Text}
	}
	return source.Factor{Side: "right", Kind: k.Name(), Unit: k.Default().Text}
}
