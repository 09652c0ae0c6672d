package prove

import (
	"testing"

	"labsite/recipes/page/pagetest"
)

// A cell that both a formula and a limit refuse has the limit's text, which says what to do; one that
// only a formula refuses has the formula's reason.
func TestForemostRefusal(t *testing.T) {
	s, proof, list := build(pagetest.WithKeys(`
given:
  bath: {value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
  factor: {value: 1.09, source: invented, owner: nobody}
figures:
  time: {formula: "time_at_temperature(10 min, 20 °C, bath, factor, 18 °C, 22 °C)"}
limits:
  - {when: bath >= 24 °C, refuse: Cool the bath.}
tables:
  by_bath: {caption: Time, rows: {bath: [20 °C, 23 °C, 24 °C]}, cell: time}
`))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	cells := Cells(s.Grids[0], proof.Own)
	if c := cells[0][0]; c.Refused {
		t.Errorf("at 20 °C it refuses: %s", c.Why.Text)
	}
	if c := cells[1][0]; !c.Refused || c.Why.Limit != nil || c.Why.Text == "" {
		t.Errorf("at 23 °C it gives %+v", c.Why)
	}
	if c := cells[2][0]; !c.Refused || c.Why.Limit == nil || c.Why.Limit.Text.Text != "Cool the bath." {
		t.Errorf("at 24 °C it gives %+v", c.Why)
	}
}

// A yes/no reads yes or no beside its row, however the page writes it.
func TestRowsOfYesAndNo(t *testing.T) {
	s, _, list := build(pagetest.WithKeys(`
given:
  wet: {value: true}
figures:
  vol: {formula: "wet ? 5 ml : 6 ml"}
tables:
  by_wet: {caption: Volume, rows: {wet: [true, "no"]}, cell: vol}
`))
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	if v := s.Grids[0].Rows.Values; len(v) != 2 || v[0].Text != "yes" || v[1].Text != "no" {
		t.Errorf("the rows read %+v", v)
	}
}
