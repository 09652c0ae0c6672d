package theme

import (
	"html/template"
)

// Steps is the data of steps.html: a process in order, with its running clock.
//
// A script can read the list that the built-in theme makes, to count the steps down: see steps.html
// for its data attributes, all in seconds without a unit.
type Steps struct {
	Limits []Limit // the refusal, when the numbers are withdrawn; the steps then have no times
	Rows   []Step
	Total  Value  // all times together, as shown; Plain is empty if no step has a time
	End    Moment // the running clock at the end; Seconds is empty if no step has a time
}

// Step is one step.
type Step struct {
	Number  int           // from 1
	Do      template.HTML // what is done
	Time    Value         // how long; Plain is empty for a step without a time
	Seconds string        // the same as shown, in seconds, "660"; empty for a step without a time
	Starts  Moment        // the running clock when it starts; Seconds is empty when refused
	Agitate *Agitation    // how the tank is moved; nil: not said
	PourAt  *Moment       // when to start pouring out, counted from the step's own start; nil: not said
	Aim     template.HTML // the value to hold with its tolerance; empty: none
	Hold    string        // who must initial before going on; empty: nobody
	Dark    bool          // done in darkness
	Note    template.HTML
	Caution template.HTML // its own safety message, made by Templates.Cautions; comes before it
}

// Agitation is how a tank is moved during a step.
type Agitation struct {
	Text           template.HTML // in the page's own words; everything else is then empty
	First          Value         // how long without pause from the start; Plain is empty if not said
	FirstSeconds   string        // the same in seconds
	Every          Value         // how long from one time to the next
	Inversions     int           // how many turns each time; 0: not said
	Turning        Value         // or how long it is turned each time
	TurningSeconds string        // the same in seconds
	Moments        []Moment      // when it is moved, counted from the step's own start
}

// Again reports whether the tank is moved again after the beginning, at Moments or, if the times are
// withdrawn, at intervals of Every.
func (a Agitation) Again() bool { return len(a.Moments) > 0 || a.Every.Plain != "" }

// Moment is a time on a clock that runs from 0:00.
type Moment struct {
	Clock   template.HTML // as readers see it, <span class="q">1:30</span>
	Seconds string        // "90"; empty: there is no such moment
}

// DarkUntil is the number of the last of several dark steps in a row if the step with an index is the
// first of them; otherwise 0. The theme says so before they begin, while the reader can still read.
func (s Steps) DarkUntil(index int) int {
	if !s.dark(index) || s.dark(index-1) {
		return 0
	}
	last := index
	for s.dark(last + 1) {
		last++
	}
	return s.Rows[last].Number
}

// LightAfter reports whether the step with an index is the last of several dark steps in a row.
func (s Steps) LightAfter(index int) bool { return s.dark(index) && !s.dark(index+1) }

func (s Steps) dark(index int) bool {
	return 0 <= index && index < len(s.Rows) && s.Rows[index].Dark
}

// Refused says whether the times are withdrawn.
func (s Steps) Refused() bool { return refusedAmong(s.Limits) }
