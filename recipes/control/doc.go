// Package control holds the statistics of process control that a lab needs for the readings
// of its control strips.
//
// Everything is a pure function of plain numbers in whatever unit the readings have. It is
// not a store of readings, draws nothing (that is render/chart) and has nothing to do with
// document control: revisions and approvals live elsewhere. It decides nothing about a
// process either: limits that come from few readings, or from readings of a process that was
// already off, are wrong whatever the formula.
//
// # What is where
//
//   - Limits from the readings themselves and their moving ranges: individuals.go.
//   - Averages that weight the newest reading most, with their limits: average.go.
//   - Tests for runs, which are data that a shop may replace: rules.go.
//   - The shop's own aim, with its action and control limits: aim.go.
//   - The readings of a chart held to limits worked out from the first of them: judge.go.
//   - Bands, and the errors that all share: control.go. Each function says which it returns.
package control
