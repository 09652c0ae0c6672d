// Package formula is the language of a page's formulas: it reads them, infers the kind of
// every part before anything runs, and works them out on plain floats in base units. It is
// the only home of the expression engine, whose parser it uses.
//
// It knows no pages and no YAML: names are resolved by a Scope that the caller gives. It
// writes no script, but each operation says how it stands in one.
//
// # Operations
//
// Everything that the program knows about an operator or a function stands in one entry, an
// Operation (operation.go), in the list of its topic: op_arithmetic.go, op_comparing.go,
// op_logic.go, op_choosing.go, op_curves.go, op_rounding.go, op_conversions.go, op_data.go,
// and op_structure.go for what has no operator or name. Entries hold words, an example,
// kinds, arithmetic, the interval of results (span.go) and JavaScript (javascript.go). The
// stages below read them; KINDS.md lists them and what kinds come out.
//
// # Phases
//
//   - Scan: literals are read and blanked, signs and words that pages do not get are refused
//     by name (scan.go and scan_*.go). The tokens are also what highlighting colours.
//   - Parse: the engine's parser makes a tree, and its errors are put into the writer's terms
//     (parse.go).
//   - Infer: the tree becomes one of Nodes, each with its operation and kind (infer.go,
//     binary.go, call.go; node.go). A bench formula is expanded in place (trade.go,
//     trade_fit.go, trade_call.go). Whose value a result is follows from the tree
//     (ownership.go).
//   - Eval: a Node works itself out over a Frame, without allocating (eval.go). Columns of
//     data files are searched in search.go.
package formula
