package write

import (
	"testing"

	"labsite/recipes/formulary"
	"labsite/recipes/script"
	"labsite/render/content"
	"labsite/render/theme"
	"labsite/render/work"
)

// Every bench formula can be tried: its page has no errors, refuses just the worked examples that are
// refused, and its script agrees with Go at all of them.
func TestBenchTrials(t *testing.T) {
	engine, err := script.Compile(theme.Slim(theme.RuntimeFile, script.Core()))
	if err != nil {
		t.Fatal(err)
	}
	referee, err := engine.Referee()
	if err != nil {
		t.Fatal(err)
	}
	set := formulary.Load()
	s := &Site{Content: &content.Content{Formulas: set, Top: &content.Folder{}}}
	examples, tried := 0, 0
	for _, e := range set.All() {
		full := s.BenchTrial(e)
		if full == nil || full.Script == nil {
			t.Errorf("%s cannot be tried: %v", e.Name, full)
			continue
		}
		examples += len(e.Checks)
		tried += len(full.Sheet.Checks)
		if len(full.Sheet.Given) != len(e.Params) {
			t.Errorf("%s: %d of %d parameters can be set", e.Name, len(full.Sheet.Given), len(e.Params))
		}
		for _, g := range full.Sheet.Given {
			if !g.Settable() {
				t.Errorf("%s: %s cannot be set", e.Name, g.Name)
			}
		}
		js, err := full.Script.Formulas()
		if err != nil {
			t.Errorf("%s: %v", e.Name, err)
			continue
		}
		for _, d := range referee.Agree(t.Context(), full.Script.Page(), js) {
			t.Errorf("%s: %s", e.Name, d.Message)
		}
	}
	// few worked examples lie beyond what can be set
	if tried < examples*9/10 {
		t.Errorf("%d of %d worked examples can be set", tried, examples)
	}
}

// Formulas about masses, volumes and temperatures have a caution above their numbers; those about light
// have none.
func TestBenchCautions(t *testing.T) {
	set := formulary.Load()
	s := &Site{Content: &content.Content{Formulas: set, Top: &content.Folder{}}}
	for name, want := range map[string]int{"weigh_for_batch": 1, "concentrate_in": 1, "time_at_temperature": 1, "reciprocity_time": 0, "burn_time": 0} {
		e, ok := set.Find(name)
		if !ok {
			t.Fatalf("there is no %s", name)
		}
		var full *work.Page = s.BenchTrial(e)
		if got := len(full.Sheet.Cautions); got != want {
			t.Errorf("%s has %d cautions, want %d", name, got, want)
		}
	}
}
