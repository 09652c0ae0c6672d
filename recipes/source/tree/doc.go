// Package tree reads YAML as it is written, with exact places: scalars are texts and
// never YAML's own numbers or truth values, and each byte of a scalar is known by where
// it is in the file, through quotes, escapes and folded lines. What YAML would read
// otherwise than its writer meant is reported at the place that needs quotes; where YAML
// cannot read a text at all, the lines are searched for the mistakes that people make.
//
// It knows no keys and no meaning; those are its callers'.
//
// # Phases
//
//   - Parse has the library read a text, and turns its nodes into Values with places (tree.go,
//     scalar.go, flow.go).
//   - What was read otherwise than meant is looked for (traps.go); where nothing could be read,
//     the mistake is looked for by the lines (faults.go).
//   - A table of Entries says which keys there are, for decoders, schemas and editors (entry.go).
package tree
