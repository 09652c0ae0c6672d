package script

import (
	"math"
	"strconv"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
	"labsite/recipes/sheet"
)

// search writes a search's data as constants of the script, and gives the arguments of
// the helper: the search and its keys. Rows that no value of the keys can reach stay out.
func (e *emitter) search(n *formula.Node) string {
	spans := make([]sheet.Span, len(n.Args))
	for i, a := range n.Args {
		spans[i] = e.reach.Of(a, e.base)
	}
	var rows []int
	if n.Op == formula.Lookup {
		rows = lookedUp(n.Data, spans)
	} else {
		rows = between(n.Data, spans)
	}
	column := func(c formula.Column) string {
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
	data := e.constant("[" + quoted(n.Data.Result.File) + "," + column(n.Data.Result) + ",[" + strings.Join(keys, ",") + "]]")
	args := []string{data}
	for _, a := range n.Args {
		args = append(args, e.value(a))
	}
	return strings.Join(args, ",")
}

// constant keeps a text of the script once, under a name.
func (e *emitter) constant(text string) string {
	if name, ok := e.pool[text]; ok {
		return name
	}
	name := "k" + strconv.Itoa(len(e.consts))
	e.pool[text] = name
	e.consts = append(e.consts, name+"="+text)
	return name
}

// lookedUp lists the rows that a lookup can find.
func lookedUp(s *formula.Search, spans []sheet.Span) []int {
	return chosen(s, spans, 0)
}

// chosen lists the rows whose keys, from one on, can be met.
func chosen(s *formula.Search, spans []sheet.Span, from int) []int {
	var rows []int
	for row := range s.Result.Cells {
		hit := true
		for i := from; i < len(s.Keys); i++ {
			hit = hit && spans[i].Holds(s.Keys[i].Cells[row])
		}
		if hit {
			rows = append(rows, row)
		}
	}
	return rows
}

// between lists the rows that an interpolation can use: of those that go together by their
// further keys the ones inside the span of x, and the nearest on either side of it.
func between(s *formula.Search, spans []sheet.Span) []int {
	type ends struct{ below, above float64 }
	low, high, xs := spans[0].Low, spans[0].High, s.Keys[0].Cells
	together := func(row int) string {
		var keys []byte
		for _, k := range s.Keys[1:] {
			keys = append(strconv.AppendFloat(keys, k.Cells[row], 'g', -1, 64), ' ')
		}
		return string(keys)
	}
	near := map[string]ends{}
	candidates := chosen(s, spans, 1)
	for _, row := range candidates {
		key := together(row)
		at, seen := near[key]
		if !seen {
			at = ends{math.Inf(-1), math.Inf(1)}
		}
		if x := xs[row]; !math.IsInf(low, 0) && quantity.LessOrEqual(x, low) {
			at.below = max(at.below, x)
		}
		if x := xs[row]; !math.IsInf(high, 0) && quantity.LessOrEqual(high, x) {
			at.above = min(at.above, x)
		}
		near[key] = at
	}
	var rows []int
	for _, row := range candidates {
		if at := near[together(row)]; xs[row] >= at.below && xs[row] <= at.above {
			rows = append(rows, row)
		}
	}
	return rows
}

// reachedWords are the texts that a key can have, by their numbers.
func reachedWords(words []string, at sheet.Span) string {
	var parts []string
	for i, w := range words {
		if at.Holds(float64(i)) {
			parts = append(parts, strconv.Itoa(i)+":"+quoted(w))
		}
	}
	return "{" + strings.Join(parts, ",") + "}"
}
