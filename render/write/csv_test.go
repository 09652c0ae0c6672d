package write

import "testing"

// A spreadsheet that opens a table does not take a text for a formula.
func TestNoFormula(t *testing.T) {
	for cell, want := range map[string]string{
		"": "", "Film": "Film", "-3 °C": "-3 °C", "+1 stop": "+1 stop", "-.5": "-.5", "-": "-", "1+50": "1+50",
		"=A1": "'=A1", "@a": "'@a", "+a": "'+a", "-a": "'-a", "\t=a": "'\t=a",
	} {
		if got := noFormula(cell); got != want {
			t.Errorf("%q becomes %q, want %q", cell, got, want)
		}
	}
}
