package formula

import (
	"slices"

	"labsite/recipes/quantity"
)

// Operation is one entry of the language: everything that the program knows about an
// operator, a function or another part of a typed tree. Each stage reads its part of the
// entry and none of them lists operations: to add one is to write one more entry, in the
// list of its topic (structure has those without a sign or a name). A test takes all entries
// through all stages, so that one with a part missing fails.
type Operation struct {
	// Name is what a function is called by; no page, bench formula or let may use it for
	// something else. It is "" for all others.
	Name string
	// Signs are how all others are written: a binary operator's signs, or the words of
	// the language that an if or a let is made of. Signs made of letters are keywords.
	Signs []string
	// Form is how it is written with its operands, and Gives says in words what it
	// gives.
	Form, Gives string
	// Example is a formula whose value is known.
	Example Example

	// Refuses tells that the operation can refuse the whole case with a reason of its
	// own, as a lookup does that finds no row.
	Refuses bool
	// Tested tells that a result which is not finite is a fault: see NotFinite. The
	// arithmetic gives it to Node.finite; in a script the test is put around it.
	Tested bool
	// Carries tells that the result is not finite if an operand is not, so that a script
	// need only test the last operation of several.
	Carries bool
	// Exact tells that the arithmetic does not round, so that its span needs no margin.
	Exact bool
	// Pole is where it gives no finite number, nil if it always does.
	Pole *Pole
	// Decides is its role in a condition.
	Decides Decision
	// WorksOut reports whether operand i is worked out in a case; nil says that all are.
	WorksOut func(n *Node, f *Frame, i int) bool

	operands operands
	// kinds infers the kind of the result, and reports operands that do not fit.
	kinds func(in *inference, n *Node) *Node
	// work is the arithmetic, in base units.
	work func(n *Node, f *Frame) float64
	// span is the interval that the result can come to, from those of the operands.
	span func(s Spans, n *Node) Span
	// slopes gives the partial derivative for each operand as a tree over the same frame, nil
	// where the result does not depend on the operand. An operation without slopes has no
	// known derivative; flat is for a result that only jumps.
	slopes func(n *Node) []*Node
	// Jumps tells that the result can change abruptly where an operand hardly changes, so that
	// slopes hold only between jumps.
	Jumps bool
	// Steps tells that the result is its first operand rounded to steps of the second, or to
	// whole numbers if there is none.
	Steps bool
	// Power gives, for an operation that is a product of its operands to whole powers, the power
	// of an operand.
	Power func(i int, constant func(i int) (float64, bool)) (int, bool)
	// Undoes names the function that it inverts.
	Undoes string
	// NoMore and NoLess give trees of which the result is the largest, or the smallest: the
	// result is no more than something exactly where all of NoMore are, no less where all of NoLess.
	NoMore, NoLess func(n *Node) []*Node
	// Above gives what the result is no less than.
	Above func(n *Node) []Above
	// linear gives the result as a sum of its operands times constants, where it is one.
	linear func(n *Node, constant func(i int) (float64, bool)) (Line, bool)
	// script writes the arithmetic in JavaScript; helper is what it calls for that, and
	// asked says how the result is tested as a condition.
	script Script
	helper *Helper
	// live is the helper for columns whose cells depend on values that can be set.
	live  *Helper
	asked Asked
	// over is what a function over rows makes of their cells, in the file's order.
	over func(cells []float64) float64
	// rows lists the rows of a data file that keys within some spans can choose: a page's
	// script holds no others.
	rows func(s *Search, spans []Span) []int
	// more continues Form in a message about a wrong number of arguments.
	more string
	// own tells whose value the result is; nil says that of all operands together.
	own func(n *Node) Ownership
}

// Example is a formula without names of a page, except the columns of the data file
// "times" in ExampleData, and its value as a check of a page writes it.
type Example struct{ Formula, Value string }

// ExampleData is the file that the examples of the operations on data look in.
const ExampleData = "film,bath [°C],minutes [min],x,y [ml]\nroll,18,11,1,1\nroll,20,10,4,100\nsheet,18,9,16,1000\nsheet,20,8,64,1200\n"

// Pole is where an operation gives no finite number: where the sum of some of its operands
// is zero.
type Pole struct {
	// Operands are the numbers of those operands.
	Operands []int
	// Below tells that a negative sum fails as well.
	Below bool
	// Spared tells that these operands are safe all the same, such as an exponent that is not
	// negative; nil says that none are.
	Spared func(s Spans, n *Node) bool
}

// At is that sum, in a case that was worked out.
func (p *Pole) At(n *Node, f *Frame) float64 {
	sum := 0.0
	for _, i := range p.Operands {
		sum += n.Args[i].Eval(f)
	}
	return sum
}

// Reaches reports whether the node may meet its pole.
func (p *Pole) Reaches(s Spans, n *Node) bool {
	if p.Spared != nil && p.Spared(s, n) {
		return false
	}
	sum := Few(0)
	for _, i := range p.Operands {
		sum = sum.plus(s.Of(n.Args[i]))
	}
	return !sum.without(0)
}

// Above is something that a result is no less than, wherever some conditions hold.
type Above struct {
	Bound *Node
	Where []*Node
}

// Decision is the role of an operation in a condition. A message about a rule that does not
// hold follows it to the two values that were compared.
type Decision uint8

const (
	// Computes is arithmetic: it decides nothing.
	Computes Decision = iota
	// Compares sets two values side by side.
	Compares
	// Denies holds where its operand does not.
	Denies
	// WantsAll holds where each of its operands does, WantsOne where one does.
	WantsAll
	// WantsOne holds where one of its operands does.
	WantsOne
	// HandsOn has the value of its last operand that was worked out.
	HandsOn
)

// operands says how many operands an operation takes, and of what sort.
type operands struct {
	// least and most count the operands; most is -1 for any number.
	least, most int
	// each reports an operand of the wrong sort; nil accepts any.
	each func(in *inference, x *Node, what string) bool
	// column says that the first is a column of a data file, whose cells the result
	// comes from; pairs of a key column and a key follow it, which are counted by least
	// and most. The tree holds the columns in Node.Data and the keys as operands.
	column bool
	// thenColumn says that a column of a data file may follow the operands; it is in
	// Node.Data.
	thenColumn bool
}

func quantities(least, most int) operands {
	return operands{least: least, most: most, each: (*inference).arithmetic}
}

func truths(count int) operands {
	return operands{least: count, most: count, each: func(in *inference, x *Node, what string) bool {
		return in.want(x, quantity.Yes, what)
	}}
}

func anything(count int) operands { return operands{least: count, most: count} }

func keyedColumn(leastPairs int) operands { return operands{least: leastPairs, most: -1, column: true} }

// Operations lists the entries, in a fixed order.
func Operations() []*Operation { return slices.Clone(operations) }

var operations = slices.Concat(structure, logic, arithmetic, comparing, choosing, curves, rounding, conversions, dates, fromData, overRows, guarding)

// byName finds the functions, bySign the binary operators; words are the signs of
// letters, which are keywords. A name that has an entry for values and one for the rows of
// a file leads to the former: see rowsNamed.
var byName, bySign, words = index()

func index() (names, signs map[string]*Operation, words map[string]bool) {
	names, signs, words = map[string]*Operation{}, map[string]*Operation{}, map[string]bool{}
	for _, o := range operations {
		if o.Name != "" && names[o.Name] == nil {
			names[o.Name] = o
		}
		for _, sign := range o.Signs {
			if o.operands.least == 2 {
				signs[sign] = o
			}
			if isLetter(sign[0]) {
				words[sign] = true
			}
		}
	}
	return names, signs, words
}

// IsFunction reports whether a name is one of the language's own functions, those of the
// page format's formulary example included; no name of a page may be one.
func IsFunction(name string) bool { return byName[name] != nil || name == "time_at_temperature" }

// OverRows reports whether a name is only that of a function over the rows of a file. A bench
// formula has no file, so that its parameters may be called first or deviation.
func OverRows(name string) bool { return byName[name] != nil && byName[name] == rowsNamed(name) }

// IsWord reports whether a name is a word of the language, or of the way quantities are
// written (1 in 100, 18 °C .. 24 °C by 1 °C).
func IsWord(name string) bool { return words[name] || name == "in" || name == "by" }

// Functions lists the names of the language's own functions.
func Functions() []string {
	var out []string
	for _, o := range operations {
		if o.Name != "" && byName[o.Name] == o {
			out = append(out, o.Name)
		}
	}
	return out
}

// rowsNamed finds the entry that works over the rows of a file, nil if there is none.
func rowsNamed(name string) *Operation {
	for _, o := range overRows {
		if o.Name == name {
			return o
		}
	}
	return nil
}

// sign is how an operation is named in a message.
func (o *Operation) sign() string {
	if len(o.Signs) > 0 {
		return o.Signs[0]
	}
	return o.Form[:1]
}
