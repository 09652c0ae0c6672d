// Package formula is the language of a page's formulas: it reads them, infers the kind of
// every part before anything runs, and works them out on plain floats in base units. It is
// the only home of the expression engine, whose parser it uses.
//
// It knows no pages and no YAML: names are resolved by a Scope that the caller gives. It
// writes no script, but each operation says how it is written in one.
//
// # Operations
//
// Everything that the program knows about an operator or a function is in one entry, an
// Operation (operation.go), in the list of its topic (op_*.go; op_structure.go has those
// without an operator or a name). Entries hold words, an example, kinds, arithmetic, the
// interval of results (span.go) and JavaScript (javascript.go). The stages below read them;
// KINDS.md lists them and what kinds come out.
//
// # Phases
//
//   - Scan: literals are read and blanked, signs and words that pages may not use are refused
//     by name (scan.go and scan_*.go). The tokens are also what highlighting colours.
//   - Parse: the engine's parser makes a tree, and its errors are put into the writer's terms
//     (parse.go).
//   - Infer: the tree becomes one of Nodes, each with its operation and kind (infer.go,
//     binary.go, call.go; node.go). A bench formula is expanded in place (trade.go,
//     trade_fit.go, trade_call.go). Whose value a result is follows from the tree
//     (ownership.go).
//   - Eval: a Node works itself out over a Frame, without allocating (eval.go). Columns of
//     data files are searched in search.go.
//
// # Decisions
//
// The library parses, our own tree runs. Its lexer does not know 5 ml, so scan.go takes every
// literal out first and leaves underscores of the same length; positions hold. Its virtual
// machine boxes every float, which costs an allocation a value; Node.Eval walks the typed tree
// over one slice of floats and allocates nothing, so four thousand cases of a page cost little
// more than a millisecond or two. The engine's own machine serves as a referee in the tests.
//
// Functions over rows never see rows in a case. The rows of each set of keys are put together
// when the formula is inferred (gather.go), so a case and a script look up one value, and Go
// and JavaScript agree to the last bit. Only columns that depend on values a reader can set
// (Column.Live) are worked out in each case: their cells are in the frame, a slot for each row,
// and the slot after them says whether a row failed (recipes/page/adds.go). A limit on each row
// becomes an ordinary limit before anything else sees it (recipes/page/each.go).
//
// A text is a number in its own list of words (texts.go), known for each part of a formula;
// where two lists meet, one side is renumbered by the other.
//
// not binds looser than a comparison (not a > b is not (a > b)): for a yes/no on the left of ==
// both readings agree, and every other reading would be an error of kind.
//
// A name before a point may be a function's (log.density): the page format uses log for a data
// file in its own example.
package formula
