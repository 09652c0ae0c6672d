package theme

import (
	"reflect"
	"text/template/parse"
)

// function reads the call of one of the engine's own functions, of which few are known.
func (c *compiler) function(name string, args []parse.Node, dot reflect.Type) expression {
	if len(args) > 0 {
		given := make([]expression, len(args))
		for i, arg := range args {
			given[i] = c.value(arg, nil, dot)
		}
		switch name {
		case "or":
			return firstOf(given, true)
		case "and":
			return firstOf(given, false)
		case "not":
			if len(given) == 1 {
				given[0].counts()
				return truthOf(func(f *filling, dot reflect.Value) bool { return !truth(given[0].eval(f, dot)) })
			}
		case "len":
			if kind := given[0].known().Kind(); len(given) == 1 && (kind == reflect.Slice || kind == reflect.String) {
				return expression{typ: intType, eval: func(f *filling, dot reflect.Value) reflect.Value {
					return reflect.ValueOf(given[0].eval(f, dot).Len())
				}}
			}
		case "index":
			if len(given) == 2 && given[0].known().Kind() == reflect.Slice && given[1].known() == intType {
				return expression{typ: given[0].typ.Elem(), eval: func(f *filling, dot reflect.Value) reflect.Value {
					list, i := given[0].eval(f, dot), given[1].eval(f, dot).Int()
					if i < 0 || i >= int64(list.Len()) {
						panic(stopped)
					}
					return list.Index(int(i))
				}}
			}
		case "eq", "ne", "gt":
			if len(given) == 2 {
				return compared(name, given[0], given[1])
			}
		}
	}
	panic(stopped)
}

// counts refuses what has no truth here.
func (e expression) counts() {
	if e.typ != nil && e.typ.Kind() == reflect.Interface {
		panic(stopped)
	}
}

func truthOf(tell func(f *filling, dot reflect.Value) bool) expression {
	return expression{typ: boolType, eval: func(f *filling, dot reflect.Value) reflect.Value { return reflect.ValueOf(tell(f, dot)) }}
}

// firstOf is the first value whose truth is so, or the last.
func firstOf(given []expression, so bool) expression {
	e := expression{typ: given[0].typ}
	for _, g := range given {
		g.counts()
		if g.typ != e.typ {
			e.typ = nil
		}
		e.among = append(e.among, g.among...)
		if g.typ != nil {
			e.among = append(e.among, g.typ)
		}
	}
	e.eval = func(f *filling, dot reflect.Value) (v reflect.Value) {
		for _, g := range given {
			if v = g.eval(f, dot); truth(v) == so {
				break
			}
		}
		return v
	}
	return e
}

// compared reads a comparison of two texts or of two whole numbers.
func compared(name string, a, b expression) expression {
	texts := a.known().Kind() == reflect.String && b.known().Kind() == reflect.String
	numbers := a.known().Kind() == reflect.Int && b.known().Kind() == reflect.Int
	switch {
	case texts && name == "eq":
		return truthOf(func(f *filling, dot reflect.Value) bool { return a.eval(f, dot).String() == b.eval(f, dot).String() })
	case texts && name == "ne":
		return truthOf(func(f *filling, dot reflect.Value) bool { return a.eval(f, dot).String() != b.eval(f, dot).String() })
	case numbers && name == "eq":
		return truthOf(func(f *filling, dot reflect.Value) bool { return a.eval(f, dot).Int() == b.eval(f, dot).Int() })
	case numbers && name == "ne":
		return truthOf(func(f *filling, dot reflect.Value) bool { return a.eval(f, dot).Int() != b.eval(f, dot).Int() })
	case numbers && name == "gt":
		return truthOf(func(f *filling, dot reflect.Value) bool { return a.eval(f, dot).Int() > b.eval(f, dot).Int() })
	}
	panic(stopped)
}
