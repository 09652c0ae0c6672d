package script

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"labsite/recipes/quantity"
)

// generator writes random pages: formulas over all operations and kinds, given values of all sorts, all
// forms, data files, pages drawn on. It writes text as a person would, so that everything between the
// text and the two back ends is tested.
type generator struct {
	t *rapid.T
	// names are what formulas may use, by kind.
	names map[string][]string
	lets  int
	data  bool
	texts map[string][]string // given values that are texts, with their choices
}

// unitsOf are the kinds of the generator, with units for their literals.
var unitsOf = map[string][]string{
	"number": {"", "", "", "%"}, "volume": {"ml", "l", "fl_oz", "m3"}, "time": {"s", "min", "h", "day", "ms"}, "mass": {"g", "kg", "oz_av", "grain"},
	"scale": {"°C", "°F"}, "degree": {"K", "Δ°F"}, "stops": {"stop"}, "length": {"mm", "inch", "m"}, "density": {"g/l", "kg/m3"},
	"money": {"EUR", "USD"}, "yes": nil, "date": nil, "rolls": {"rolls", "roll"}, "perroll": {"ml/roll", "l/rolls"},
}

var kindsOf = []string{"number", "volume", "time", "mass", "scale", "degree", "stops", "length", "density", "money", "yes", "date", "rolls", "perroll"}

var showsOf = map[string][]string{
	"number":  {"", "1", "0.01", `"%"`, "0.1 %", "1+n", "f/n", "1e-3", "5", "+0.01"},
	"volume":  {"", "ml", "l", "1 ml", "0.5 ml", "0.01 fl_oz", "usual", "10 l"},
	"time":    {"", "s", "15 s", "0.1 s", "0.1 min", "day", "1/n s", "usual", "0.1 ms", "h", "+15 s"},
	"mass":    {"", "g", "0.01 g", "usual", "oz_av", "mg"},
	"scale":   {"", "0.5 °C", "1 °F", "°F"},
	"degree":  {"", "0.5 K", "Δ°F"},
	"stops":   {"", "1/3 stop", "1/2 stop", "1/10 stop", "0.1 stop", "stop", "+0.1 stop", "+1/3 stop"},
	"length":  {"", "mm", "0.1 inch", "1 mm"},
	"density": {"", "g/l", "0.01 g/ml"},
	"money":   {"", "USD", "0.05 USD"},
	"yes":     {""},
	"date":    {"", "weekday"},
	"rolls":   {"", "1 roll", "roll", "0.1 rolls"},
	"perroll": {"", "1 ml/roll", "l/roll"},
}

func (g *generator) pick(label string, from ...string) string {
	return rapid.SampledFrom(from).Draw(g.t, label)
}

func (g *generator) chance(percent int) bool {
	return rapid.IntRange(0, 99).Draw(g.t, "chance") < percent
}

// amount is a number as a person would write it.
func (g *generator) amount() string {
	switch rapid.IntRange(0, 5).Draw(g.t, "amount") {
	case 0:
		return fmt.Sprint(rapid.IntRange(0, 12).Draw(g.t, "n"))
	case 1:
		return fmt.Sprintf("%d.%d", rapid.IntRange(0, 99).Draw(g.t, "n"), rapid.IntRange(0, 9999).Draw(g.t, "part"))
	case 2:
		return g.pick("odd", "0.15", "0.5", "2.5", "59.96", "59.6", "9.996", "99.95", "999.5", "0.0004", "1e-7", "2e9", "0.1", "1.005", "0.3333333333")
	}
	return fmt.Sprint(rapid.IntRange(1, 2000).Draw(g.t, "n"))
}

func (g *generator) literal(kind string) string {
	switch kind {
	case "yes":
		return g.pick("truth", "true", "false")
	case "date":
		return g.pick("date", "2026-11-28", "2024-02-29", "2026-03-29", "2000-12-31", "1583-01-01", "9999-12-31", "1969-12-31", "2100-02-28",
			quantity.ISODate(quantity.DateOf(2020, 1, 1)+float64(rapid.IntRange(0, 4000).Draw(g.t, "day"))*quantity.DayLength))
	case "money":
		return g.amount() + " USD"
	case "stops":
		if g.chance(40) {
			return g.pick("part", "1/3 stop", "2/3 stop", "1/2 stop")
		}
	case "time":
		if g.chance(30) {
			return g.pick("duration", "10 min 30 s", "1/125 s", "1 h 5 min", "59.96 s", "2 day 3 h", "48 h")
		}
	}
	u := unitsOf[kind]
	return strings.TrimSpace(g.amount() + " " + rapid.SampledFrom(u).Draw(g.t, "unit"))
}

// formula writes a formula of a kind.
func (g *generator) formula(kind string, depth int) string {
	if depth <= 0 || g.chance(15) {
		if names := g.names[kind]; len(names) > 0 && g.chance(75) {
			return rapid.SampledFrom(names).Draw(g.t, "name")
		}
		return "(" + g.literal(kind) + ")"
	}
	f := func(kind string) string { return g.formula(kind, depth-1) }
	any := func() string {
		return g.pick("kind", "number", "volume", "time", "mass", "scale", "degree", "stops", "length", "density", "money", "date")
	}
	if g.chance(10) {
		return fmt.Sprintf("(%s ? %s : %s)", f("yes"), f(kind), f(kind))
	}
	if g.chance(8) && kind != "yes" {
		g.lets++
		name, of := fmt.Sprintf("part%d", g.lets), any()
		value := f(of)
		g.names[of] = append(g.names[of], name)
		body := f(kind)
		g.names[of] = g.names[of][:len(g.names[of])-1]
		return fmt.Sprintf("(let %s = %s; %s)", name, value, body)
	}
	if kind == "yes" {
		switch g.pick("truth", "compare", "compare", "compare", "and", "or", "not", "text", "same") {
		case "and":
			return fmt.Sprintf("(%s and %s)", f("yes"), f("yes"))
		case "or":
			return fmt.Sprintf("(%s or %s)", f("yes"), f("yes"))
		case "not":
			return fmt.Sprintf("(not (%s))", f("yes"))
		case "same":
			return fmt.Sprintf("(%s %s %s)", f("yes"), g.pick("sign", "==", "!="), f("yes"))
		case "text":
			for name, words := range g.texts { // one at most
				text := func() string {
					return g.pick("text", name, name, "first(pairs.film, pairs.film, "+name+")", fmt.Sprintf("(%s ? %q : %s)", f("yes"), words[0], name))
				}
				sign := g.pick("sign", "==", "!=")
				if g.chance(30) {
					return fmt.Sprintf("(%s %s %s)", text(), sign, text())
				}
				return fmt.Sprintf("(%s %s %q)", text(), sign, words[0])
			}
		}
		k := any()
		return fmt.Sprintf("(%s %s %s)", f(k), g.pick("sign", "==", "!=", "<", "<=", ">", ">="), f(k))
	}
	step := kind
	if kind == "scale" {
		step = "degree"
	}
	if kind == "date" {
		return g.date(f)
	}
	if g.chance(35) {
		switch g.pick("same", "min", "max", "mean", "clamp", "round", "round_up", "round_down") {
		case "min":
			return fmt.Sprintf("min(%s, %s)", f(kind), f(kind))
		case "max":
			return fmt.Sprintf("max(%s, %s, %s)", f(kind), f(kind), f(kind))
		case "mean":
			return fmt.Sprintf("mean(%s, %s, %s)", f(kind), f(kind), f(kind))
		case "clamp":
			return fmt.Sprintf("clamp(%s, %s, %s)", f(kind), f(kind), f(kind))
		case "round":
			if kind == "scale" {
				return fmt.Sprintf("round(%s, %s)", f(kind), g.pick("step", "0.5 °C", "1 °F", "0.5 K"))
			}
			return fmt.Sprintf("round(%s, %s)", f(kind), f(step))
		case "round_up":
			return fmt.Sprintf("round_up(%s, %s)", f(kind), f(step))
		case "round_down":
			return fmt.Sprintf("round_down(%s, %s)", f(kind), f(step))
		}
	}
	if kind == "scale" {
		return fmt.Sprintf("(%s %s %s)", f("scale"), g.pick("sign", "+", "-"), f("degree"))
	}
	switch g.pick("arithmetic", "sum", "sum", "times", "over", "sign", "own", "own") {
	case "sum":
		return fmt.Sprintf("(%s %s %s)", f(kind), g.pick("sign", "+", "-"), f(kind))
	case "times":
		return fmt.Sprintf("(%s * %s)", f(kind), f("number"))
	case "over":
		return fmt.Sprintf("(%s / %s)", f(kind), f("number"))
	case "sign":
		return g.pick("sign", "(-", "abs(") + f(kind) + ")"
	}
	switch kind {
	case "number":
		k := g.pick("kind", "volume", "time", "mass", "degree", "length", "money")
		return g.pick("own",
			"sqrt("+f("number")+")", "exp("+f("number")+" / 20)", "exp2("+f("number")+" / 10)", "log("+f("number")+")", "log2("+f("number")+")",
			"log10("+f("number")+")", "floor("+f("number")+")", "ceil("+f("number")+")", "kelvin("+f("scale")+")", "ratio("+f("stops")+")",
			"dilution("+f("number")+", "+f("number")+")", "("+f("number")+" ** "+f("number")+")", "("+f(k)+" / "+f(k)+")", "("+f("number")+" ** 2)", "weekday("+f("date")+")")
	case "stops":
		return "stops(" + f("number") + ")"
	case "degree":
		return "(" + f("scale") + " - " + f("scale") + ")"
	case "mass":
		return "(" + f("density") + " * " + f("volume") + ")"
	case "density":
		return "(" + f("mass") + " / " + f("volume") + ")"
	case "rolls":
		return "(" + f("volume") + " / " + f("perroll") + ")"
	case "perroll":
		return "(" + f("volume") + " / " + f("rolls") + ")"
	case "volume":
		return g.pick("own", "("+f("perroll")+" * "+f("rolls")+")", "("+f("mass")+" / "+f("density")+")", "("+f("length")+" ** 3)")
	case "length":
		return "sqrt(" + f("length") + " * " + f("length") + ")"
	case "time":
		if g.chance(40) {
			return "(" + f("date") + " - " + f("date") + ")"
		}
		return "(" + f("time") + " * " + f("length") + " / " + f("length") + ")"
	}
	return "(" + f(kind) + " + " + f(kind) + ")"
}

// date writes a formula whose result is a date.
func (g *generator) date(f func(kind string) string) string {
	whole := func() string { return g.pick("whole", "0", "1", "-1", "3", "12", "-25", "floor("+f("number")+")") }
	switch g.pick("date", "sum", "sum", "min", "max", "mean", "clamp", "months", "months", "workdays", "closed") {
	case "sum":
		return fmt.Sprintf("(%s %s %s)", f("date"), g.pick("sign", "+", "-"), f("time"))
	case "min":
		return fmt.Sprintf("min(%s, %s)", f("date"), f("date"))
	case "max":
		return fmt.Sprintf("max(%s, %s)", f("date"), f("date"))
	case "mean":
		return fmt.Sprintf("mean(%s, %s)", f("date"), f("date"))
	case "clamp":
		return fmt.Sprintf("clamp(%s, %s, %s)", f("date"), f("date"), f("date"))
	case "months":
		return fmt.Sprintf("months_after(%s, %s)", f("date"), whole())
	}
	if g.data {
		return fmt.Sprintf("workdays_after(%s, %s, closed.day)", f("date"), whole())
	}
	return fmt.Sprintf("workdays_after(%s, %s)", f("date"), whole())
}

var givens = map[string][]string{
	"number": {"{value: 8, from: 1, to: 12}", "{value: 1+100, choices: [1+50, 1+100, 1 in 10]}", "{value: 2.5, from: 0.5, to: 9.5, step: 0.25}", "{value: 3 %, from: 0 %, to: 10 %}", "{value: 1+9, from: 1+100, to: 1+1}"},
	"volume": {"{value: 500 ml, from: 0 ml, to: 2 l, step: 50 ml}", "{value: 20 fl_oz, choices: [16 fl_oz, 20 fl_oz, 1 l]}", "{value: 1/2 l, from: 1/10 l, to: 3 l}"},
	"time":   {"{value: 10 min 30 s, from: 1 min, to: 1 h}", "{value: 1/125 s, choices: [1/1000 s, 1/125 s, 1/2 s, 2 s]}", "{value: 8.5 min, from: 5 s, to: 9 h, step: 15 s}", "{value: 2 days, from: 1 day, to: 60 days}"},
	"mass":   {"{value: 3.2 g, from: 0 g, to: 80 g}"},
	"scale":  {"{value: 20 °C, from: 18 °C, to: 24 °C, step: 0.5 K}", "{value: 68 °F, from: 60 °F, to: 80 °F, step: 1 °F}"},
	"degree": {"{value: 2 K, from: -3 K, to: 3 K}"},
	"stops":  {"{value: 1 2/3 stop, from: -2 stop, to: 3 stop, step: 1/3 stop}", "{value: 1/2 stop, choices: [0 stop, 1/2 stop, 1 stop]}"},
	"length": {"{value: 35 mm, from: 1 mm, to: 1 m}", "{value: 8 inches, choices: [8 inches, 10 inches, 300 mm]}"},
	"money":  {"{value: 12.50 USD, from: 0 USD, to: 100 USD, step: 0.5 USD}"},
	"yes":    {"{value: true}"},
	"rolls":  {"{value: 1 roll, from: 1 roll, to: 8 rolls, step: 1 roll}", "{value: 2 rolls, choices: [1 roll, 2 rolls, 12 rolls]}"},
	"date":   {"{value: 2026-11-28, from: 2026-01-01, to: 2027-12-31}", "{value: 2024-02-29, from: 2024-02-01, to: 2024-03-31, step: 1 week}", "{value: 2026-11-28, choices: [2026-11-28, 2026-12-24]}", "{value: today}"},
	"fixed":  {"4 ml"},
}

// front writes a page's front matter; use says whether it may draw on a page "other".
func (g *generator) front(use bool, otherGiven, otherFigures [][2]string) string {
	var b strings.Builder
	g.names, g.texts = map[string][]string{}, map[string][]string{}
	b.WriteString("given:\n")
	count := rapid.IntRange(1, 4).Draw(g.t, "givens")
	for i := range count {
		kind := g.pick("kind", "number", "volume", "time", "mass", "scale", "degree", "stops", "length", "money", "yes", "date", "rolls")
		name := fmt.Sprintf("set%d", i)
		fmt.Fprintf(&b, "  %s: %s\n", name, rapid.SampledFrom(givens[kind]).Draw(g.t, "given"))
		g.names[kind] = append(g.names[kind], name)
	}
	b.WriteString("  fixed: 4 ml\n  tested: {value: 9 min, source: measured here, owner: lead}\n  factor: {value: 1.09, source: measured here, owner: lead}\n")
	b.WriteString("  bath: {value: 20 °C, from: 16 °C, to: 26 °C}\n")
	g.names["volume"] = append(g.names["volume"], "fixed")
	g.names["time"] = append(g.names["time"], "time_at_temperature(tested, 20 °C, bath, factor, 18 °C, 24 °C)")
	if g.data {
		b.WriteString("  film: {value: sheet, choices: [sheet, roll, \"a b\", missing]}\n")
		g.texts["film"] = []string{"sheet", "roll", "a b", "missing"}
		g.names["time"] = append(g.names["time"], "lookup(table.minutes, table.film, film)", "interpolate(table.minutes, table.at, bath)", "lookup(pairs.minutes, pairs.film, film, pairs.at, bath)", "interpolate(pairs.minutes, pairs.at, bath, pairs.film, film)")
		over := g.pick("over", "sum", "mean", "median", "smallest", "largest", "deviation", "first", "last")
		g.names["time"] = append(g.names["time"], over+"(pairs.minutes, pairs.film, film)", over+"(pairs.minutes)", "sum(table.minutes, table.at, bath)")
		g.names["scale"] = append(g.names["scale"], "mean(pairs.at, pairs.film, film)")
		g.names["number"] = append(g.names["number"], over+"(curve.more)", over+"(curve.off)", over+"(curve.off, curve.amount, 4)", "count(pairs.film, pairs.film, film, pairs.at, bath)", "interpolate_log(curve.out, curve.amount, abs("+g.first("number", "3")+") + 0.5)", "interpolate(curve.out, curve.amount, "+g.first("number", "3")+")",
			"lookup(curve.off, curve.amount, 4)", "lookup(curve.off, curve.amount, "+g.first("number", "2")+")", "interpolate(curve.off, curve.amount, "+g.first("number", "3")+")")
	}
	if use {
		for _, x := range otherFigures {
			g.names[x[1]] = append(g.names[x[1]], "other."+x[0])
		}
	}
	b.WriteString("figures:\n")
	for i := range rapid.IntRange(1, 5).Draw(g.t, "figures") {
		kind := rapid.SampledFrom(kindsOf).Draw(g.t, "kind")
		name := fmt.Sprintf("got%d", i)
		show := rapid.SampledFrom(showsOf[kind]).Draw(g.t, "show")
		if show != "" {
			show = ", show: " + show
		}
		fmt.Fprintf(&b, "  %s: {formula: '%s'%s}\n", name, g.formula(kind, rapid.IntRange(0, 4).Draw(g.t, "depth")), show)
		g.names[kind] = append(g.names[kind], name)
	}
	if g.data && g.chance(40) {
		fmt.Fprintf(&b, "  word: '%s ? (%s ? \"elsewhere\" : film) : last(pairs.film, pairs.film, film)'\n", g.formula("yes", 2), g.formula("yes", 1))
	}
	limits := rapid.IntRange(0, 3).Draw(g.t, "limits")
	if limits > 0 {
		b.WriteString("limits:\n")
	}
	for range limits {
		fmt.Fprintf(&b, "  - when: '%s'\n    %s: Said.\n", g.formula("yes", 3), g.pick("limit", "notice", "caution", "warning", "refuse"))
	}
	if use {
		b.WriteString("draws_on:\n  other: {page: other.md, at: {")
		for i, x := range otherGiven {
			if i > 0 {
				b.WriteString(", ")
			}
			fmt.Fprintf(&b, "%s: '%s'", x[0], g.formulaWithoutOther(x[1]))
		}
		b.WriteString("}}\n")
	}
	if g.data {
		fmt.Fprintf(&b, "data: {table: table.csv, pairs: pairs.csv, curve: {file: curve.csv, adds: {more: 'amount * out', off: '%s'}}, closed: closed.csv}\n", g.overRow("number"))
	}
	return b.String()
}

// overRow writes a formula over the rows of curve.csv, which may depend on given values.
func (g *generator) overRow(kind string) string {
	sets := []string{"2"}
	for _, n := range g.names[kind] {
		if strings.HasPrefix(n, "set") {
			sets = append(sets, n)
		}
	}
	row := g.pick("row", "out * ?", "amount - ?", "more / (? + 3)", "? > amount and out > 1 ? out : amount")
	return strings.Replace(row, "?", g.pick("set", sets...), 1)
}

func (g *generator) first(kind, otherwise string) string {
	if n := g.names[kind]; len(n) > 0 {
		return n[0]
	}
	return otherwise
}

// formulaWithoutOther writes a formula only over given values: one that sets a value of a page drawn on
// cannot use that page's figures.
func (g *generator) formulaWithoutOther(kind string) string {
	names := map[string][]string{}
	for k, list := range g.names {
		for _, n := range list {
			if strings.HasPrefix(n, "set") || n == "fixed" {
				names[k] = append(names[k], n)
			}
		}
	}
	all := g.names
	g.names = names
	f := g.formula(kind, 1)
	g.names = all
	return f
}

// dataFiles are those that generated pages look things up in: rows in no order, some without a neighbour.
var dataFiles = []string{
	"table.csv", "film,at [°C],minutes [min]\nroll,24,6\nsheet,18,11.5\na b,20,9 min 30 s\nother,22,7\n",
	"pairs.csv", "film,at [°C],minutes [min]\nroll,20,6\nsheet,20,7\nsheet,18,8\na b,24,9\nroll,24,4\na b,18,12 min 30 s\n",
	"closed.csv", "day\n2026-12-25\n2026-11-30\n2026-12-26\n2024-03-01\n2026-11-30\n",
	"curve.csv", "amount,out\n1,0.5\n4,7\n2,0.9\n12,80\n",
}

// TestGenerated compares random pages.
func TestGenerated(t *testing.T) {
	t.Parallel()
	r := referee(t)
	pages, cases, refused := generated(t, func(t failer, p Page) (int, int) { return compare(t, r, p, max(1, enough()/1000)) })
	if !t.Failed() && cases < enough()/10 {
		t.Errorf("only %d cases", cases)
	}
	t.Logf("%d pages, %d cases, %d of them refused", pages, cases, refused)
}

// generated writes random pages and compares each.
func generated(t *testing.T, compare func(failer, Page) (cases, refused int)) (pages, cases, refused int) {
	t.Helper()
	one := func(rt *rapid.T) {
		g := &generator{t: rt, data: rapid.Bool().Draw(rt, "data")}
		files := append([]string{}, dataFiles...)
		use := rapid.IntRange(0, 3).Draw(rt, "use") == 0
		var given, figures [][2]string
		if use {
			other := "given:\n  size: {value: 300 ml, from: 100 ml, to: 900 ml}\n  strong: {value: true}\n  times: {value: 2, from: 1, to: 4}\n" +
				"figures:\n  doubled: size * times\n  weak: 'strong ? 1 s / (times - 3) : 2 s'\nlimits:\n  - when: doubled > 1 l\n    notice: Much.\n  - when: doubled > 3 l\n    refuse: Too much.\n"
			files = append(files, "other.md", "---\ntitle: Other\naudience: staff\n"+other+"---\n")
			given = [][2]string{{"size", "volume"}, {"strong", "yes"}, {"times", "number"}}[:rapid.IntRange(0, 3).Draw(rt, "sets")]
			figures = [][2]string{{"doubled", "volume"}, {"weak", "time"}}
		}
		front := g.front(use, given, figures)
		s, list := pageOrList(t, front, files...)
		if list.Errors() > 0 {
			for _, d := range list {
				switch d.Code {
				case "formula-too-large", "formula-too-deep", "formula-too-long", "step-not-positive":
					return
				}
			}
			rt.Fatalf("%s\n%s", list, front)
		}
		p := Page{Sheet: s}
		for _, f := range s.Sorted[:min(1, len(s.Sorted))] {
			p.Placed = append(p.Placed, Placed{Node: f.Node, Show: f.Show})
		}
		c, n := compare(rt, p)
		pages, cases, refused = pages+1, cases+c, refused+n
	}
	rapid.Check(t, func(rt *rapid.T) {
		one(rt)
		one(rt)
	})
	return pages, cases, refused
}
