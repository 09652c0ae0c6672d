package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"labsite/recipes/formula"
	"labsite/recipes/quantity"
)

func unitsCommand(s *screen) *cobra.Command {
	return &cobra.Command{
		Use:   "units [WORD]",
		Short: "List the units, with kind, exact factor and source",
		Long: `Units lists the units that pages may use: the kind of each, its exact factor to the base
unit inside the program, and where the factor comes from. A word narrows the list to
names, kinds and sources that contain it.`,
		Example: "  labsite units\n  labsite units volume\n  labsite units oz",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("units takes one word to look for; to convert, write labsite convert %q %s", args[0], args[1])
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			word := ""
			if len(args) == 1 {
				word = strings.ToLower(args[0])
			}
			rows := unitRows(word)
			if s.json {
				s.object(map[string]any{"diagnostics": []any{}, "units": rows})
				return nil
			}
			if len(rows) == 0 {
				return fmt.Errorf("no unit, kind or source contains %q", args[0])
			}
			var text [][]string
			for _, r := range rows {
				name := r.Unit
				if len(r.Also) > 0 {
					name += " (" + strings.Join(r.Also, ", ") + ")"
				}
				text = append(text, []string{name, r.Kind, r.Factor + " " + r.Base, r.Source})
			}
			s.columns(text)
			return nil
		},
	}
}

// unitRow is a unit in the list.
type unitRow struct {
	Unit   string   `json:"unit"`
	Also   []string `json:"also"`
	Kind   string   `json:"kind"`
	Factor string   `json:"factor"`
	Base   string   `json:"base"`
	Source string   `json:"source"`
}

// unitRows lists the units whose names, kind or source contain a word.
func unitRows(word string) []unitRow {
	rows := []unitRow{}
	for _, e := range quantity.Entries() {
		kind := strings.TrimPrefix(strings.TrimPrefix(e.Kind.Name(), "a "), "an ")
		if !strings.Contains(strings.ToLower(e.Name+" "+strings.Join(e.Also, " ")+" "+kind+" "+e.Source), word) {
			continue
		}
		rows = append(rows, unitRow{e.Name, append([]string{}, e.Also...), kind, e.Exactly, quantity.BaseUnit(e.Kind), e.Source})
	}
	for _, c := range quantity.Counts() {
		kind := "count of " + c.Several
		if strings.Contains(c.Several+" "+kind, word) {
			rows = append(rows, unitRow{c.One, []string{c.Several}, kind, "1", c.One, "page format of this program"})
		}
	}
	return rows
}

func convertCommand(s *screen) *cobra.Command {
	return &cobra.Command{
		Use:   "convert QUANTITY UNIT",
		Short: "Convert a quantity, exactly",
		Long: `Convert reads a quantity as pages write it and shows it in another unit of its kind, or
in any form that a page's show takes.`,
		Example: "  labsite convert \"500 ml\" fl_oz\n  labsite convert \"68 °F\" °C\n  labsite convert \"15 ml/sq_ft\" ml/m2",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return errors.New("write a quantity and a unit: labsite convert \"500 ml\" fl_oz")
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error {
			v, t := quantity.Parse(args[0])
			if t != nil {
				return fmt.Errorf("%s: %s. %s", args[0], t.Message, t.Hint)
			}
			if err := noPoint(v, args[1]); err != nil {
				return err
			}
			show, t := quantity.ParseShow(args[1], v.Kind)
			if t != nil {
				return fmt.Errorf("%s: %s. %s", args[1], t.Message, t.Hint)
			}
			shown := show.Format(v.Base)
			if s.json {
				s.object(map[string]any{"diagnostics": []any{}, "shown": shown.Text, "value": clean(shown.Number), "unit": shown.Unit})
				return nil
			}
			fmt.Fprintf(s.out, "%s = %s", v.Text, shown.Text)
			if full := unroundedText(shown); full != shown.Text && full != "" {
				fmt.Fprintf(s.out, "  (%s)", full)
			}
			fmt.Fprintln(s.out)
			return nil
		},
	}
}

// absoluteZero is the lowest temperature, in degrees Celsius.
const absoluteZero = -formula.ZeroCelsius

// noPoint refuses temperatures below absolute zero, and showing a difference on a scale.
func noPoint(v quantity.Value, unit string) error {
	if v.Kind == quantity.Scale && quantity.Less(v.Base, absoluteZero) {
		return fmt.Errorf("%s lies below absolute zero, which is -273.15 °C or -459.67 °F", v.Text)
	}
	u, n, ok := quantity.ReadUnit(unit)
	if v.Kind != quantity.Degree || !ok || n != len(unit) || u.Kind != quantity.Scale {
		return nil
	}
	return fmt.Errorf("%s is a difference of temperature, and %s shows a temperature; write labsite convert %q Δ%s for the difference. On the scale, %s above absolute zero is %s",
		v.Text, u.Text, v.Text, u.Text, v.Text, quantity.Show{Style: quantity.Written, Unit: u}.Format(v.Base+absoluteZero).Text)
}
