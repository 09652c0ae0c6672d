package page

import "labsite/recipes/quantity"

// MostSteps is how many steps a given may have if all its values are to be run through.
const MostSteps = 4096

// steps lists all values that a given may take, from one end of its range to the other; nil if
// it has no steps.
func (g *Given) steps() []quantity.Value {
	if g.Kind == quantity.Yes {
		return []quantity.Value{{Kind: quantity.Yes, Base: 1, Text: "yes"}, {Kind: quantity.Yes, Text: "no"}}
	}
	if len(g.Choices) > 0 {
		return g.Choices
	}
	step := 0.0
	switch {
	case g.From == nil:
		return nil
	case g.Step != nil:
		step = g.Step.Base
	case g.Whole:
		step = 1
	default:
		return nil
	}
	if (g.To.Base-g.From.Base)/step > MostSteps {
		return nil
	}
	var out []quantity.Value
	for _, base := range Steps(g.From.Base, g.To.Base, step) {
		out = append(out, quantity.Value{Kind: g.Kind, Base: base, Unit: g.Value.Unit, Form: g.Value.Form, Text: stepText(g.Value, g.Step, base)})
	}
	return out
}

// Steps are low, low + step … and high. Each is worked out from low, so that rounding errors do
// not add up.
func Steps(low, high, step float64) []float64 {
	n := int(quantity.Below((high - low) / step))
	out := make([]float64, 0, n+2)
	for i := range n + 1 {
		out = append(out, low+float64(i)*step)
	}
	if last := out[len(out)-1]; quantity.Equal(last, high) {
		out[len(out)-1] = high
	} else {
		out = append(out, high)
	}
	return out
}

// stepText writes a value that is reached by steps: in fractions if the step is one (1/3 stop),
// as a duration if value and step are times in different units (2 min, by 90 s), and otherwise
// in the form of the first value. A form that does not read back as exactly that value is not
// used.
func stepText(first quantity.Value, step *quantity.Value, base float64) string {
	own := first.AsWritten()
	if step == nil {
		return own.Format(base).Text
	}
	if show, ok := stepped(first, step); ok {
		if text := show.Format(base).Text; readsAs(text, base) {
			return text
		}
	}
	return own.Format(base).Text
}

// stepped is the form of the values that steps lead to, if it is not that of the first value.
func stepped(first quantity.Value, step *quantity.Value) (quantity.Show, bool) {
	switch {
	case step.Kind == quantity.Stops && step.Form == quantity.Fraction:
		return step.AsWritten(), true
	case first.Kind == quantity.Time && step.Unit.Text != first.Unit.Text && first.Form != quantity.Fraction:
		return quantity.DefaultShow(quantity.Time, quantity.Unit{}), true
	}
	return quantity.Show{}, false
}
