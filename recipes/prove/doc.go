// Package prove works pages out, at their own values, at any others, and over all that a reader
// can set, to find out whether a page may be published.
//
// It reads no front matter, which package page does, and never changes a Sheet. The same
// arithmetic runs in the browser: each function in script/runtime says which one here it
// follows.
//
// # Phases
//
//   - Work: a Case holds a page's values in one frame and works them out (work.go), with
//     those of the pages that it draws on (parts.go). From a case come the times of its steps
//     (process.go) and the cells of its tables (grid.go).
//   - Check: each check is worked out at the values that it sets, and gives verdicts
//     (checks.go; sides.go describes a rule that does not hold).
//   - Try: all combinations of the values that can be set are tried, or a sample of them
//     (cases.go). Every figure must be finite, every rule must hold, and limits of charts must
//     be in order (over_cases.go, chart_limits.go).
//   - Look between: if an operation may have a pole (reach.go), it is searched for between the
//     cases that were tried (poles.go).
//
// # Decisions
//
// A pole between two tried values is searched for (poles.go), since a reader may set values
// between the steps. First the span of each divisor is worked out in interval arithmetic
// (reach.go and formula.Span, which also serve to prove rules and to leave out of a script the
// rows that nobody can look up); most spans exclude zero and need no further work. The other
// divisors are watched over the cases, and where one changes its sign, the place is narrowed
// down by halving. This is a twentieth of the cost of proving the demo.
//
// Rules are proved by enclosing their values over boxes of settings, not by trying
// (continuous.go); boxes that leave a rule open are halved, up to 600 boxes for a rule. Plain
// intervals are often too wide, so four things help: parts are written as sums of products, so
// that like terms cancel (lines.go); settings that are not refused keep within the limits that
// refuse (relation.go, contract.go); slopes are taken from the middle of the box, by the mean
// value theorem (meanvalue.go); and each branch of an if is looked at by itself. What an
// operation contributes is in its entry: span, slopes, linear, Power, Undoes, NoMore, NoLess,
// Above; without them it is merely enclosed more widely.
//
// Ends are rounded outward by 1e-12, which covers browsers as well. If an assumption or a
// rounding went into a proof, four times the noise of the last digits is allowed, since a value
// that is not refused may lie that far beyond its limit. A box in which a rule never holds is
// reported only if plain arithmetic at its middle agrees. If a rule depends only on choices and
// whole numbers, with no more than 1,024 combinations, these are worked out one by one. What an
// assumption says of a product of its sides is tried in the first 24 boxes of a rule, since
// algebra that settles a rule does so in large boxes.
//
// Of the demo's 72 rules 68 are proved; TestProofsOfTheDemo lists the others with reasons. make
// bench BENCH=Proofs prints the rules that take more than 5 ms; the longest, a burn against a
// dodge, took 28 ms of a processor when the machine was least busy, all others less than 25.
//
// How sure a figure is comes from forward derivatives over the formulas, through the pages
// drawn on (sureness.go, which recipes/script/runtime/sureness.js follows). An operation's
// derivative is a part of its entry (slopes): trees over the same operands, so that the same
// trees are worked out, enclosed for proofs, and written as a script. Roundings are taken out
// (formula.Smoothed) and count as sources of their own. If an operation has no slopes, the
// sureness of what depends on it is unknown, and the page says so.
//
// A refusal also takes away tables and charts, even where some of their cells would hold: a page
// that refuses its settings shows no numbers.
package prove
