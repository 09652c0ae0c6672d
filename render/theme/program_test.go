package theme

import (
	"bytes"
	"html/template"
	"reflect"
	"testing"
)

// filledBoth fills a template with the engine and by its program.
func filledBoth(t *testing.T, of *Templates, name string, data any) (engine, program string, made, went bool) {
	t.Helper()
	var b bytes.Buffer
	if err := of.set.ExecuteTemplate(of.allow(&b, mostSteps), name, data); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	p := compiled(of.set, name, reflect.TypeOf(data))
	if p == nil {
		return b.String(), "", false, false
	}
	out, ok := p.fill(of, nil, data)
	return b.String(), string(out), true, ok
}

// Each template of the theme has a program, which writes what the engine writes.
func TestProgramsAgree(t *testing.T) {
	of, list := LoadTemplates(t.Context(), nil, "")
	if list.Errors() > 0 {
		t.Fatal(list)
	}
	for _, v := range topViews {
		for _, full := range []bool{true, false} {
			sample := reflect.New(reflect.TypeOf(v.data))
			madeUp(sample.Elem(), full)
			for _, data := range []any{sample.Interface(), sample.Elem().Interface()} {
				if pointed := reflect.TypeOf(data).Kind() == reflect.Pointer; v.name == "instruction" && !pointed || sample.Elem().Kind() == reflect.Slice && pointed {
					continue // Go hands it over in the other way alone
				}
				engine, program, made, went := filledBoth(t, of, v.name, data)
				switch {
				case !made:
					t.Errorf("%s has no program for %T", v.name, data)
				case !went:
					t.Errorf("the program of %s gives up, full %v", v.name, full)
				case engine != program:
					t.Errorf("%s, full %v: the engine writes\n%s\nand the program\n%s", v.name, full, engine, program)
				}
			}
		}
	}
}

// everyPlace has a value in each kind of place for which programs know the escaping.
var everyPlace = template.Must(template.New("places").Parse(
	`<title>{{.Text}}</title><p title="{{.Text}}" id='{{.Named}}'>{{.Text}}{{.Named}}{{.HTML}}{{.Address}}{{.Count}}` +
		`<a href="{{.Text}}">a</a><a href="{{.Address}}">b</a><a href="x/{{.Text}}#{{.Named}}?a={{.Address}}">c</a>` +
		`{{if eq .Text .Other}}same{{end}}{{or .Text .Other}}{{and .Text .Other}}{{len .Text}}</p>`))

type namedText string

type inPlaces struct {
	Text, Other string
	Named       namedText
	HTML        template.HTML
	Address     template.URL
	Count       int
}

func FuzzEscaping(f *testing.F) {
	for _, s := range []string{"", "a", `<b title="c">&amp;'+</b>`, "javascript:a", "HTTP://x/ä?q=%20%2&b", "\x00\xff\xfe é €", "mailto:a b", "a/b:c", "{}|\\^`"} {
		f.Add(s, s, 7)
		f.Add(s, "b", -1)
	}
	f.Fuzz(func(t *testing.T, text, other string, n int) {
		data := inPlaces{text, other, namedText(text), template.HTML(other), template.URL(text), n}
		engine, program, made, went := filledBoth(t, &Templates{set: everyPlace, until: t.Context()}, "places", data)
		if !made || !went || engine != program {
			t.Errorf("made %v, went %v; the engine writes\n%q\nand the program\n%q", made, went, engine, program)
		}
	})
}
