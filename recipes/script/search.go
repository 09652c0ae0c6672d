package script

import (
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
)

// Search writes a search's data as constants of the script, and returns the arguments of the
// helper: the search and its keys. Rows that no values of the keys can reach are left out.
func (e *emitter) Search(n *formula.Node) string {
	spans := make([]formula.Span, len(n.Args))
	for i, a := range n.Args {
		spans[i] = e.reach.Of(a, e.base)
	}
	var rows []int
	live := n.Data.Live()
	if live == nil {
		rows = n.Rows(spans)
	} else { // the keys or the result change, so any row may be needed
		for row := range live[0].Rows {
			rows = append(rows, row)
		}
	}
	if n.Data.Gathered() && len(rows) > prove.MostGroups {
		e.fail("%s over %s can be asked for %d sets of rows, and a script holds at most %d: use it in a figure, whose keys are choices", n.Op.Name, n.Data.Result.File, len(rows), prove.MostGroups)
	}
	column := func(c formula.Column) string {
		if c.Live {
			return strconv.Itoa(e.place(c.Slot))
		}
		cells := make([]string, len(rows))
		for i, row := range rows {
			cells[i] = number(c.Cells[row])
		}
		return e.constant("[" + strings.Join(cells, ",") + "]")
	}
	keys := make([]string, len(n.Data.Keys))
	for i, k := range n.Data.Keys {
		how := e.show(k.Show())
		if k.Kind.Sort == quantity.Word {
			how = `["choice","",` + reachedWords(k.Words, spans[i]) + `]`
		}
		keys[i] = "[" + quoted(strings.ReplaceAll(k.Name, "_", " ")) + "," + column(k) + "," + how + "]"
	}
	count := ""
	if live != nil {
		count = "," + strconv.Itoa(len(rows))
	}
	data := e.constant("[" + quoted(n.Data.Result.File) + "," + column(n.Data.Result) + ",[" + strings.Join(keys, ",") + "]" + count + "]")
	args := []string{data}
	for _, a := range n.Args {
		args = append(args, e.Value(a))
	}
	return strings.Join(args, ",")
}

// constant makes a text a constant of the script, written once, and returns its name.
func (e *emitter) constant(text string) string {
	if name, ok := e.pool[text]; ok {
		return name
	}
	name := "k" + strconv.Itoa(len(e.consts))
	e.pool[text] = name
	e.consts = append(e.consts, name+"="+text)
	return name
}

// reachedWords writes the texts that a value can come to, by their numbers.
func reachedWords(words []string, at formula.Span) string {
	var parts []string
	for i, w := range words {
		if at.Holds(float64(i)) {
			parts = append(parts, strconv.Itoa(i)+":"+quoted(w))
		}
	}
	return "{" + strings.Join(parts, ",") + "}"
}
