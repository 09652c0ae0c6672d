package formula

// Ownership tells whose value something is. Constants of the trade that differ from
// shop to shop (tested times and factors, rates, limits, prices) must be owned by the
// shop that uses them: a given with its source and its owner, a data file of the shop,
// or something made from such alone.
type Ownership uint8

const (
	// Unowned is a value that nobody answers for.
	Unowned Ownership = iota
	// Neutral is a number written in the formula: it makes nothing owned and nothing
	// unowned.
	Neutral
	// Owned is a value that the shop answers for.
	Owned
)

// Ownership is that of the value of a tree. What only chooses between values (the
// condition of an if, the keys of a lookup) does not count.
func (n *Node) Ownership() Ownership {
	args := n.Args
	switch n.Op {
	case Num:
		return Neutral
	case Var:
		return n.Own
	case Lookup, Interpolate, InterpolateLog:
		return Owned
	case Let, If, Guard:
		args = args[1:]
	}
	own := Neutral
	for _, a := range args {
		switch a.Ownership() {
		case Unowned:
			return Unowned
		case Owned:
			own = Owned
		}
	}
	return own
}
