// Package source holds the text of the files that a lab writes, and what there
// is to say about places in them: positions, diagnostics and their wording.
//
// It knows nothing of YAML, Markdown or formulas, and it reads no disk: callers
// hand it bytes. Every other package reports trouble through it, so that one
// trouble has one wording wherever it is met.
//
// # Phases
//
//   - A File knows its lines, and gives the Span of any of its bytes (file.go).
//   - What is wrong is worded as a Problem, by a function of wording*.go each, and becomes a
//     Diagnostic where it is put at a span (diagnostic.go; related.go keeps its other places).
//   - A List is sorted, and bounded: of each file 100 messages of a severity, 1,000 in all
//     (bounded.go).
package source
