package formula

import (
	"math"
	"strings"
	"testing"
)

// Every entry has all its parts. The test of the same name in package script works each
// entry's example out in every stage.
func TestOperations(t *testing.T) {
	seen := map[string]bool{}
	for _, o := range Operations() {
		t.Run(o.Form, func(t *testing.T) {
			made := o == Num || o == Var // by the reader of names and literals
			for part, missing := range map[string]bool{
				"a form": o.Form == "", "words for what it gives": o.Gives == "", "kinds": o.kinds == nil && !made, "work": o.work == nil,
				"a span": o.span == nil, "a script": o.script == nil, "an example": o.Example.Formula == "" && o != Guard,
				"rows that its keys choose": o.operands.column && o.rows == nil, "a number of operands": o.Name != "" && o.operands.least == 0 && !o.operands.column,
				"one way to be written": o.Name != "" && len(o.Signs) > 0,
			} {
				if missing {
					t.Errorf("it has no %s", part)
				}
			}
			for _, name := range append([]string{o.Name}, o.Signs...) {
				if name != "" && seen[name] && rowsNamed(name) != o {
					t.Errorf("another operation is called %s", name)
				}
				seen[name] = true
			}
			if o.Name != "" && (!IsFunction(o.Name) || !strings.HasPrefix(o.Form, o.Name+"(")) {
				t.Errorf("%s is written %s", o.Name, o.Form)
			}
			if n, list := infer(o.Example.Formula); o != Guard && n == nil && !o.operands.column {
				t.Errorf("the example: %s", list)
			}
			if o.Tested && !o.operands.column {
				o.meets(t)
			}
		})
	}
}

// meets checks that an operation which is tested takes a result that is not finite for a fault.
func (o *Operation) meets(t *testing.T) {
	n := &Node{Op: o}
	for range max(1, o.operands.least) {
		n.Args = append(n.Args, &Node{Op: Num, Value: math.NaN()})
	}
	var f Frame
	if n.Eval(&f); f.Fault != NotFinite || f.At != n {
		t.Errorf("NaN gives fault %d", f.Fault)
	}
}

// A result that a script leaves untested stays non-finite up to the test.
func TestCarries(t *testing.T) {
	for _, o := range Operations() {
		for i := range o.operands.least {
			if !o.Carries || o.Pole != nil && o.Pole.Operands[0] == i { // a divisor is tested by itself
				continue
			}
			for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
				for _, other := range []float64{0, 1, -2.5, math.NaN(), math.Inf(1), math.Inf(-1)} {
					n := &Node{Op: o}
					for k := range o.operands.least {
						v := other
						if k == i {
							v = bad
						}
						n.Args = append(n.Args, &Node{Op: Num, Value: v})
					}
					var f Frame
					if v := n.Eval(&f); f.Fault == None {
						t.Errorf("%s of %v and %v is %v", o.Form, bad, other, v)
					}
				}
			}
		}
	}
}
