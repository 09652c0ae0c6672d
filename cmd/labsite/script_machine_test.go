package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"

	"labsite/recipes/quantity"
)

// diagnostic is a diagnostic in JSON.
type diagnostic struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	Column   int    `json:"column"`
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Message  string `json:"message"`
	Hint     string `json:"hint"`
	Path     string `json:"path"`
	Text     string `json:"text"`
	Width    int    `json:"width"`
}

// field is a given or a figure in JSON.
type field struct {
	Label string   `json:"label"`
	Shown *string  `json:"shown"`
	Value *float64 `json:"value"`
	Unit  *string  `json:"unit"`
}

type figureOutput struct {
	Page        string           `json:"page"`
	Given       map[string]field `json:"given"`
	Figures     map[string]field `json:"figures"`
	Limits      []limitOutput    `json:"limits"`
	Cautions    []cautionOutput  `json:"cautions"`
	Diagnostics []diagnostic     `json:"diagnostics"`
}

type limitOutput struct {
	Kind string `json:"kind"`
	Text string `json:"text"`
}

type cautionOutput struct {
	Word string `json:"word"`
	Text string `json:"text"`
}

// machineOutput checks the output of the last command against the contract of machine output: one
// object, with at least diagnostics, each with all its fields. WHAT is the command that printed it,
// or `wrong` for the answer to wrong use.
func machineOutput(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: machine publish|check|figure|units|convert|formulas|formula|worked|outside|wrong")
	}
	out := []byte(ts.ReadFile("stdout"))
	top := strictly[map[string]json.RawMessage](ts, out)
	for _, d := range strictly[[]diagnostic](ts, top["diagnostics"]) {
		switch {
		case d.File == "", strings.HasPrefix(d.File, "/"), strings.Contains(d.File, `\`):
			ts.Fatalf("a file is relative to the content folder: %+v", d)
		case !strings.HasSuffix(d.Path, d.File):
			ts.Fatalf("a path leads to the file from the current folder: %+v", d)
		case d.Width < 0 || d.Text != "" && (d.Width == 0 || d.Column > utf8.RuneCountInString(d.Text)+1):
			ts.Fatalf("the mark stands outside the line: %+v", d)
		case d.Line < 1 || d.Column < 1:
			ts.Fatalf("lines and columns count from 1: %+v", d)
		case d.Severity != "error" && d.Severity != "report":
			ts.Fatalf("what severity is that: %+v", d)
		case !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(d.Code), d.Message == "":
			ts.Fatalf("a code and a message are missing: %+v", d)
		}
	}
	want := func(keys ...string) {
		for _, k := range keys {
			if _, ok := top[k]; !ok {
				ts.Fatalf("the key %s is missing:\n%s", k, out)
			}
		}
	}
	switch args[0] {
	case "publish":
		want("to", "audience", "pages", "figures", "checks", "cases", "files", "written", "kept", "removed", "left", "returned", "remembered")
	case "check":
		want("checks", "remembered")
		type row struct {
			Page, Case, What, Expected, Found, Source string
			OK                                        bool
		}
		for _, r := range strictly[[]row](ts, top["checks"]) {
			if r.Page == "" || r.What == "" && r.Expected == "" {
				ts.Fatalf("a check without page or expectation: %+v", r)
			}
		}
	case "figure":
		want("page", "given", "figures", "limits", "cautions")
		checkFigure(ts, strictly[figureOutput](ts, out))
	case "guard":
		want("pages")
		for _, p := range strictly[[]guardedPage](ts, top["pages"]) {
			if p.Page == "" || p.Tried != p.Noticed+p.Equal+len(p.Unnoticed) {
				ts.Fatalf("what was tried does not add up: %+v", p)
			}
			for _, u := range p.Unnoticed {
				if u.Line < 1 || u.Column < 1 || u.What == "" {
					ts.Fatalf("a change without a place: %+v", u)
				}
			}
		}
	case "seek":
		want("settings", "impossible", "proved")
	case "units":
		want("units")
	case "formulas":
		want("formulas")
	case "formula":
		want("formula", "checks")
		for _, v := range strictly[[]formulaCheck](ts, top["checks"]) {
			if v.What == "" || v.Expected == "" || v.Source == "" || !v.OK {
				ts.Fatalf("a check without what, expected and source, or one that fails: %+v", v)
			}
		}
	case "outside":
		want("outside")
	case "worked":
		want("formula", "refused", "shown", "value", "unit")
	case "convert":
		f := strictly[struct {
			Shown       *string
			Value       *float64
			Unit        *string
			Diagnostics []diagnostic
		}](ts, out)
		if f.Shown == nil || f.Value == nil || f.Unit == nil {
			ts.Fatalf("no shown, value and unit:\n%s", out)
		}
	case "approve":
		want("page", "number", "revision", "by", "before", "changed", "record", "written")
	case "history":
		want("page", "number", "history")
	case "wrong":
		want("error")
	default:
		ts.Fatalf("no command %s has machine output", args[0])
	}
}

func strictly[T any](ts *testscript.TestScript, b []byte) T {
	var v T
	if len(b) == 0 || string(b) == "null" {
		ts.Fatalf("nothing stands where a %T is wanted", v)
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		ts.Fatalf("%v:\n%s", err, b)
	}
	if d.More() {
		ts.Fatalf("more than one value:\n%s", b)
	}
	return v
}

func checkFigure(ts *testscript.TestScript, f figureOutput) {
	withdrawn := slices.ContainsFunc(f.Limits, func(l limitOutput) bool { return l.Kind == "refuse" })
	for _, l := range f.Limits {
		if !slices.Contains([]string{"notice", "caution", "warning", "refuse"}, l.Kind) || l.Text == "" {
			ts.Fatalf("what limit is that: %+v", l)
		}
	}
	for name, v := range f.Figures {
		if (v.Shown == nil) != withdrawn || (v.Value == nil) != withdrawn {
			ts.Fatalf("%s: withdrawn %v, but %s", name, withdrawn, v)
		}
	}
	for name, v := range f.Given {
		if v.Shown == nil {
			ts.Fatalf("the given %s is not shown", name)
		}
	}
	for name, v := range joined(f) {
		if v.Unit == nil {
			ts.Fatalf("%s has no unit, not even an empty one", name)
		}
		if v.Shown == nil {
			continue
		}
		// A text may have any characters; a number has plain spaces, a hyphen for minus and no
		// thousands separator.
		if v.Value != nil && regexp.MustCompile(`[^ -~°µ²³Δ]`).MatchString(*v.Shown) {
			ts.Fatalf("%s is shown with a sign that is not spelled so: %q", name, *v.Shown)
		}
		if strings.Contains(*v.Shown, " min") && *v.Unit == "min" && strings.Contains(*v.Shown, " s") {
			ts.Fatalf("%s: the unit of a duration is s, not min", name)
		}
	}
}

func joined(f figureOutput) map[string]field {
	all := map[string]field{}
	for n, v := range f.Given {
		all[n] = v
	}
	for n, v := range f.Figures {
		all[n] = v
	}
	return all
}

func (f field) String() string {
	b, _ := json.Marshal(f)
	return string(b)
}

// valueIs compares a figure or given in the last machine output with the text that a writer would
// expect, and with a number worked out elsewhere, to a relative 1e-9. The text `withdrawn` stands
// for null.
func valueIs(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 && len(args) != 4 {
		ts.Fatalf("usage: value NAME SHOWN [NUMBER UNIT]")
	}
	f := strictly[figureOutput](ts, []byte(ts.ReadFile("stdout")))
	v, ok := joined(f)[args[0]]
	if !ok {
		ts.Fatalf("there is no %s", args[0])
	}
	shown := "withdrawn"
	if v.Shown != nil {
		shown = *v.Shown
	}
	if shown != args[1] {
		ts.Fatalf("%s is shown as %q, not %q", args[0], shown, args[1])
	}
	if len(args) == 2 {
		return
	}
	want, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	if v.Value == nil || math.Abs(*v.Value-want) > 1e-9*math.Abs(want) || *v.Unit != args[3] {
		ts.Fatalf("%s is %s, not %v %s", args[0], v, want, args[3])
	}
}

// readBack parses every shown value of the last figure. It must be a quantity as pages write it, in
// the unit given, and as near to value as its decimals allow; or with coarse, for figures shown in
// wide steps, at least of the unit's kind.
func readBack(ts *testscript.TestScript, neg bool, args []string) {
	coarse := len(args) == 1 && args[0] == "coarse"
	if neg || len(args) > 0 && !coarse {
		ts.Fatalf("usage: readback [coarse]")
	}
	f := strictly[figureOutput](ts, []byte(ts.ReadFile("stdout")))
	n := 0
	for name, v := range joined(f) {
		if v.Shown == nil || v.Value == nil || *v.Shown == "yes" || *v.Shown == "no" || strings.HasPrefix(*v.Shown, "f/") {
			continue
		}
		n++
		if err := readsAs(*v.Shown, *v.Value, *v.Unit, coarse); err != nil {
			ts.Fatalf("%s: %v", name, err)
		}
	}
	if n == 0 {
		ts.Fatalf("no value was read back")
	}
}

// readsAs returns an error unless a shown text parses as the value in the unit, to within half of
// its last place, or a twentieth if it is a fraction or a dilution.
func readsAs(shown string, value float64, unit string, coarse bool) error {
	q, t := quantity.Parse(shown)
	if t != nil {
		return fmt.Errorf("%q cannot be read back: %s", shown, t.Message)
	}
	one := quantity.Value{Kind: q.Kind, Unit: quantity.Unit{Kind: q.Kind}}
	scale, offset := 1.0, 0.0
	if unit != "" {
		if one, t = quantity.Parse("1 " + unit); t != nil {
			return fmt.Errorf("the unit %q cannot be read: %s", unit, t.Message)
		}
		nought, _ := quantity.Parse("0 " + unit)
		scale, offset = one.Base-nought.Base, nought.Base
	}
	if one.Kind != q.Kind {
		return fmt.Errorf("%q is %s, but its unit %q is %s", shown, q.Kind.Name(), unit, one.Kind.Name())
	}
	if coarse {
		return nil
	}
	got := (q.Base - offset) / scale
	allowed := math.Abs(value) / 20
	if !strings.ContainsAny(shown, "+/") && !strings.Contains(shown, " in ") {
		allowed = 0.5
		if _, decimals, ok := strings.Cut(strings.Fields(shown)[0], "."); ok {
			allowed = 0.5 * math.Pow10(-len(decimals))
		}
		allowed = max(allowed, math.Abs(value)/200)
	}
	if math.Abs(got-value) > allowed*(1+1e-9) {
		return fmt.Errorf("%q reads as %g, but the value is %g %s", shown, got, value, unit)
	}
	return nil
}
