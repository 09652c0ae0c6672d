package script

import (
	"fmt"
	"strings"

	"labsite/recipes/formula"
)

// helperNames are what a page's script may take from the runtime, in a fixed order: f fails unless
// a number is finite, p unless a value is present, and the others belong to operations.
var helperNames = func() []string {
	names := []string{finite.Name, present.Name}
	for _, h := range formula.Helpers() {
		names = append(names, h.Name)
	}
	return names
}()

var finite = &formula.Helper{Name: "f", Text: "finite"}

// The emitter is the formula.Writer of a page's script.
var _ formula.Writer = (*emitter)(nil)

// Help marks a helper as used.
func (e *emitter) Help(h *formula.Helper) string {
	e.helpers[h.Name] = true
	return h.Name
}

// Value is an expression that gives the node's value, or throws its fault exactly where
// formula.Node.Eval would find it.
func (e *emitter) Value(n *formula.Node) string {
	if n.Op.Tested {
		return e.Help(finite) + "(" + n.Script(e) + ")"
	}
	return n.Script(e)
}

// Untested is operand i without a test of its own, if the node's test is enough: nothing else can
// go wrong below the node, and what is not finite in the operand stays so in the node.
func (e *emitter) Untested(n *formula.Node, i int) string {
	if a := n.Args[i]; a.Op.Carries && !refuses(n) {
		return a.Script(e)
	}
	return e.Value(n.Args[i])
}

// refuses reports whether a tree can fail in any way other than by a result that is not finite.
func refuses(n *formula.Node) bool {
	found := false
	n.Walk(func(n *formula.Node) bool {
		found = found || n.Op.Refuses
		return !found
	})
	return found
}

// Condition is an expression that is true if the node is not 0.
func (e *emitter) Condition(n *formula.Node) string { return n.ScriptCondition(e) }

// Slot is the place of a value in the frame.
func (e *emitter) Slot(n *formula.Node) string { return fmt.Sprintf("s[%d]", e.place(n.Slot)) }

// Bind notes what a let puts into its slot, for searches whose keys use it.
func (e *emitter) Bind(n *formula.Node) { e.reach.Bind(n, e.base) }

// Number is the shortest text that reads back as the same float.
func (e *emitter) Number(v float64) string { return number(v) }

// List is the name of a constant of the script that holds a list of numbers.
func (e *emitter) List(values []float64) string {
	cells := make([]string, len(values))
	for i, v := range values {
		cells[i] = number(v)
	}
	return e.constant("[" + strings.Join(cells, ",") + "]")
}

// Quoted is a text in quotes.
func (e *emitter) Quoted(text string) string { return quoted(text) }
