package quantity

import "maps"

// Meant lists the words that people write for a unit, and the unit that each stands for
// most likely: a proposal, not a reading.
func Meant() map[string]string { return maps.Clone(meant) }
