package theme

import (
	"html/template"
	"io"
	"reflect"

	"labsite/recipes/source"
)

// topView is a template that Go fills, with its kind of data.
type topView struct {
	name string
	data any
}

// topViews are the templates that Go fills.
var topViews = []topView{
	{"instruction", Instruction{}}, {"drawer", Drawer{}}, {"front", Front{}},
	{"withdrawn", Withdrawn{}}, {"missing", Missing{}}, {"drawer-names", DrawerNames{}},
	{"cautions", []Caution{}}, {"limits", []Limit{}}, {"given", Given{}},
	{"figures", Figures{}}, {"sureness", Sureness{}}, {"arithmetic", Arithmetic{}}, {"checks", Checks{}}, {"report", Report{}},
	{"hazards", Hazards{}}, {"aftercare", Hazards{}}, {"steps", Steps{}}, {"table", Table{}}, {"weighing", Weighing{}},
	{"register", Register{}}, {"card", Card{}}, {"labels", Labels{}}, {"products", Products{}}, {"find", Find{}}, {"units", Units{}},
}

// try fills every template with made-up data, full and empty.
func (t *Templates) try() source.List {
	var list source.List
	for _, v := range topViews {
		for _, full := range []bool{true, false} {
			sample := reflect.New(reflect.TypeOf(v.data))
			madeUp(sample.Elem(), full)
			if err := t.set.ExecuteTemplate(t.allow(io.Discard, mostTrialSteps), v.name, sample.Interface()); err != nil {
				list = append(list, t.explain(v.name, err))
				break
			}
		}
	}
	return list
}

var htmlType = reflect.TypeFor[template.HTML]()

// madeUp fills a value with made-up texts, lists and pointers or, unless full, only with what is
// documented as always there.
func madeUp(v reflect.Value, full bool) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			madeUp(v.Field(i), full)
		}
		if w, ok := v.Addr().Interface().(*Withdrawn); ok && w.Control == nil {
			w.Control = &Control{}
		}
	case reflect.Pointer:
		if full {
			v.Set(reflect.New(v.Type().Elem()))
			madeUp(v.Elem(), full)
		}
	case reflect.Slice:
		if full {
			v.Set(reflect.MakeSlice(v.Type(), 2, 2))
			madeUp(v.Index(0), true)
			madeUp(v.Index(1), false)
		}
	case reflect.String:
		switch {
		case !full:
		case v.Type() == htmlType:
			v.SetString("<p>made up</p>")
		default:
			v.SetString("made up")
		}
	case reflect.Bool:
		v.SetBool(full)
	case reflect.Int:
		if full {
			v.SetInt(2)
		}
	}
}
