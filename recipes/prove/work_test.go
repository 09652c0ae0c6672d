package prove

import (
	"path"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/page/pagetest"
	"labsite/recipes/source"
)

type tablesOf map[string]string

func (l tablesOf) Files() []string { return nil }
func (l tablesOf) Table(p string) (*page.Table, bool) {
	text, ok := l[path.Base(p)]
	if !ok {
		return nil, false
	}
	f, _ := source.New(p, []byte(text))
	t, _ := page.ReadTable(f)
	return t, true
}

// A lookup without a row refuses inside a call of a bench formula too: the call binds its arguments first,
// and a bound name without a value is a fault of the formula itself.
func TestRefusalInsideACall(t *testing.T) {
	s, _, list := buildWith(pagetest.WithKeys(`data: {t: t.csv}
given:
  film: {value: slow, choices: [slow, fast]}
  bath: {value: 20 °C, from: 18 °C, to: 24 °C, step: 1 K}
  factor: {value: 1.09, source: from memory, owner: lead}
figures:
  develop: {label: Time, formula: "time_at_temperature(lookup(t.minutes, t.film, film), 20 °C, bath, factor, 18 °C, 24 °C)"}
`), tablesOf{"t.csv": "film,minutes [min]\nslow,11\n"}, page.World{})
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	c := NewCase(s)
	c.Set(s.GivenNamed("film"), 1)
	c.Work()
	if !c.Refused() {
		t.Errorf("not refused: %s, failed %v", c.Shown(s.Figure("develop")).Text, c.Failed)
	}
}
