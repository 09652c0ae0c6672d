// Package source holds the text of the files that a lab writes, and everything about places in
// them: positions, diagnostics and their wording.
//
// It knows nothing about YAML, Markdown or formulas, and does no I/O: callers hand it bytes.
// Every other package reports its diagnostics through it, so that the same mistake is worded the
// same way wherever it is found.
//
// # Phases
//
//   - A File knows its lines, and gives the Span of any of its bytes (file.go).
//   - Each mistake has a function in wording*.go that words it as a Problem, which becomes a
//     Diagnostic when it is given a span (diagnostic.go; related.go keeps its other places).
//   - A List is sorted and bounded: at most 100 messages of each severity for a file, and 1,000
//     in all (bounded.go).
package source
