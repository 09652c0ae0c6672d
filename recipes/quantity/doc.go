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
//   - Reading: look-alike signs are replaced (normalise.go), then Parse and the like go
//     through the text (parse.go, value.go), each form in a file of its own: number.go,
//     duration.go, fraction.go, dilution.go, date.go, unit_read.go. What cannot be read is a
//     Trouble with a place and what to write instead (unknown.go, date_forms.go). Find and
//     Typed look for quantities in running text (find.go, typed.go).
//   - Comparing and rounding, with one tolerance for the whole program: compare.go.
//   - Showing: a Show is read (show_parse.go) or follows from the kind (show.go), and
//     writes a value (format.go).
//
// Values are read as fractions and become floats once, so that 68 °F is 20 °C to the last
// bit. Nothing here returns a Go error: a Trouble holds the message for whoever
// wrote the text.
//
// # Decisions
//
// Base units are cm, g, s, mol, K, stop and the currency, so that a millilitre is 1 and the
// absolute tolerance of 1e-12 means something for drops. Temperatures on a scale are kept in
// degrees Celsius: differences of typed values are exact.
//
// Counted things are kept apart from the units, since their words may be names of a page: IsUnit
// does not know them, IsCount does. A kind holds their powers as one text (roll-1 sheet1), so
// that kinds are still compared with ==. A lab's own are registered for the whole process when
// its settings are read, and never taken back, as a process serves one lab; a page's script
// names those that it uses.
//
// A date is a point of time in whole days, kept in seconds from 1970-01-01, 86400 for every
// day, so that the difference of two dates is a time, as that of two temperatures is in kelvin,
// and ranges, steps, tolerances, spans and axes need no rule of their own. Each sum that gives a
// date is wrapped in formula.OnDay. Time zones play no part; a page asks the reader's calendar
// only which day it is. page.Sheet.DependsOnToday finds what depends on the day, and a page that
// does is worked out again on another day (render/work, Today). The preview's pages keep to the
// preview's day.
//
// What is typed by hand is looked for in more forms than pages read (Typed): 20 C, 1:20, 3
// minutes. Numbers in words stay free, since running text is full of them.
package quantity
