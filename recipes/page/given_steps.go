package page

import "labsite/recipes/quantity"

// MostSteps is how many steps a given may have for all of them to be run through.
const MostSteps = 4096

// steps are all values that a given takes in its steps, within its own range; nil if it
// has no steps.
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

// Steps are low, low + step … and high. Each is worked out from the low end, so that
// no error adds up.
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

// stepText writes a value that steps lead to: in the fractions of the step (1/3 stop), as
// a duration where value and step are times of two units (2 min, by 90 s), and else as
// the value is written. Only what reads as the very value will do.
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

// stepped is the form of the values between steps, where it is not that of the first.
func stepped(first quantity.Value, step *quantity.Value) (quantity.Show, bool) {
	switch {
	case step.Kind == quantity.Stops && step.Form == quantity.Fraction:
		return step.AsWritten(), true
	case first.Kind == quantity.Time && step.Unit.Text != first.Unit.Text && first.Form != quantity.Fraction:
		return quantity.DefaultShow(quantity.Time, quantity.Unit{}), true
	}
	return quantity.Show{}, false
}
