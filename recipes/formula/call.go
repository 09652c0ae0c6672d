package formula

import (
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

func (in *inference) call(n *ast.CallNode, start, end, level int) *Node {
	callee, ok := n.Callee.(*ast.IdentifierNode)
	if !ok {
		return in.fail(source.NotAllowed("a call of a member", "Call a function by its name alone."), start, end)
	}
	if t, _ := in.f.scan.tokenAt(start); t.Kind == Literal || t.Kind == Quoted {
		return in.missingOperator(end)
	}
	name := callee.Value
	if own := strings.ToLower(name[:1]) + name[1:]; in.text(start, end) == own {
		name = own // see scan.word
	}
	op := byName[name]
	if op == nil {
		if trade, ok := in.scope.Trade(name); ok {
			return in.trade(trade, n.Arguments, start, end, level)
		}
		if _, isName := in.scope.Symbol("", name); isName || slices.Contains(in.localNames(), name) {
			return in.missingOperator(end)
		}
		if hint := insteadOf[name]; hint != "" {
			return in.fail(source.NotAllowed("the function "+name, hint), start, end)
		}
		return in.fail(source.UnknownFunction(name, source.Nearest(name, append(Functions(), in.scope.Trades()...))), start, end)
	}
	if rows := rowsNamed(name); rows != nil && len(n.Arguments) > 0 && in.ofFile(n.Arguments[0]) {
		op = rows // mean of a column
	}
	if op.operands.column {
		return in.data(op, n.Arguments, start, end, level)
	}
	args, data := n.Arguments, (*Search)(nil)
	if op.operands.thenColumn && len(args) == op.operands.most+1 {
		c, ok := in.column(args[len(args)-1], op.Form)
		if !ok {
			return in.hole(start, end)
		}
		args, data = args[:len(args)-1], &Search{Result: c}
	}
	if takes := op.operands; len(args) < takes.least || takes.most >= 0 && len(args) > takes.most {
		if p, from, to, ok := in.decimalComma(start); ok {
			return in.fail(p, from, to)
		}
		return in.fail(source.ArgumentCount(name, op.Form, len(n.Arguments)), start, end)
	}
	node := &Node{Op: op, Data: data, Start: start, End: end}
	unknown := false
	for _, a := range args {
		x := in.node(a, level+1)
		unknown = unknown || x.Kind.Sort == quantity.Unknown || op.operands.each != nil && !op.operands.each(in, x, name)
		node.Args = append(node.Args, x)
	}
	if unknown {
		return in.hole(start, end)
	}
	return op.kinds(in, node)
}

// missingOperator points at the bracket that follows something other than a function.
func (in *inference) missingOperator(end int) *Node {
	if i := strings.IndexByte(in.f.scan.text[end:], '('); i > 0 {
		end += i
	}
	return in.fail(source.OperatorMissing("("), end, end+1)
}

// decimalComma finds 0,5 among the arguments of a call that does not fit: the comma split
// one number into two arguments.
func (in *inference) decimalComma(start int) (source.Problem, int, int, bool) {
	_, i := in.f.scan.tokenAt(start)
	tokens := in.f.scan.tokens
	level := 0
	for i++; i > 0 && i+1 < len(tokens); i++ {
		switch in.text(tokens[i].Start, tokens[i].End) {
		case "(":
			level++
		case ")":
			if level--; level == 0 {
				return source.Problem{}, 0, 0, false
			}
		case ",":
			a, b := tokens[i-1], tokens[i+1]
			if a.Kind == Literal && b.Kind == Literal && a.End == tokens[i].Start && tokens[i].End == b.Start && a.Value.Unit.Text == "" {
				return quantity.SeparatorProblem(in.text(a.Start, a.End) + "," + in.text(b.Start, b.End)), a.Start, b.End, true
			}
		}
	}
	return source.Problem{}, 0, 0, false
}

// data infers an operation on data: columns by name, keys by formula.
func (in *inference) data(op *Operation, args []ast.Node, start, end, level int) *Node {
	if len(args) < 1+2*op.operands.least || len(args)%2 == 0 {
		return in.fail(source.ArgumentCount(op.Name, op.Form+op.more, len(args)), start, end)
	}
	result, ok := in.column(args[0], op.Form)
	if !ok {
		return in.hole(start, end)
	}
	n := &Node{Op: op, Data: &Search{Result: result}, Start: start, End: end}
	unknown := false
	for i := 1; i < len(args); i += 2 {
		key, ok := in.column(args[i], op.Form)
		value := in.node(args[i+1], level+1)
		if !ok || value.Kind.Sort == quantity.Unknown {
			unknown = true
			continue
		}
		if key.Table != result.Table {
			in.fail(source.ColumnsOfTwoFiles(result.File, key.File), start, end)
			unknown = true
			continue
		}
		value, ok = in.key(key, value)
		unknown = unknown || !ok
		n.Data.Keys = append(n.Data.Keys, key)
		n.Args = append(n.Args, value)
	}
	if unknown {
		return in.hole(start, end)
	}
	return op.kinds(in, n)
}

// ofFile reports whether an argument is written like a column of a data file.
func (in *inference) ofFile(n ast.Node) bool {
	if m, ok := n.(*ast.MemberNode); ok {
		of, ok := m.Node.(*ast.IdentifierNode)
		return ok && slices.Contains(in.scope.Columns(""), of.Value)
	}
	return false
}

func (in *inference) column(n ast.Node, form string) (Column, bool) {
	m, ok := n.(*ast.MemberNode)
	if ok {
		of, okOf := m.Node.(*ast.IdentifierNode)
		property, okProperty := m.Property.(*ast.StringNode)
		if okOf && okProperty {
			from, _ := in.place(of)
			_, end := in.place(m)
			if c, ok := in.scope.Column(of.Value, property.Value); ok {
				return c, c.Kind.Sort != quantity.Unknown
			}
			if in.scope.Columns(of.Value) == nil {
				in.fail(source.UnknownData(of.Value, source.Nearest(of.Value, in.scope.Columns(""))), from, end)
			} else {
				in.fail(source.UnknownColumn(of.Value, property.Value, source.Nearest(property.Value, in.scope.Columns(of.Value))), from, end)
			}
			return Column{}, false
		}
	}
	start, end := in.place(n)
	in.fail(source.WantsColumn(form), start, end)
	return Column{}, false
}

// key checks that a key has the kind of its column, and renumbers a text by the column's words.
func (in *inference) key(c Column, x *Node) (*Node, bool) {
	if c.Kind.Sort == quantity.Word {
		if x.Kind.Sort != quantity.Word {
			in.fail(source.KeyDiffers(c.Name, "a text", x.KindName()), x.Start, x.End)
			return x, false
		}
		if x.Op == Num && !slices.Contains(c.Words, x.Words[0]) {
			return in.noSuchWord(x, c.Words), false
		}
		return renumbered(x, c.Words), true
	}
	if x.Kind != c.Kind {
		in.fail(source.KeyDiffers(c.Name, quantity.KindIn(c.Kind, c.Unit), x.KindName()), x.Start, x.End)
		return x, false
	}
	return x, true
}

// insteadOf says what to write instead of functions known from other languages.
var insteadOf = map[string]string{
	"now":     "The day is a given value: now: {value: today}.",
	"today":   "The day is a given value: now: {value: today}.",
	"date":    "Just write the date, such as 2026-11-28.",
	"len":     "Count the rows of a data file with count(file.column).",
	"random":  "Nothing in a formula is left to chance: the same values give the same result.",
	"rand":    "Nothing in a formula is left to chance: the same values give the same result.",
	"env":     "A formula reads this page's values, its data files and the pages that it draws on.",
	"pow":     "Write a ** b.",
	"ln":      "The natural logarithm is log(x).",
	"avg":     "Write mean(…).",
	"average": "Write mean(…).",
}
