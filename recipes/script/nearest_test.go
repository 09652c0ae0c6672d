package script

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/page"
	"labsite/recipes/prove"
)

const nearestPage = `
given:
  tank: {label: Working solution, value: 500 ml, from: 300 ml, to: 2 l, step: 50 ml}
  rolls: {label: Rolls, value: 1, from: 1, to: 4}
  strength: {label: Strength, value: 1+100, choices: [1+100, 1+50, 1+25]}
  wait: {label: Wait, value: 2 min, from: 0 s, to: 10 min}
  on: {label: On, value: 2026-11-28, from: 2026-01-01, to: 2026-12-31}
  reading: {label: Reading, example: 1.0, from: 0, to: 2}
figures:
  each: {label: Each, formula: tank * strength / rolls, show: 0.01 ml}
  hot: {label: Hot, formula: reading * 2}
limits:
  - when: each < 4 ml
    refuse: Too little.
  - when: wait > 7 min 33 s or wait > 2 min and wait < 3 min
    refuse: Too long.
  - when: on > 2026-11-29 and rolls < 3
    refuse: Too late.
  - when: tank > 1.5 l and rolls == 1
    refuse: Too much.
`

// offer is a setting that sheet.nearest yields.
type offer struct {
	Set  [][]any // for each given its name, the value and the end of what holds, in base units
	Away float64
}

func (o offer) at(i int) (name string, base, end float64) {
	return o.Set[i][0].(string), o.Set[i][1].(float64), o.Set[i][2].(float64)
}

// offers lists all settings that a page's script finds from its present values. wanted is undefined, or a
// value that a given does not take.
func (b *bench) offers(wanted string) (out []offer) {
	b.t.Helper()
	if err := json.Unmarshal([]byte(b.run("((all) => { const out = []; for (let x; !(x = all.next()).done;) if (x.value) out.push(x.value); return out; })(page.nearest("+wanted+"))")), &out); err != nil {
		b.t.Fatal(err)
	}
	return out
}

func TestNearest(t *testing.T) {
	t.Parallel()
	b := open(t, pageOf(t, nearestPage))
	for _, c := range []struct{ set, wanted, want string }{
		// four millilitres in each of 101 are 404 ml for each roll
		{"rolls=2", "", "tank 850..2000, rolls 1, strength 1/51, strength 1/26"},
		{"tank=2 l", "", "tank 1500..450, rolls 2..4"},
		// a range without steps is tried at round numbers of its unit, and between them
		{"wait=9 min", "", "wait 453..180"},
		{"wait=150 s", "", "wait 120..0"},
		// there are two things to fix, and no single value fixes both
		{"on=2026-12-24&rolls=2", "", "tank 850 on 20786, tank 1250 rolls 3, rolls 1 on 20786, rolls 3 strength 1/26, strength 1/51 on 20786"},
		{"on=2026-12-24", "", "on 20786..20454"},
		{"", "tank 9000", "tank 1500..450"},
		{"", "tank 100", "tank 450..1500"},
		{"", "rolls 2.4", "rolls 1"},
		// readings are left alone
		{"rolls=4&reading=0.4", "", "tank 1650..2000, rolls 1, strength 1/26"},
	} {
		b.run("page.take(" + quoted(c.set) + ")")
		wanted := "undefined"
		if name, base, is := strings.Cut(c.wanted, " "); is {
			wanted = fmt.Sprintf("{name: %q, base: %s}", name, base)
		}
		var all []string
		for _, o := range b.offers(wanted) {
			var words []string
			for i := range o.Set {
				name, base, end := o.at(i)
				text := offerText(name, base)
				if end != base {
					text += ".." + offerText(name, end)
				}
				words = append(words, name+" "+text)
			}
			all = append(all, strings.Join(words, " "))
		}
		slices.Sort(all)
		want := strings.Split(c.want, ", ")
		slices.Sort(want)
		if !slices.Equal(all, want) {
			t.Errorf("at %q%q: %q, want %q", c.set, c.wanted, all, want)
		}
	}
}

// offerText writes days as their number and strengths as fractions.
func offerText(name string, base float64) string {
	switch name {
	case "on":
		return fmt.Sprint(base / 86400)
	case "strength":
		return fmt.Sprintf("1/%g", math.Round(1/base))
	}
	return fmt.Sprint(base)
}

// What a page of the demo offers holds, by Go as well, with all that lies between the ends of a range, and
// no nearer step of that given does. For each page up to four settings that it refuses are tried, or one
// if only a part is tested.
func TestNearestHolds(t *testing.T) {
	t.Parallel()
	f := demo(t)
	refusals, found, of := 0, 0, max(1, 4/nth())
	for _, name := range f.order {
		s := f.sheets[name]
		if s == nil || !slices.ContainsFunc(s.Given, (*page.Given).Settable) {
			continue
		}
		random := rand.New(rand.NewPCG(7, uint64(len(name))))
		b := open(t, s)
		for range of {
			at, refused := refusalOf(b, s, random)
			if !refused {
				continue
			}
			refusals++
			b.run(fmt.Sprintf("page.base.splice(0, Infinity, ...%s)", inJSON(t, at)))
			for _, o := range b.offers("undefined") {
				found++
				holdOffer(t, name, s, at, o, random)
			}
		}
	}
	if refusals < 10*of || found < refusals {
		t.Errorf("%d refusals, %d offers: too few to tell", refusals, found)
	}
	t.Logf("%d refusals, %d offers", refusals, found)
}

// refusalOf sets a page at random until it refuses; readings have their examples.
func refusalOf(b *bench, s *page.Sheet, random *rand.Rand) ([]float64, bool) {
	values := map[*page.Given][]float64{}
	for _, g := range s.Given {
		if g.Settable() {
			values[g] = stepsOf(b, g)
		}
	}
	at := make([]float64, len(s.Given))
	for range 200 {
		for i, g := range s.Given {
			at[i] = g.Own
			if all := values[g]; len(all) > 0 && !g.Reading {
				at[i] = all[random.IntN(len(all))]
			}
		}
		if !holdsAt(s, at) {
			return at, true
		}
	}
	return nil, false
}

// stepsOf are values of a given: its steps, or some of its range.
func stepsOf(b *bench, g *page.Given) (out []float64) {
	b.t.Helper()
	if err := json.Unmarshal([]byte(b.run("page.values("+quoted(g.Name)+")")), &out); err != nil {
		b.t.Fatal(err)
	}
	if len(out) == 0 && g.From != nil {
		for i := range 21 {
			out = append(out, g.From.Base+(g.To.Base-g.From.Base)*float64(i)/20)
		}
	}
	return out
}

func holdsAt(s *page.Sheet, at []float64) bool {
	c := prove.NewCase(s)
	for i, g := range s.Given {
		c.Set(g, at[i])
	}
	c.Work()
	return !c.Refused() && len(c.Failed) == 0
}

func holdOffer(t *testing.T, name string, s *page.Sheet, at []float64, o offer, random *rand.Rand) {
	t.Helper()
	if len(o.Set) == 2 {
		now := slices.Clone(at)
		for i := range o.Set {
			given, base, _ := o.at(i)
			now[slices.Index(s.Given, s.GivenNamed(given))] = base
		}
		if !holdsAt(s, now) {
			t.Errorf("%s at %v: %v does not hold", name, at, o.Set)
		}
		return
	}
	given, base, end := o.at(0)
	g := s.GivenNamed(given)
	i := slices.Index(s.Given, g)
	holds := func(v float64) bool {
		now := slices.Clone(at)
		now[i] = v
		return holdsAt(s, now)
	}
	tries := []float64{base, end}
	for range 20 {
		v := base + (end-base)*random.Float64()
		if day := 86400.0; s.Given[i].Whole || math.Mod(base, day) == 0 && math.Mod(end, day) == 0 && end-base >= day {
			continue // there is nothing in between
		}
		tries = append(tries, v)
	}
	for _, v := range tries {
		if !holds(v) {
			t.Errorf("%s at %v: %s at %v does not hold, of %v .. %v", name, at, given, v, base, end)
		}
	}
	if g.Step == nil || len(g.Choices) > 0 {
		return
	}
	for v := g.From.Base; v <= g.To.Base; v += g.Step.Base {
		if math.Abs(v-at[i]) < math.Abs(base-at[i])*(1-1e-9) && holds(v) {
			t.Errorf("%s at %v: %s is offered at %v, and %v holds", name, at, given, base, v)
		}
	}
}

func inJSON(t *testing.T, v any) string {
	t.Helper()
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
