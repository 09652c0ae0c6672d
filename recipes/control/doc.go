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
//   - The readings of a chart judged by limits worked out from the first of them: judge.go.
//   - Bands, and the errors that all share: control.go. Each function says which it returns.
//
// # Decisions
//
// A chart is judged once (judge.go, called by prove.Case.Judge), and chart, check, register and
// preview show the result. Limits worked out from readings are those of a baseline and stay:
// limits from all readings would widen with the very drift that they should show. Twenty
// readings leave a sigma that is itself uncertain, so of the run rules only "beyond 3 sigma" is
// an alarm (chance alone sets it off in one steady month in six, where all rules together would
// do so in every second month: TestAlarmsOfASteadyProcess), and the others are named below the
// chart. Points of a column that depends on a setting are moved in the browser
// (themes/redraw/charts.js); where they are judged, the drawing stays as tested, since the
// browser would have to work out the limits again.
package control
