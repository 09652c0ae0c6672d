package formula

import (
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Symbol is what a name of the page stands for.
type Symbol struct {
	Kind quantity.Kind
	Slot int
	Unit quantity.Unit
	// Words are what a text can come to: the choices of a given, the results of a figure.
	Words []string
	// Lens says that the value is written as an f-number.
	Lens bool
	// Ownership reports whether the shop answers for the value.
	Ownership Ownership
	// Bounded says that Low and High are the ends of the range that a reader can set; they
	// are equal for a fixed value.
	Bounded   bool
	Low, High float64
}

// Scope resolves the names of a formula.
type Scope interface {
	// Symbol finds a given or a figure; of is the name of a page drawn on, or "".
	Symbol(of, name string) (Symbol, bool)
	// Symbols lists the names that Symbol knows, to suggest the nearest one.
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

// Infer finds the kind of every part and builds the tree that is evaluated. If the list
// holds an error the tree is nil. An operand of unknown kind was reported where it was
// defined, and is not reported again: then the tree is nil too.
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

// hole stands for a part with an error that was reported.
func (in *inference) hole(start, end int) *Node {
	in.unknown = true
	return &Node{Op: Num, Kind: quantity.Any, Start: start, End: end}
}

// place is the token that a node of the engine's tree is at.
func (in *inference) place(n ast.Node) (start, end int) {
	t, _ := in.f.scan.tokenAt(in.f.scan.at(n.Location().From))
	return t.Start, t.End
}

func (in *inference) text(start, end int) string {
	return in.f.scan.text[max(0, start):min(end, len(in.f.scan.text))]
}

// node infers one node of the engine's tree, with a method for each type; an unexpected
// type is reported, never ignored.
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
		return in.fail(source.NoSuchFunction(n.Name), start, end)
	case *ast.SequenceNode:
		return in.fail(source.NotAllowed("a second result after ;", "; belongs only after let. Make two figures."), start, end)
	case *ast.MapNode, *ast.PairNode:
		return in.fail(source.BracesForm(), start, end)
	case *ast.ArrayNode, *ast.SliceNode:
		return in.fail(source.NotAllowed("a list", "Use lookup over a data file."), start, end)
	case *ast.PredicateNode, *ast.PointerNode:
		return in.fail(source.NotAllowed("a rule in braces over rows", "Name the column and what its rows must be, as in lookup(times.minutes, times.film, film)."), start, end)
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
		if p, ok := in.countOrName(start, end); ok {
			return in.fail(p, start, end)
		}
		node := &Node{Op: Num, Kind: v.Kind, Value: v.Base, Start: start, End: end}
		if v.Unit.Text != "" {
			node.Unit = &v.Unit
		}
		return node
	case Quoted:
		return &Node{Op: Num, Kind: quantity.Text, Words: []string{token.Text}, Start: start, End: end}
	}
	return in.symbol("", n.Value, start, end)
}

// countOrName asks which is meant by 5 ml/rolls on a page that has a name rolls.
func (in *inference) countOrName(start, end int) (source.Problem, bool) {
	text := in.text(start, end)
	at := strings.LastIndexAny(text, "/*")
	if at < 0 {
		return source.Problem{}, false
	}
	sign, word := text[at:at+1], text[at+1:]
	isName := func(word string) bool {
		_, ok := in.scope.Symbol("", word)
		return ok || slices.Contains(in.localNames(), word)
	}
	if !quantity.IsCount(word) || !isName(word) {
		return source.Problem{}, false
	}
	joined := ""
	if other := quantity.OtherNumber(word); !isName(other) {
		joined = text[:at+1] + other
	}
	return source.CountOrName(text, word, strings.TrimRight(text[:at], " ")+" "+sign+" "+word, joined), true
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
		if slices.Contains(in.scope.Columns(""), name) {
			return in.fail(source.DataAlone(name), start, end)
		}
	}
	if of == "" {
		if p, end, ok := in.meant(name, start, end); ok {
			return in.fail(p, start, end)
		}
		if quantity.IsCount(name) {
			return in.fail(source.UnitAlone(name, in.joined(start, end)), start, end)
		}
	}
	return in.fail(source.UnknownName(full, source.Nearest(full, append(in.scope.Symbols(), in.localNames()...))), start, end)
}

// meant guesses what an unknown name was meant to be: the f of f/8, or a text without its
// quotes.
func (in *inference) meant(name string, start, end int) (source.Problem, int, bool) {
	_, i := in.f.scan.tokenAt(start)
	if tokens := in.f.scan.tokens; name == "f" && i >= 0 && i+2 < len(tokens) && in.text(tokens[i+1].Start, tokens[i+1].End) == "/" &&
		tokens[i+2].Kind == Literal && tokens[i+2].Start == end+1 {
		number := in.text(tokens[i+2].Start, tokens[i+2].End)
		return source.ApertureInFormula(number), tokens[i+2].End, true
	}
	names := in.scope.Symbols()
	slices.SortStableFunc(names, func(a, b string) int { return strings.Count(a, ".") - strings.Count(b, ".") })
	for _, of := range names {
		page, short, drawn := strings.Cut(of, ".")
		if !drawn {
			page, short = "", of
		}
		if s, ok := in.scope.Symbol(page, short); ok && slices.Contains(s.Words, name) {
			return source.TextUnquoted(name, of), end, true
		}
	}
	for _, file := range in.scope.Columns("") {
		for _, column := range in.scope.Columns(file) {
			if c, ok := in.scope.Column(file, column); ok && slices.Contains(c.Words, name) {
				return source.TextUnquoted(name, file+"."+column), end, true
			}
		}
	}
	return source.Problem{}, 0, false
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
	n := &Node{Op: Var, Kind: s.Kind, Slot: s.Slot, Words: s.Words, Own: s.Ownership, Lens: s.Lens, Start: start, End: end}
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
		return in.prefixed(Not, x, start, end)
	case "+":
		if in.arithmetic(x, "+") {
			return x
		}
		return in.hole(start, end)
	case "-":
		return in.prefixed(Negate, x, start, end)
	}
	return in.fail(source.UnexpectedSign(n.Operator), start, end)
}

// prefixed is an operation before its one operand.
func (in *inference) prefixed(op *Operation, x *Node, start, end int) *Node {
	if !op.operands.each(in, x, op.sign()) {
		return in.hole(start, end)
	}
	return op.kinds(in, &Node{Op: op, Args: []*Node{x}, Start: start, End: end})
}

// want reports an operand of another kind, unless its kind is unknown.
func (in *inference) want(x *Node, kind quantity.Kind, what string) bool {
	if x.Kind.Sort == quantity.Unknown {
		return false
	}
	if x.Kind != kind {
		in.fail(Wanted(x, kind, what, in.full(x)), x.Start, x.End)
		return false
	}
	return true
}

// Wanted words the problem of a part of a formula, written as text, whose kind is not the one that
// what needs.
func Wanted(x *Node, kind quantity.Kind, what, text string) source.Problem {
	if kind == quantity.Yes && x.Kind == quantity.Text && slices.ContainsFunc(x.Words, func(w string) bool { return strings.EqualFold(w, "yes") }) {
		return source.YesAmongTexts(what, text, x.Words)
	}
	return source.WantsKind(what, kind.Name(), x.KindName())
}

// arithmetic reports an operand that is not a quantity: a text, or yes or no.
func (in *inference) arithmetic(x *Node, sign string) bool {
	if x.Kind.Sort == quantity.Unknown {
		return false
	}
	if x.Kind.Sort == quantity.YesNo || x.Kind.Sort == quantity.Word {
		in.fail(source.WantsKind(sign, "a number or a quantity", x.KindName()), x.Start, x.End)
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
	return If.kinds(in, &Node{Op: If, Args: []*Node{cond, a, b}, Start: cond.Start, End: cond.End})
}

func (in *inference) let(n *ast.VariableDeclaratorNode, start, end, level int) *Node {
	token, _ := in.f.scan.tokenAt(start)
	if token.Kind != Name {
		return in.fail(source.LetName(in.text(start, end)), start, end)
	}
	if _, ok := in.scope.Symbol("", n.Name); ok || slices.Contains(in.localNames(), n.Name) {
		return in.fail(source.NameTaken(n.Name), start, end)
	}
	if quantity.IsUnit(n.Name) || IsFunction(n.Name) {
		return in.fail(source.LetName(n.Name), start, end)
	}
	value := in.node(n.Value, level+1)
	s := Symbol{Kind: value.Kind, Slot: -1, Words: value.Words, Ownership: value.Ownership()}
	_, s.Lens = value.lens()
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
	return Let.kinds(in, &Node{Op: Let, Slot: s.Slot, Args: []*Node{value, body}, Start: start, End: end})
}

// Extent is the part of the formula's normalised text that a tree covers, in bytes, without
// the brackets around it.
func (n *Node) Extent() (start, end int) {
	start, end = n.Start, n.End
	for _, a := range n.Args {
		s, e := a.Extent()
		start, end = min(start, s), max(end, e)
	}
	return start, end
}

func (in *inference) full(n *Node) string {
	start, end := n.Extent()
	return in.text(start, end)
}

// factor names the kind by which one side would have to be multiplied to match the other.
func (in *inference) factor(a, b quantity.Kind) source.Factor {
	if a.Sort != quantity.Measure || b.Sort != quantity.Measure {
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
