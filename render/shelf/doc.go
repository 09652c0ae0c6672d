// Package shelf takes pages off the demo's shelf for another lab, by what that lab does.
//
// What comes along is how the work is done: formulas, steps, cautions, and the numbers as
// examples. What does not come along is everything by which a number would pass for tested:
// approvals, revisions, owners, days of measurement and reviews. Each value that somebody must
// own, each tested range of temperature, each data file and each expected value that was
// measured is marked "not yet measured here", so that a check lists them and no page can be
// approved before they are measured. All pages are drafts.
//
// Checks come along as they are. They hold for the values that are laid down, and their source
// says so; where the lab puts its own value in, those that depend on it fail, and the lab works
// them out again. To drop them would leave the formulas without a test, and to tie them to the
// examples would leave the lab's own values without one.
//
// # Decisions
//
// The shelf is the demo itself: its own pages are edited while they are laid down, at the
// places that package tree knows, so there is no second copy to keep. Which page is whose
// follows from its topics (trades.go); a page with none of those is every lab's.
package shelf
