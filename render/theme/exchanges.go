package theme

import (
	"bytes"
	"encoding/json"

	"labsite/recipes/quantity"
)

// withExchanges puts the units of the other system, with their exact factors, into the script that
// shows values in them, so that browsers use the same table of units as the build.
func withExchanges(js []byte) []byte {
	b, err := json.Marshal(exchanges())
	if err != nil {
		return js
	}
	return bytes.Replace(js, []byte("$EXCHANGES"), b, 1)
}

// exchanges has a row for each line of quantity.Exchanges: the system, [name, size, zero] for each
// unit in which values are shown, and [name, size, zero, least] for those to show instead.
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
