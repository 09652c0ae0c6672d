package control

import "fmt"

// Aim is a shop's target for a process: the value aimed at and how far from it
// a reading may lie, in the unit of the readings. The shop owns all three; none
// comes from the readings.
type Aim struct {
	Value   float64 // reference plus the correction for the batch of strips
	Action  float64 // further off than this: look for the cause; not negative
	Control float64 // further off than this: stop the work; not below Action
}

// Verdict is what a reading calls for.
type Verdict int

const (
	Fine  Verdict = iota // within the action limit
	Check                // beyond the action limit: find the cause
	Stop                 // beyond the control limit: stop work
)

// Judge returns how far the reading lies from the aim, and what that calls for.
// A reading on a limit is within it. Source: US Navy photography training
// manual, process monitoring (action and control limits); the limits themselves
// are the shop's.
func (a Aim) Judge(reading float64) (deviation float64, v Verdict, err error) {
	if err := checkSettings(a.Value, a.Action, a.Control, reading); err != nil {
		return 0, Fine, err
	}
	if a.Action < 0 || a.Control < a.Action {
		return 0, Fine, fmt.Errorf("%w: action limit %g, control limit %g", ErrSetting, a.Action, a.Control)
	}
	deviation = reading - a.Value
	switch {
	case around(a.Value, a.Control).Outside(reading) != 0:
		v = Stop
	case around(a.Value, a.Action).Outside(reading) != 0:
		v = Check
	}
	return deviation, v, nil
}
