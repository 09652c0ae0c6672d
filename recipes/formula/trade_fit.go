package formula

import (
	"strings"

	"labsite/recipes/quantity"
)

// Fit is what kinds a parameter takes, or a result may be. The zero Fit is a plain
// number.
type Fit struct {
	// Kind is one kind. quantity.Any is every kind that can be computed with; money
	// without a code is any currency, the same one throughout a call.
	Kind quantity.Kind
	// Amount keeps temperatures on a scale out of Any: their zero is arbitrary, so they
	// must not be multiplied.
	Amount bool
	// Like names a parameter before it whose kind this is; Step makes it the kind of a
	// difference of two such values.
	Like string
	Step bool
}

// Words says what a Fit takes, for a message.
func (f Fit) Words() string {
	switch {
	case f.Like != "" && f.Step:
		return "a difference of " + f.Like
	case f.Like != "":
		return "the kind of " + f.Like
	case f.Kind.Sort == quantity.Unknown && f.Amount:
		return "a quantity other than a temperature"
	case f.Kind.Sort == quantity.Unknown:
		return "a quantity"
	case f.Kind.Money != 0 && f.Kind.Currency == "":
		k := f.Kind
		k.Money, k.Currency = 0, ""
		name := "money"
		if f.Kind.Money < 0 {
			name = "something for money"
		}
		if k != quantity.Number {
			name += " (" + strings.Replace(f.sample("USD").Default().Text, "USD", "currency", 1) + ")"
		}
		return name
	}
	return f.Kind.Name()
}

// sample is the kind with a currency put in.
func (f Fit) sample(currency string) quantity.Kind {
	k := f.Kind
	if k.Money != 0 && k.Currency == "" {
		k.Currency = currency
	}
	return k
}

// binding holds what the arguments of one call have determined so far.
type binding struct {
	kinds    map[string]quantity.Kind
	currency string
}

// want is the kind that a Fit needs in this call, quantity.Any if it takes any.
func (b *binding) want(f Fit) quantity.Kind {
	if f.Like != "" {
		k := b.kinds[f.Like]
		if f.Step {
			k = k.Difference()
		}
		return k
	}
	return f.sample(b.currency)
}

// takes reports whether a kind fits, and records the currency if it was still open.
func (b *binding) takes(f Fit, k quantity.Kind) bool {
	want := b.want(f)
	switch {
	case want.Sort == quantity.Unknown:
		return k.Sort == quantity.Measure || k.Sort == quantity.Point && !f.Amount
	case want.Money != 0 && want.Currency == "" && k.Currency != "":
		open := k
		open.Currency = ""
		if open == want {
			b.currency = k.Currency
			return true
		}
		return false
	}
	return k == want
}
