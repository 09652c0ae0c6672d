package script

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/quantity"
)

// units is the table of units as a text that the runtime reads. There is a line for each kind, with
// its powers first, then its units with their names and exact factors. A unit's first name is the
// one shown, and the others keep the order of the table.
//
//	0,1,0,0,0,0,0:g=1;µg,ug=1/1000000
//
// Currencies are listed by the number of decimals of their minor unit.
func units() string {
	var lines []string
	at := map[string]int{}
	money := map[int][]string{}
	for _, entry := range quantity.Entries() {
		if entry.Kind.Money != 0 {
			money[entry.Decimals] = append(money[entry.Decimals], entry.Name)
			continue
		}
		key := powers(entry.Kind)
		if entry.Kind.Sort == quantity.Point {
			key += ",p"
		}
		names := []string{entry.Text}
		for _, name := range append([]string{entry.Name}, entry.Also...) {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		for _, ending := range []string{"s", "es"} {
			if u, ok := quantity.Lookup(entry.Name + ending); ok && u.Text == entry.Text {
				names = append(names, entry.Name+ending)
			}
		}
		text := strings.Join(names, ",") + "=" + entry.Exactly
		if entry.Zero != 0 {
			text += " " + fraction(entry.Zero)
		}
		i, ok := at[key]
		if !ok {
			i = len(lines)
			at[key] = i
			lines = append(lines, key+":")
		} else {
			text = ";" + text
		}
		lines[i] += text
	}
	for _, decimals := range []int{0, 2, 3} {
		lines = append(lines, strconv.Itoa(decimals)+":"+byInitial(money[decimals]))
	}
	return strings.Join(lines, "\n")
}

// countWords lists the singular and plural of counted things.
func countWords(counts []quantity.Count) [][2]string {
	words := [][2]string{}
	for _, c := range counts {
		words = append(words, [2]string{c.One, c.Several})
	}
	return words
}

// byInitial writes codes of three letters, with a common initial only once: AED AFN BAM becomes
// AEDFN BAM.
func byInitial(codes []string) string {
	slices.Sort(codes)
	var b strings.Builder
	for i, c := range codes {
		if i == 0 || codes[i-1][0] != c[0] {
			b.WriteString(" " + c[:1])
		}
		b.WriteString(c[1:])
	}
	return b.String()[1:]
}

// powers writes the powers of a kind in the order in which the runtime has them.
func powers(k quantity.Kind) string {
	var parts []string
	for _, p := range []int8{k.Length, k.Mass, k.Time, k.Amount, k.Degree, k.Stop, k.Money} {
		parts = append(parts, strconv.Itoa(int(p)))
	}
	return strings.Join(parts, ",")
}

// fraction is the simplest fraction that equals a float. Trying is enough, since the zeros of scales
// are fractions of small numbers.
func fraction(v float64) string {
	for below := 1.0; below < 1000; below++ {
		if above := math.Round(v * below); above/below == v {
			return strconv.FormatFloat(above, 'f', 0, 64) + "/" + strconv.FormatFloat(below, 'f', 0, 64)
		}
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// kinds lists the kinds that have a name, by their powers.
func kinds() map[string]string {
	out := map[string]string{}
	for _, k := range []quantity.Kind{quantity.Number, quantity.Length, quantity.Area, quantity.Volume, quantity.Mass, quantity.Time,
		quantity.Amount, quantity.Degree, quantity.Stops, quantity.Pressure, quantity.Energy, quantity.Power} {
		out[powers(k)] = k.Name()
	}
	out[powers(quantity.Scale)+",p"] = quantity.Scale.Name()
	out[powers(quantity.Date)+",p"] = quantity.Date.Name()
	return out
}
