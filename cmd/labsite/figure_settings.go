package main

import (
	"fmt"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/prove"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/render/work"
	"labsite/render/write"
)

// figured is a page worked out at values that somebody typed.
type figured struct {
	desk  *work.Desk
	page  *work.Page
	run   *prove.Case
	typed map[*page.Given]quantity.Value // what was typed, if it is of the given's kind
	// limits are those that apply; withdrawn says that one of them leaves no number.
	limits    []write.LimitText
	withdrawn bool
	said      source.List // about the page itself
}

// refuse says why there is no number.
func (f *figured) refuse(text string) {
	f.limits = append(f.limits, write.LimitText{Kind: "refused", Text: text})
}

// set applies settings of the form given=value. For a value that the page was not tested at there
// is no number; one that cannot be read is an error.
func (f *figured) set(settings []string) error {
	f.run, f.typed, f.limits = prove.NewBlank(f.page.Sheet), map[*page.Given]quantity.Value{}, []write.LimitText{}
	if err := settingsWhole(settings); err != nil {
		return err
	}
	for _, arg := range settings {
		name, text, _ := strings.Cut(arg, "=")
		if err := f.setOne(strings.TrimSpace(name), text); err != nil {
			return err
		}
	}
	return nil
}

// settingsWhole refuses a setting without a name: most likely the rest of a value that was not
// quoted.
func settingsWhole(settings []string) error {
	for i, arg := range settings {
		if strings.Contains(arg, "=") {
			continue
		}
		if i > 0 {
			name, text, _ := strings.Cut(settings[i-1], "=")
			return fmt.Errorf("%q is left over; put the value in quotes: %s=\"%s %s\"", arg, name, text, arg)
		}
		return fmt.Errorf("%q is not a setting; write given=value, such as tank=\"600 ml\"", arg)
	}
	return nil
}

func (f *figured) setOne(name, text string) error {
	g := f.page.Sheet.GivenNamed(name)
	if g == nil {
		return f.noGiven(name)
	}
	base, trouble := g.Set(text)
	if q, t := quantity.Parse(text); t == nil && q.Kind == g.Kind {
		f.typed[g] = q
	}
	if trouble == nil {
		f.run.Set(g, base)
		return nil
	}
	switch trouble.Code {
	case "out-of-range", "not-a-choice", "whole-only", "given-fixed":
		// the answer is known: nobody tested that
		f.refuse(sentence(trouble.Message) + " " + trouble.Hint)
		if q, is := f.typed[g]; is {
			f.run.Set(g, q.Base) // so that the output shows what was asked
		}
		return nil
	}
	return fmt.Errorf("%s=%s: %s. %s", name, text, trouble.Message, trouble.Hint)
}

func (f *figured) noGiven(name string) error {
	var names []string
	for _, g := range f.page.Sheet.Given {
		names = append(names, g.Name)
	}
	hint := "its given values are " + strings.Join(names, ", ")
	if near := source.Nearest(name, names); near != "" {
		hint = "did you mean " + near + "?"
	}
	return fmt.Errorf("%s has no given value %s; %s", f.page.Path, name, hint)
}

// work works the page out, unless a value was refused.
func (f *figured) work() error {
	if f.page.Status() == page.Withdrawn {
		f.refuse(withdrawnText(f.page))
	}
	if len(f.limits) > 0 {
		f.withdrawn = true
		return nil
	}
	f.run.Work()
	if f.withdrawn = f.run.Refused(); !f.withdrawn && len(f.run.Failed) > 0 {
		name := "a limit"
		if figure := f.run.Failed[0].Figure; figure != nil {
			name = figure.Name
		}
		return fmt.Errorf("%s gives no finite number at these values", name)
	}
	f.limits = write.LimitTexts(f.desk, f.run)
	return nil
}

func sentence(text string) string {
	if text == "" {
		return ""
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}

// withdrawnText says why a withdrawn page has no figures.
func withdrawnText(p *work.Page) string {
	ask := p.Sheet.Control.Owner
	if ask == "" {
		ask = "lab"
	}
	return "This page is withdrawn. Ask the " + ask + "."
}
