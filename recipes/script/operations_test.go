package script

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
)

// Every operation works at all stages: its example has its kind and value; and with each literal made a
// given that can be set, no case comes to a value outside the span, and the script agrees with Go.
func TestOperations(t *testing.T) {
	r := referee(t)
	for _, o := range formula.Operations() {
		if o == formula.Guard {
			continue // only bench formulas make one: see TestGuards
		}
		t.Run(o.Form, func(t *testing.T) {
			s := pageOf(t, "data: {times: times.csv}\nfigures:\n  out: '"+o.Example.Formula+"'\n", "times.csv", formula.ExampleData)
			if !uses(s, o) {
				t.Errorf("its example %s does not use it", o.Example.Formula)
			}
			c := prove.NewCase(s)
			c.Work()
			if got, want := c.Frame.V[s.Figure("out").Slot], valueOf(t, o.Example.Value); !quantity.Equal(got, want) || len(c.Failed)+len(c.Refusals) > 0 {
				t.Errorf("%s is %v, want %s", o.Example.Formula, got, o.Example.Value)
			}
			s = settable(t, o.Example.Formula)
			cases, refused := compare(t, r, Page{Sheet: s}, 200)
			if cases < 9 && len(s.Given) > 0 || cases == refused {
				t.Errorf("%d cases were compared, %d of them refused: %s", cases, refused, s.Figure("out").Text.Text)
			}
			within(t, s)
		})
	}
}

func TestGuards(t *testing.T) {
	s := pageOf(t, `
given:
  bath: {value: 20 °C, from: 16 °C, to: 26 °C, step: 0.5 K}
  tested: {value: 9 min, source: measured here, owner: lead}
  factor: {value: 1.09, source: measured here, owner: lead}
figures:
  out: time_at_temperature(tested, 20 °C, bath, factor, 18 °C, 24 °C)
`)
	if !uses(s, formula.Guard) {
		t.Fatal("nothing guards the formula")
	}
	cases, refused := compare(t, referee(t), Page{Sheet: s}, 2000)
	if refused == 0 || refused == cases {
		t.Errorf("%d of %d cases are refused", refused, cases)
	}
	within(t, s)
}

// uses reports whether a page's figure has an operation.
func uses(s *page.Sheet, o *formula.Operation) bool {
	found := false
	s.Figure("out").Node.Walk(func(n *formula.Node) bool {
		found = found || n.Op == o
		return true
	})
	return found
}

// valueOf is a value as an example writes it.
func valueOf(t *testing.T, text string) float64 {
	t.Helper()
	if i := slices.Index([]string{"no", "yes"}, text); i >= 0 {
		return float64(i)
	}
	v, trouble := quantity.Parse(text)
	if trouble != nil {
		t.Fatalf("%s: %s", text, trouble.Message)
	}
	return v.Base
}

// settable is a page whose figure is a formula with its literals replaced by given values that can be set,
// except those that must be literals, such as exponents.
func settable(t *testing.T, text string) *page.Sheet {
	t.Helper()
	write := func(text, given string) string {
		front := "data: {times: times.csv}\n"
		if given != "" {
			front += "given:\n" + given
		}
		return front + "figures:\n  out: '" + text + "'\n"
	}
	given, last, count := "", pageOf(t, write(text, ""), "times.csv", formula.ExampleData), 0
	for at := 0; ; {
		token, ok := literal(t, text, at)
		if !ok {
			return last
		}
		name := fmt.Sprintf("set%d", count)
		next := text[:token.Start] + name + text[token.End:]
		tried := given + "  " + name + ": " + around(token) + "\n"
		s, list := pageOrList(t, write(next, tried), "times.csv", formula.ExampleData)
		at = token.Start + len(name)
		if slices.ContainsFunc(strings.Fields("wrong-kind power-whole let-name step-not-positive"), func(code string) bool {
			return len(list) > 0 && list[0].Code == code
		}) {
			at = token.End
			continue
		}
		// a pole within the values that can be set does not matter here
		list = slices.DeleteFunc(list, func(d source.Diagnostic) bool { return d.Code == "not-finite" })
		if list.Errors() > 0 {
			t.Fatalf("%s\n%s", list, write(next, tried))
		}
		text, given, last = next, tried, s
		count++
	}
}

// literal finds the next literal of a formula.
func literal(t *testing.T, text string, from int) (formula.Token, bool) {
	t.Helper()
	f, list := formula.Parse(text, nil)
	if f == nil {
		t.Fatal(list)
	}
	for _, token := range f.Tokens() {
		if token.Start >= from && (token.Kind == formula.Literal || token.Kind == formula.Quoted) {
			return token, true
		}
	}
	return formula.Token{}, false
}

var trailingZeros = regexp.MustCompile(`\.?0+$`)

// around is a given that can be set to values on both sides of a literal.
func around(token formula.Token) string {
	if token.Kind == formula.Quoted {
		return fmt.Sprintf("{value: %s, choices: [roll, sheet, other]}", token.Text)
	}
	if day := token.Value.Base; token.Value.Kind == quantity.Date {
		return fmt.Sprintf("{value: %s, from: %s, to: %s}", quantity.ISODate(day),
			quantity.ISODate(day-40*quantity.DayLength), quantity.ISODate(day+40*quantity.DayLength))
	}
	u := token.Value.Unit
	own := token.Value.Base
	if u.Factor != 0 {
		own = u.Of(own)
	}
	written := func(v float64) string {
		number := fmt.Sprintf("%.6f", v)
		if strings.Contains(number, ".") {
			number = trailingZeros.ReplaceAllString(number, "")
		}
		return strings.TrimSpace(number + " " + u.Text)
	}
	size := max(own, -own) + 1
	return fmt.Sprintf("{value: %s, from: %s, to: %s}", written(own), written(own-2*size-0.5), written(own+2*size))
}

// within checks that no case comes to a value outside the span of the figure.
func within(t *testing.T, s *page.Sheet) {
	t.Helper()
	out := s.Figure("out")
	span := prove.NewReach(s).Of(out.Node, 0)
	c := prove.NewCase(s)
	prove.EachCase(s, c, func() bool {
		c.Work()
		if v := c.Frame.V[out.Slot]; len(c.Failed)+len(c.Refusals) == 0 && (v < span.Low || v > span.High) {
			t.Errorf("%s comes to %v, not within %v and %v", out.Text.Text, v, span.Low, span.High)
		}
		return !t.Failed()
	})
}
