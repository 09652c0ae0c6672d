package formula

// Ownership tells whose value something is. Constants of the trade that differ from
// shop to shop (tested times and factors, rates, limits, prices) must be owned by the
// shop that uses them: a given with its source and its owner, a data file of the shop,
// or something made from such alone.
type Ownership uint8

const (
	// Unowned is a value that nobody is responsible for.
	Unowned Ownership = iota
	// Neutral is a number written in the formula: it does not change who owns a result.
	Neutral
	// Owned is a value that the shop is responsible for.
	Owned
)

// Ownership tells whose value the tree's result is. What only selects a value (the condition
// of an if, the keys of a lookup) does not count.
func (n *Node) Ownership() Ownership {
	if n.Op.own != nil {
		return n.Op.own(n)
	}
	return ownedTogether(n.Args)
}

// ownedTogether is the ownership of a value made from several: unowned if any part is.
func ownedTogether(parts []*Node) Ownership {
	own := Neutral
	for _, part := range parts {
		switch part.Ownership() {
		case Unowned:
			return Unowned
		case Owned:
			own = Owned
		}
	}
	return own
}
