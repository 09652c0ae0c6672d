// Package quantity knows numbers with units: their kinds, the units themselves, how a person
// writes them, how exactly they convert, and how they are shown again.
//
// It knows no formulas and no pages, and decides nothing about a process. Inside the program
// a quantity is a float64 in the base unit of its kind (centimetre, gram, second, mole,
// kelvin, stop, the currency, and what these make when joined; a temperature on a scale is
// kept in degrees Celsius, a date in seconds since 1970-01-01), so that everything after
// reading is plain arithmetic.
//
// # Phases
//
//   - The table: units.txt and currencies.txt are read once (unit.go). A unit has an exact
//     factor, a fraction of whole numbers; systems.txt says which units of the other system
//     values are shown in as well (systems.go).
//   - Reading: look-alike signs are replaced (normalise.go), then Parse and its kin go
//     through the text (parse.go, value.go), each form in a file of its own: number.go,
//     duration.go, fraction.go, dilution.go, date.go, unit_read.go. What cannot be read is a
//     Trouble at a place, with what to write instead (unknown.go, date_forms.go). Find and
//     Typed look for quantities in running text (find.go, typed.go).
//   - Comparing and rounding, with one tolerance for the whole program: compare.go.
//   - Showing: a Show is read (show_parse.go) or follows from the kind (show.go), and
//     writes a value (format.go).
//
// Values are read as fractions and become floats once, so that 68 °F is 20 °C to the last
// bit. Nothing here returns an error of Go's own: a Trouble holds the message for whoever
// wrote the text.
package quantity
