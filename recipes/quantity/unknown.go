package quantity

import (
	"strings"

	"labsite/recipes/source"
)

// Words that people write for a unit, and the unit that they mean.
var meant = map[string]string{
	"in": "inch", "feet": "ft", "foot": "ft", "sec": "s", "secs": "s", "second": "s", "seconds": "s",
	"minute": "min", "minutes": "min", "mins": "min", "hr": "h", "hrs": "h", "hour": "h", "hours": "h",
	"d": "day", "wk": "week", "yr": "year", "cc": "ml", "ccm": "ml", "litre": "l", "litres": "l",
	"liter": "l", "liters": "l", "millilitre": "ml", "millilitres": "ml", "milliliter": "ml",
	"gram": "g", "grams": "g", "gramme": "g", "gr": "g", "lbs": "lb", "c": "°C", "C": "°C", "F": "°F",
	"degC": "°C", "degF": "°F", "deg": "°C", "kelvin": "K", "percent": "%", "pct": "%", "floz": "fl_oz",
	"gallon": "gal", "gallons": "gal", "qt": "quart", "pt": "pint", "sqm": "m2", "sqin": "sq_inch",
	"sqft": "sq_ft", "meter": "m", "metre": "m", "meters": "m", "metres": "m", "micron": "µm", "microns": "µm",
	"°": "°C", "EV": "stop", "ev": "stop", "f": "°F", "atm": "bar", "$": "USD", "usec": "ms",
}

// unknownUnit says what may have been meant; before is what stands before the name,
// number and blank included.
func unknownUnit(name, before string) source.Problem {
	if name == "oz" || name == "ounce" || name == "ounces" || name == "Oz" || name == "OZ" {
		return source.WhichOunce(strings.TrimSpace(before))
	}
	if m, ok := meant[name]; ok {
		return source.UnknownUnit(name, m, before)
	}
	if same := units.byLower[strings.ToLower(name)]; len(same) > 0 {
		return source.UnknownUnit(name, same[0], before)
	}
	if len(name) == 3 && strings.ToUpper(name) == name {
		return source.UnknownUnit(name, source.Nearest(name, units.names), before)
	}
	var small []string
	for _, n := range units.names {
		if !(len(n) == 3 && strings.ToUpper(n) == n) {
			small = append(small, n)
		}
	}
	return source.UnknownUnit(name, source.Nearest(name, small), before)
}
