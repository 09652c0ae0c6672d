package source

import "fmt"

// Messages about what a page makes.

// ProductNothing reports an amount or a time of a product that is not above zero.
func ProductNothing(key, shown string) Problem {
	return fault("product-nothing", fmt.Sprintf("%s comes to %s, which cannot go on a label", key, shown), "Give a value above zero, or a formula that comes to one at the page's own values.")
}

// ProductRefused reports an amount or a time of a product whose formula refuses where the
// page does not.
func ProductRefused(key, why string) Problem {
	return fault("product-refused", fmt.Sprintf("%s cannot be worked out at the page's own values: %s", key, why), "Give the page values for which it can, or name a figure here and refuse with a limit.")
}
