// Package shelf copies pages of the demo for another lab, by what that lab does.
//
// A page keeps how the work is done: formulas, steps, cautions, and the numbers as examples. It
// loses everything by which a number would pass for tested: approvals, revisions, owners, days of
// measurement and reviews. Each value that somebody must own, each tested range of temperature,
// each data file and each expected value that was measured is marked "not yet measured here", so
// that a check lists them and no page can be approved before they are measured. All pages are
// drafts.
//
// Checks stay as they are. They hold for the example values, and their source says so; once the lab
// puts in a value of its own, those that depend on it fail, and the lab works them out again.
// Dropping them would leave the formulas untested, and fixing them to the example values would
// leave the lab's own values untested.
//
// # Decisions
//
// The shelf is the demo itself: its pages are edited as they are copied, at the places that package
// tree finds, so there is no second copy to maintain. The topics of a page decide which labs it is
// for (trades.go); one with no topic of a trade is for every lab.
package shelf
