// Package prove works pages out: at their own values, at any others, and over the cases that a
// reader can set, to find whether a page may be published.
//
// It reads no front matter, which is package page's business, and never changes a Sheet. The
// same arithmetic runs in the browser: script/runtime says beside each function which one
// here it follows.
//
// # Phases
//
//   - Work: a Case holds a page's values in one frame and works them out (work.go), with
//     those of the pages that it draws on (parts.go). From a case come the times of its steps
//     (process.go) and the cells of its tables (grid.go).
//   - Check: each check is worked out at the values that it sets, and gives verdicts
//     (checks.go; sides.go words the rule that does not hold).
//   - Try: all combinations of the values that can be set are tried, or a sample of them
//     (cases.go): every figure finite, every rule kept, limits of charts in order
//     (over_cases.go, chart_limits.go).
//   - Look between: where an operation has a pole that may lie within its span (reach.go), the
//     place is looked for between the cases that were tried (poles.go).
//
// # Decisions
//
// A pole between two tried values is looked for (poles.go), since a reader may set values
// between the steps. First the span of each divisor is worked out by intervals (reach.go and
// formula.Span, by which rules are proved and a script leaves out what nobody can look up);
// most exclude zero and need no further work. The rest are watched over the cases, and where
// one changes its sign the place is narrowed by halving. That costs a twentieth of proving the
// demo.
//
// Rules are proved by enclosing, not by trying (continuous.go): spans over boxes of settings,
// which are halved where they leave a rule open, at most 600 of them for a rule. Four things
// ease what a plain interval cannot see: parts are written as sums of products, so that like
// terms cancel (lines.go); what is not refused keeps the limits that would refuse it
// (relation.go, contract.go); slopes from the middle of the box, by the mean value theorem
// (meanvalue.go); and each branch of an if on its own. What an operation contributes is in
// its entry: span, slopes, linear, Power, Undoes, NoMore, NoLess, Above; without them it is
// merely enclosed more widely.
//
// Ends are rounded outward by 1e-12, which covers browsers as well. Where an assumption or a
// rounding went into a proof, four times the noise of the last digits is allowed, since what is
// not refused may lie that far beyond its limit. A box that denies a rule is reported only once
// plain arithmetic at its middle has agreed. Choices and whole numbers, where they are all that a
// rule follows and no more than 1,024, are worked out one by one. What an assumption says of a
// product of its sides is tried in the first 24 boxes of a rule, since algebra that settles a
// rule does so in large boxes.
//
// Of the demo's 72 rules 68 are proved; TestProofsOfTheDemo lists the others with reasons. make
// bench BENCH=Proofs prints the rules that take more than 5 ms; the longest, a burn against a
// dodge, took 28 ms of a processor when the machine was least busy, all others less than 25.
//
// How sure a figure is comes from forward derivatives over the formulas, through the pages
// drawn on (sureness.go, which recipes/script/runtime/sureness.js follows). An operation's
// derivative is a part of its entry (slopes): trees over the same operands, so that one text is
// worked out, enclosed for proofs, and written as a script. Roundings are taken out
// (formula.Smoothed) and count as sources of their own. An operation without slopes makes what
// depends on it unknown, and the page says that.
//
// A refusal takes tables and charts along, though some of their cells would hold on their own:
// a page that refuses its settings shows no numbers.
package prove
