package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/formulary"
	"labsite/recipes/quantity"
)

// compute works an entry out for typed parameters.
func (s *screen) compute(set *formulary.Set, e *formulary.Entry, args []string) error {
	written, err := parameters(e, args)
	if err != nil {
		return err
	}
	w, list := set.Work(e.Name + "(" + strings.Join(written, ", ") + ")")
	if list.Errors() > 0 {
		first := list[0]
		for i, p := range e.Params {
			if first.Code == "wrong-kind" && strings.HasPrefix(first.Message, p.Name+" in ") {
				return fmt.Errorf("%s%s", first.Message, suchAs(e, i))
			}
		}
		return fmt.Errorf("%s. %s", first.Message, first.Hint)
	}
	if e.Show != "" {
		if show, t := quantity.ParseShow(e.Show, w.Kind); t == nil {
			w.Show = show
		}
	}
	s.computed(e.Name, w.Show.Format(w.Base), w.Refused)
	return nil
}

// parameters returns what was typed for each parameter of an entry, in their order, as a formula
// would write it.
func parameters(e *formulary.Entry, args []string) ([]string, error) {
	var names []string
	for _, p := range e.Params {
		names = append(names, p.Name)
	}
	typed := map[string]string{}
	for _, arg := range args {
		name, text, ok := strings.Cut(arg, "=")
		if !ok {
			return nil, fmt.Errorf("%q is not a parameter; write name=value", arg)
		}
		if !slices.Contains(names, name) {
			return nil, fmt.Errorf("%s has no parameter %s; its parameters are %s", e.Name, name, strings.Join(names, ", "))
		}
		typed[name] = text
	}
	var written []string
	for i, p := range e.Params {
		text, ok := typed[p.Name]
		if !ok {
			return nil, fmt.Errorf("the parameter %s (%s) is missing%s", p.Name, p.Label, suchAs(e, i))
		}
		q, t := quantity.Parse(text)
		if t != nil {
			return nil, fmt.Errorf("%s=%s: %s. %s", p.Name, text, t.Message, t.Hint)
		}
		if q.Form == quantity.Dilution {
			q.Text = strconv.FormatFloat(q.Base, 'f', -1, 64) // a formula reads 1+100 as a sum
		}
		written = append(written, q.Text)
	}
	return written, nil
}

// computed prints the result of a formula, or why there is none.
func (s *screen) computed(name string, shown quantity.Shown, refused string) {
	if s.json {
		out := map[string]any{"diagnostics": []any{}, "formula": name, "refused": refused, "shown": nil, "value": nil, "unit": shown.Unit}
		if refused == "" {
			out["shown"], out["value"] = shown.Text, clean(shown.Number)
		}
		s.object(out)
		return
	}
	if refused != "" {
		fmt.Fprintf(s.out, "%s %s\n", paint(s.out, red, "REFUSED:"), refused)
		return
	}
	fmt.Fprintf(s.out, "%s = %s", name, shown.Text)
	if full := unroundedText(shown); full != shown.Text && full != "" {
		fmt.Fprintf(s.out, "  (%s)", full)
	}
	fmt.Fprintln(s.out)
}
