// Package schema writes the tables by which the lab's YAML files are decoded as JSON Schema,
// for editors and for whoever checks files without this program, and the formula language's
// parts as a grammar for colours. Both are generated from the tables that the program itself
// reads, so that they cannot drift from it.
//
// A schema knows shapes, keys and words. Only the program knows what a formula means, whether
// a quantity has the right kind, or whether a name exists.
//
// # Phases
//
//   - Of makes a schema from the table of a file's keys (schema.go).
//   - Patterns and Colours make the grammar from the operations and the units (colours.go).
package schema
