package formula

import (
	"strings"

	"github.com/expr-lang/expr/ast"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// function is an arithmetic function: how many arguments it takes (most -1 for any
// number), how it is written, and how the kind of its result follows.
type function struct {
	op          Op
	least, most int
	form        string
	kind        func(in *inference, f *function, n *Node) *Node
}

var functions map[string]*function

func init() {
	functions = map[string]*function{
		"abs":        {Abs, 1, 1, "abs(x)", measure},
		"min":        {Min, 2, -1, "min(a, b, …)", oneKind},
		"max":        {Max, 2, -1, "max(a, b, …)", oneKind},
		"mean":       {Mean, 2, -1, "mean(a, b, …)", oneKind},
		"clamp":      {Clamp, 3, 3, "clamp(x, low, high)", oneKind},
		"sqrt":       {Sqrt, 1, 1, "sqrt(x)", root},
		"exp":        {Exp, 1, 1, "exp(x)", plainNumber},
		"exp2":       {Exp2, 1, 1, "exp2(x)", plainNumber},
		"log":        {Log, 1, 1, "log(x)", plainNumber},
		"log2":       {Log2, 1, 1, "log2(x)", plainNumber},
		"log10":      {Log10, 1, 1, "log10(x)", plainNumber},
		"floor":      {Floor, 1, 1, "floor(x)", plainNumber},
		"ceil":       {Ceil, 1, 1, "ceil(x)", plainNumber},
		"round":      {Round, 2, 2, "round(x, step)", rounding},
		"round_up":   {RoundUp, 2, 2, "round_up(x, step)", rounding},
		"round_down": {RoundDown, 2, 2, "round_down(x, step)", rounding},
		"kelvin":     {Kelvin, 1, 1, "kelvin(t)", fromTo(quantity.Scale, quantity.Number)},
		"stops":      {StopsOf, 1, 1, "stops(ratio)", fromTo(quantity.Number, quantity.Stops)},
		"ratio":      {RatioOf, 1, 1, "ratio(stops)", fromTo(quantity.Stops, quantity.Number)},
		"dilution":   {DilutionOf, 2, 2, "dilution(parts, added)", plainNumber},
	}
}

var dataForms = map[string]struct {
	op   Op
	form string
}{
	"lookup":          {Lookup, "lookup(file.result, file.key, key, …)"},
	"interpolate":     {Interpolate, "interpolate(file.result, file.x, x)"},
	"interpolate_log": {InterpolateLog, "interpolate_log(file.result, file.x, x)"},
}

// IsFunction tells whether a name is one of the language's own functions, those of the
// page format's formulary example included; no name of a page may be one.
func IsFunction(name string) bool {
	_, arithmetic := functions[name]
	_, data := dataForms[name]
	return arithmetic || data || name == "time_at_temperature"
}

// Functions lists the names of the language's own functions.
func Functions() []string {
	var out []string
	for name := range functions {
		out = append(out, name)
	}
	for name := range dataForms {
		out = append(out, name)
	}
	return out
}

func (in *inference) call(n *ast.CallNode, start, end, level int) *Node {
	callee, ok := n.Callee.(*ast.IdentifierNode)
	if !ok {
		return in.fail(source.NotAllowed("a call of a member", "Call a function by its name alone."), start, end)
	}
	if t, _ := in.f.scan.tokenAt(start); t.Kind == Literal || t.Kind == Quoted {
		return in.missingOperator(end)
	}
	name := callee.Value
	if d, ok := dataForms[name]; ok {
		return in.data(d.op, d.form, n.Arguments, start, end, level)
	}
	f, ok := functions[name]
	if !ok {
		if trade, ok := in.scope.Trade(name); ok {
			return in.trade(trade, n.Arguments, start, end, level)
		}
		if _, isName := in.scope.Symbol("", name); isName || contains(in.localNames(), name) {
			return in.missingOperator(end)
		}
		return in.fail(source.UnknownFunction(name, source.Nearest(name, append(Functions(), in.scope.Trades()...))), start, end)
	}
	if len(n.Arguments) < f.least || f.most >= 0 && len(n.Arguments) > f.most {
		if p, from, to, ok := in.decimalComma(start); ok {
			return in.fail(p, from, to)
		}
		return in.fail(source.ArgumentCount(name, f.form, len(n.Arguments)), start, end)
	}
	node := &Node{Op: f.op, Start: start, End: end}
	unknown := false
	for _, a := range n.Arguments {
		x := in.node(a, level+1)
		unknown = unknown || x.Kind.Sort == quantity.Unknown || !in.arithmetic(x, name)
		node.Args = append(node.Args, x)
	}
	if unknown {
		return in.hole(start, end)
	}
	return f.kind(in, f, node)
}

// missingOperator points at the bracket that follows something which is no function.
func (in *inference) missingOperator(end int) *Node {
	if i := strings.IndexByte(in.f.scan.text[end:], '('); i > 0 {
		end += i
	}
	return in.fail(source.OperatorMissing("("), end, end+1)
}

// decimalComma finds 0,5 among the arguments of a call that does not fit, where it makes
// two of one.
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
				return quantity.Parted(in.text(a.Start, a.End) + "," + in.text(b.Start, b.End)), a.Start, b.End, true
			}
		}
	}
	return source.Problem{}, 0, 0, false
}

func measure(in *inference, _ *function, n *Node) *Node {
	if n.Args[0].Kind == quantity.Scale {
		return in.fail(source.PointNegated(), n.Start, n.End)
	}
	n.Kind = n.Args[0].Kind
	return n
}

func oneKind(in *inference, f *function, n *Node) *Node {
	first := n.Args[0]
	for _, a := range n.Args[1:] {
		if a.Kind != first.Kind {
			if p, from, to, ok := in.decimalComma(n.Start); ok {
				return in.fail(p, from, to)
			}
			return in.fail(source.KindsSides(f.form, in.full(first), first.Kind.Name(), in.full(a), a.Kind.Name(), in.factor(first.Kind, a.Kind)), a.Start, a.End)
		}
	}
	n.Kind = first.Kind
	return n
}

func root(in *inference, f *function, n *Node) *Node {
	kind, ok := n.Args[0].Kind.Root()
	if !ok {
		return in.fail(source.NoRoot(n.Args[0].Kind.Name()), n.Args[0].Start, n.Args[0].End)
	}
	n.Kind = kind
	return n
}

func plainNumber(in *inference, f *function, n *Node) *Node {
	for _, a := range n.Args {
		if a.Kind != quantity.Number {
			return in.fail(source.WantsKind(f.form, quantity.Number.Name(), a.Kind.Name()), a.Start, a.End)
		}
	}
	n.Kind = quantity.Number
	return n
}

func fromTo(from, to quantity.Kind) func(*inference, *function, *Node) *Node {
	return func(in *inference, f *function, n *Node) *Node {
		if n.Args[0].Kind != from {
			return in.fail(source.WantsKind(f.form, from.Name(), n.Args[0].Kind.Name()), n.Args[0].Start, n.Args[0].End)
		}
		n.Kind = to
		return n
	}
}

// rounding infers round(x, step) and its kin. Points round from the zero of the scale
// that the step is in.
func rounding(in *inference, f *function, n *Node) *Node {
	x, step := n.Args[0], n.Args[1]
	if step.Kind == quantity.Scale && step.Op == Num && step.Unit != nil {
		u := quantity.Difference(*step.Unit)
		step = &Node{Op: Num, Kind: quantity.Degree, Value: step.Value - step.Unit.Zero, Unit: &u, Start: step.Start, End: step.End}
		n.Args = []*Node{x, step}
	}
	if step.Kind != x.Kind.Difference() {
		return in.fail(source.WantsKind("the step in "+f.form, x.Kind.Difference().Name(), step.Kind.Name()), step.Start, step.End)
	}
	if step.Op == Num && step.Value <= 0 {
		return in.fail(source.StepNotPositive(), step.Start, step.End)
	}
	n.Kind = x.Kind
	if x.Kind == quantity.Scale {
		if u, ok := step.FirstUnit(); ok && u.Text == "Δ°F" {
			f, _ := quantity.Lookup("°F")
			n.Value = f.Zero
		}
	}
	return n
}

// data infers a lookup or an interpolation: columns by name, keys by formula. Keys behind
// the x of an interpolation choose the rows that it goes between.
func (in *inference) data(op Op, form string, args []ast.Node, start, end, level int) *Node {
	if len(args) < 3 || len(args)%2 == 0 {
		if op != Lookup {
			form += ", with file.key, key, … behind x to choose the rows"
		}
		return in.fail(source.ArgumentCount(in.text(start, end), form, len(args)), start, end)
	}
	result, ok := in.column(args[0], form)
	if !ok {
		return in.hole(start, end)
	}
	n := &Node{Op: op, Kind: result.Kind, Data: &Search{Result: result}, Start: start, End: end}
	if result.Kind.Sort == quantity.Word {
		return in.fail(source.TextResult(), start, end)
	}
	unknown := false
	for i := 1; i < len(args); i += 2 {
		key, ok := in.column(args[i], form)
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
	if op != Lookup {
		if key := n.Data.Keys[0]; key.Kind.Sort == quantity.Word {
			return in.fail(source.WantsKind(form, "a column of numbers", "a column of texts"), start, end)
		}
		if op == InterpolateLog {
			for i := range result.Cells {
				if result.Kind == quantity.Scale || n.Data.Keys[0].Kind == quantity.Scale || result.Cells[i] <= 0 || n.Data.Keys[0].Cells[i] <= 0 {
					return in.fail(source.LogOfNothing(), start, end)
				}
			}
		}
	}
	if a, b, twice := n.Data.repeated(); twice {
		return in.fail(source.RowsWithOneKey(result.File, result.Lines[a], result.Lines[b]), start, end)
	}
	return n
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

// key fits a key's formula to its column: one kind, texts by their number in the column.
func (in *inference) key(c Column, x *Node) (*Node, bool) {
	if c.Kind.Sort == quantity.Word {
		if x.Kind.Sort != quantity.Word {
			in.fail(source.KindsDiffer("the column "+c.Name+" and its key", "a text", x.Kind.Name()), x.Start, x.End)
			return x, false
		}
		if x.Op == Num {
			for i, w := range c.Words {
				if w == x.Reason {
					return &Node{Op: Num, Kind: quantity.Text, Value: float64(i), Start: x.Start, End: x.End}, true
				}
			}
			in.fail(source.NotAChoice(x.Reason, source.Nearest(x.Reason, c.Words), c.Words), x.Start, x.End)
			return x, false
		}
		return in.translated(c, x), true
	}
	if x.Kind != c.Kind {
		in.fail(source.KindsDiffer("the column "+c.Name+" and its key", c.Kind.Name(), x.Kind.Name()), x.Start, x.End)
		return x, false
	}
	return x, true
}

// translated turns the number of a given's choice into the number of the same text in
// the column, -1 where the column has none; equal lists need nothing.
func (in *inference) translated(c Column, x *Node) *Node {
	words := in.wordsOf(x)
	same := len(words) <= len(c.Words)
	for i := range words {
		same = same && words[i] == c.Words[i]
	}
	if same {
		return x
	}
	out := &Node{Op: Num, Kind: quantity.Text, Value: -1, Start: x.Start, End: x.End}
	for i, w := range words {
		for j, cw := range c.Words {
			if w == cw {
				out = &Node{Op: If, Kind: quantity.Text, Start: x.Start, End: x.End, Args: []*Node{
					{Op: Eq, Kind: quantity.Yes, Args: []*Node{x, {Op: Num, Kind: quantity.Text, Value: float64(i)}}, Start: x.Start, End: x.End},
					{Op: Num, Kind: quantity.Text, Value: float64(j)}, out,
				}}
			}
		}
	}
	return out
}
