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
package prove
