package formula

import (
	"math"

	"labsite/recipes/source"
)

// FaultKind is why a formula gave no number.
type FaultKind uint8

const (
	// None means no fault.
	None FaultKind = iota
	// NotFinite is a division by zero, an overflow, the root of a negative number. It is
	// an error, never a number on a page.
	NotFinite
	// Missing is a value that nobody entered, or that was refused itself: whatever
	// needs it is missing as well.
	Missing
	// NoRow is a lookup that found no row, Beyond an interpolation outside its points, NoRows
	// a function over rows that has none, FewRows a deviation of one row, OutOfRange a
	// function outside its valid range: the case is refused.
	NoRow
	Beyond
	NoRows
	FewRows
	OutOfRange
)

// Absent is what a frame holds for a missing value. It is a NaN whose bits differ from those of
// a failure.
var Absent = math.Float64frombits(absent)

const absent = 0x7ff8_0000_00ab_5e47

// IsAbsent reports whether a value of a frame is missing.
func IsAbsent(v float64) bool { return v != v && math.Float64bits(v) == absent }

// MissingSlot is the slot whose value a node lacks, a name's own or that of a column worked
// out for each row; -1 if it lacks none.
func (n *Node) MissingSlot(f *Frame) int {
	if n.Op == Var {
		return n.Slot
	}
	if n.Data != nil {
		for _, c := range n.Data.Live() {
			if IsAbsent(f.V[c.State()]) {
				return c.State()
			}
		}
	}
	return -1
}

// Refuses reports whether the fault is a refusal rather than an error.
func (k FaultKind) Refuses() bool { return k >= NoRow }

// Reason says in words why a node refuses; where names its keys with their values.
func (k FaultKind) Reason(n *Node, where string) string {
	switch k {
	case OutOfRange:
		return n.Reason
	case NoRow, Beyond:
		return source.NotInData(n.Data.Result.File, where, k == Beyond)
	case NoRows:
		return source.NoRows(n.Data.Result.File, where)
	case FewRows:
		return source.FewRows(n.Data.Result.File, where)
	}
	return ""
}

// Frame holds the values of one case: givens, figures and lets by slot, in base units.
// It is reused from case to case. Fault is the first fault since Reset, At the node that
// caused it.
type Frame struct {
	V []float64
	// Wobble is what roundings of smoothed trees add, by number.
	Wobble []float64
	Fault  FaultKind
	At     *Node
}

// Reset forgets the fault of the last case.
func (f *Frame) Reset() { f.Fault, f.At = None, nil }

func (f *Frame) fail(kind FaultKind, n *Node) float64 {
	if f.Fault == None {
		f.Fault, f.At = kind, n
	}
	return math.NaN()
}

// Eval computes the tree's value over a frame, without allocating. After a fault the result
// is meaningless.
func (n *Node) Eval(f *Frame) float64 { return n.Op.work(n, f) }

// finite records a fault if the result is not finite: see Operation.Tested.
func (n *Node) finite(f *Frame, v float64) float64 {
	if v-v != 0 { // true only for infinities and NaN
		return f.fail(NotFinite, n)
	}
	return v
}
