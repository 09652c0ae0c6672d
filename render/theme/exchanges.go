package theme

import (
	"bytes"
	"encoding/json"

	"labsite/recipes/quantity"
)

// withExchanges puts what units of the other system values are shown in, with their exact
// factors, into the script that shows them: readers' browsers go by the same table of units
// as the build.
func withExchanges(js []byte) []byte {
	b, err := json.Marshal(exchanges()) // names of units: no sign in them needs an escape
	if err != nil {
		return js
	}
	return bytes.Replace(js, []byte("$EXCHANGES"), b, 1)
}

// exchanges is a row for each line of quantity.Exchanges: the system, [name, size, zero] of
// the units as they are shown, and [name, size, zero, least] of those to show instead.
func exchanges() [][3]any {
	var out [][3]any
	for _, e := range quantity.Exchanges() {
		var from, to [][]any
		for _, u := range e.From {
			from = append(from, []any{u.Text, u.Factor, u.Zero})
		}
		for _, u := range e.To {
			to = append(to, []any{u.Text, u.Factor, u.Zero, u.Least})
		}
		out = append(out, [3]any{e.System, from, to})
	}
	return out
}
