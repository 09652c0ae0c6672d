package prove

import (
	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Product works out a value of what the page makes and writes it for a label. ok is false if the
// page or the formula refuses. The value is missing if it waits for a reading.
func (c *Case) Product(v *page.ProductValue) (shown quantity.Shown, ok bool) {
	if v == nil || v.Node == nil || c.Refused() || len(c.Failed) > 0 {
		return quantity.Shown{}, false
	}
	return c.WriteFormula(v.Node, v.Show)
}

// products reports amounts and times of what the page makes that no label can state: those that
// are refused, not finite or not above zero.
func (c *Case) products() source.List {
	if c.Refused() || len(c.Failed) > 0 {
		return nil
	}
	var list source.List
	for _, m := range c.Sheet.Makes {
		for _, v := range m.Values() {
			if v.Node == nil {
				continue
			}
			c.Frame.Reset()
			c.Room()
			n := v.Node.Eval(&c.Frame)
			switch fault := c.Frame.Fault; {
			case fault == formula.Missing:
			case fault.Refuses():
				list = append(list, source.ProductRefused(v.Key, c.reason(fault, c.Frame.At)).At(v.Formula.SpanOf(c.Frame.At)))
			case fault != formula.None:
				list = append(list, source.NotFinite(v.Key, ownValues).At(v.Formula.SpanOf(c.Frame.At)))
			case v.Node.Kind != quantity.Date && !quantity.Less(0, n):
				list = append(list, source.ProductNothing(v.Key, v.Show.Format(n).Text).At(v.Formula.Span()))
			}
		}
	}
	return list
}
