// Package tree reads YAML as it is written, with exact places: scalars are texts and
// never YAML's own numbers or truth values, and each byte of a scalar is known by where
// it is in the file, through quotes, escapes and folded lines. What YAML would read
// differently than its writer meant is reported at the place that needs quotes; where YAML
// cannot read a text at all, the lines are searched for the mistakes that people make.
//
// It knows neither keys nor meanings; those are its callers'.
//
// # Phases
//
//   - Parse has the library read a text, and turns its nodes into Values with places (tree.go,
//     scalar.go, flow.go).
//   - traps.go looks for what was read differently than meant; if nothing could be read,
//     faults.go searches the lines for the mistake.
//   - A table of Entries says which keys there are, for decoders, schemas and editors (entry.go).
package tree
