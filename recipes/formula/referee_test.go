package formula

import (
	"fmt"
	"math"
	"testing"

	"github.com/expr-lang/expr"
	"pgregory.net/rapid"

	"labsite/recipes/quantity"
)

// randomFormula draws formulas that this language and the engine's own machine read alike:
// plain numbers, no rounding, and comparisons only of numbers that are equal or clearly
// not.
type randomFormula struct{ lets int }

func (a *randomFormula) operand(t *rapid.T) string {
	if rapid.Bool().Draw(t, "a name") {
		return rapid.SampledFrom([]string{"x1", "x2", "x3"}).Draw(t, "name")
	}
	return fmt.Sprintf("%.3f", float64(rapid.IntRange(0, 20000).Draw(t, "number"))/1000)
}

func (a *randomFormula) draw(t *rapid.T, depth int) string {
	if depth <= 0 {
		return a.operand(t)
	}
	sub := func() string { return a.draw(t, depth-1-rapid.IntRange(0, 1).Draw(t, "less")) }
	operand := func() string {
		if s := sub(); rapid.Bool().Draw(t, "bracket") {
			return "(" + s + ")"
		} else {
			return s
		}
	}
	condition := func() string {
		return a.operand(t) + rapid.SampledFrom([]string{" < ", " > ", " <= ", " >= ", " == ", " != "}).Draw(t, "comparison") + a.operand(t)
	}
	switch rapid.IntRange(0, 9).Draw(t, "form") {
	case 0, 1, 2, 3, 4:
		return operand() + rapid.SampledFrom([]string{" + ", " - ", " * ", " / ", " ** ", " ^ ", "*", "-"}).Draw(t, "operator") + operand()
	case 5:
		return "-" + operand()
	case 6:
		return "(" + condition() + " ? " + sub() + " : " + sub() + ")"
	case 7:
		word := rapid.SampledFrom([]string{" and ", " or ", " and not ", " or not "}).Draw(t, "word")
		return "(if " + condition() + word + "(" + condition() + ") { " + sub() + " } else { " + sub() + " })"
	case 8:
		a.lets++
		name := fmt.Sprintf("y%d", a.lets)
		return "(let " + name + " = " + sub() + "; " + name + " * 2.5 - " + operand() + ")"
	}
	if rapid.Bool().Draw(t, "one") {
		return rapid.SampledFrom([]string{"abs", "sqrt", "exp", "log", "log2", "log10", "exp2"}).Draw(t, "function") + "(" + sub() + ")"
	}
	return rapid.SampledFrom([]string{"min", "max"}).Draw(t, "function") + "(" + sub() + ", " + sub() + ")"
}

// The outside referee: the expression engine compiles the same text itself, with floats
// for the names, and its own machine works it out.
func TestAgainstTheEnginesMachine(t *testing.T) {
	agreed, leftOut := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		text := new(randomFormula).draw(t, 5)
		env := map[string]any{"abs": math.Abs, "sqrt": math.Sqrt, "exp": math.Exp, "exp2": math.Exp2, "log": math.Log, "log2": math.Log2,
			"log10": math.Log10, "min": math.Min, "max": math.Max}
		scope := &numbers{names: map[string]int{}}
		frame := Frame{}
		for i, name := range []string{"x1", "x2", "x3"} {
			v := float64(rapid.IntRange(-10000, 10000).Draw(t, name)) / 1000
			env[name] = v
			scope.names[name] = i
			frame.V = append(frame.V, v)
		}
		program, err := expr.Compile(text, expr.Env(env), expr.DisableAllBuiltins(), expr.AsFloat64())
		if err != nil {
			t.Fatalf("%s: the engine says %v", text, err)
		}
		f, list := Parse(text, nil)
		var n *Node
		if f != nil {
			n, list = Infer(f, scope)
		}
		if n == nil {
			if list[0].Code == "formula-too-large" {
				leftOut++
				return
			}
			t.Fatalf("%s: %s", text, list)
		}
		frame.V = append(frame.V, make([]float64, scope.slots)...)
		mine := n.Eval(&frame)
		out, err := expr.Run(program, env)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		theirs := out.(float64)
		if frame.Fault != None {
			// something on the way was not finite, which the engine passes on
			leftOut++
			return
		}
		if theirs != mine && math.Abs(theirs-mine) > 1e-12*math.Max(math.Abs(theirs), math.Abs(mine)) {
			t.Fatalf("%s with %v: %v by the engine, %v here", text, frame.V[:3], theirs, mine)
		}
		agreed++
	})
	if agreed < 25 {
		t.Errorf("only %d compared, %d left out", agreed, leftOut)
	}
}

// numbers is a scope of plain numbers.
type numbers struct {
	names map[string]int
	slots int
}

func (s *numbers) Symbol(of, name string) (Symbol, bool) {
	slot, ok := s.names[name]
	return Symbol{Kind: quantity.Number, Slot: slot}, ok && of == ""
}

func (s *numbers) Symbols() []string                    { return nil }
func (s *numbers) Column(string, string) (Column, bool) { return Column{}, false }
func (s *numbers) Columns(string) []string              { return nil }
func (s *numbers) Trade(string) (*Trade, bool)          { return nil, false }
func (s *numbers) Trades() []string                     { return nil }

func (s *numbers) Slot() int {
	s.slots++
	return len(s.names) + s.slots - 1
}
