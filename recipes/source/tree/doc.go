// Package tree reads YAML as it is written, with exact places: scalars are texts, never
// YAML's own numbers or truth values, and each byte of a scalar has its place in the file,
// through quotes, escapes and folded lines. Where YAML would read something differently from
// what its writer meant, the place that needs quotes is reported; where YAML cannot read a
// text at all, the lines are searched for the mistakes that people make.
//
// What the keys are, and what they mean, is left to callers.
//
// # Phases
//
//   - Parse has the library read a text, and turns its nodes into Values with places (tree.go,
//     scalar.go, flow.go).
//   - traps.go looks for what YAML reads differently from what was meant; if nothing could be read,
//     faults.go searches the lines for the mistake.
//   - A table of Entries says which keys there are, for decoders, schemas and editors (entry.go).
package tree
