package theme

import (
	"reflect"
	"text/template"
	"text/template/parse"
)

var (
	intType   = reflect.TypeFor[int]()
	boolType  = reflect.TypeFor[bool]()
	errorType = reflect.TypeFor[error]()
)

// expression is a value of a template that is read for one type of data.
type expression struct {
	typ   reflect.Type   // nil where it is one of several
	among []reflect.Type // these
	eval  func(f *filling, dot reflect.Value) reflect.Value
}

func (e expression) known() reflect.Type {
	if e.typ == nil || e.typ.Kind() == reflect.Interface {
		panic(stopped)
	}
	return e.typ
}

func constant(v reflect.Value) expression {
	return expression{typ: v.Type(), eval: func(*filling, reflect.Value) reflect.Value { return v }}
}

// truth is what if, with and the logical functions go by.
func truth(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.String, reflect.Slice:
		return v.Len() > 0
	case reflect.Bool:
		return v.Bool()
	case reflect.Struct:
		return true
	case reflect.Pointer:
		return !v.IsNil()
	}
	holds, _ := template.IsTrue(v.Interface())
	return holds
}

// pipe reads a pipe that declares nothing.
func (c *compiler) pipe(p *parse.PipeNode, dot reflect.Type) expression {
	if len(p.Decl) > 0 {
		panic(stopped)
	}
	return c.commands(p.Cmds, dot)
}

func (c *compiler) commands(cmds []*parse.CommandNode, dot reflect.Type) expression {
	if len(cmds) != 1 {
		panic(stopped)
	}
	args := cmds[0].Args
	if name, is := args[0].(*parse.IdentifierNode); is {
		return c.function(name.Ident, args[1:], dot)
	}
	return c.value(args[0], args[1:], dot)
}

// value reads a value; args are what is given to the method that it may end in.
func (c *compiler) value(n parse.Node, args []parse.Node, dot reflect.Type) expression {
	var at expression
	var names []string
	switch n := n.(type) {
	case *parse.FieldNode:
		at = expression{typ: dot, eval: func(_ *filling, dot reflect.Value) reflect.Value { return dot }}
		names = n.Ident
	case *parse.VariableNode:
		at, names = c.variable(n.Ident[0]), n.Ident[1:]
	case *parse.DotNode:
		at = expression{typ: dot, eval: func(_ *filling, dot reflect.Value) reflect.Value { return dot }}
	case *parse.StringNode:
		at = constant(reflect.ValueOf(n.Text))
	case *parse.NumberNode:
		if !n.IsInt || n.IsComplex && !n.IsInt || n.Text != n.String() || !isWhole(n.Text) {
			panic(stopped)
		}
		at = constant(reflect.ValueOf(int(n.Int64)))
	case *parse.BoolNode:
		at = constant(reflect.ValueOf(n.True))
	case *parse.PipeNode:
		at = c.pipe(n, dot)
	default:
		panic(stopped)
	}
	for i, name := range names {
		if i == len(names)-1 {
			return c.field(at, name, args, dot)
		}
		at = c.field(at, name, nil, dot)
	}
	if len(args) > 0 {
		panic(stopped)
	}
	return at
}

// isWhole tells a whole number in plain digits from all other ways of writing one.
func isWhole(text string) bool {
	for _, c := range text {
		if c < '0' || c > '9' {
			return false
		}
	}
	return len(text) < 10
}

func (c *compiler) variable(name string) expression {
	for i := len(c.scope) - 1; i >= 0; i-- {
		if v := c.scope[i]; v.name == name {
			return expression{typ: v.typ, eval: func(f *filling, _ reflect.Value) reflect.Value { return f.vars[v.slot] }}
		}
	}
	panic(stopped)
}

// field reads a field or a method of a value. A method comes first, as with the engine.
func (c *compiler) field(of expression, name string, args []parse.Node, dot reflect.Type) expression {
	typ := of.known()
	if m, is := typ.MethodByName(name); is {
		return c.method(of, m, args, dot)
	}
	pointed := typ.Kind() == reflect.Pointer
	if pointed {
		typ = typ.Elem()
	}
	if typ.Kind() != reflect.Struct || len(args) > 0 {
		panic(stopped)
	}
	if _, is := reflect.PointerTo(typ).MethodByName(name); is {
		panic(stopped) // has it or not by where the value lies
	}
	field, is := typ.FieldByName(name)
	if !is || !field.IsExported() || len(field.Index) > 1 && throughPointer(typ, field.Index) {
		panic(stopped)
	}
	index, first := field.Index, field.Index[0]
	return expression{typ: field.Type, eval: func(f *filling, dot reflect.Value) reflect.Value {
		v := of.eval(f, dot)
		if pointed {
			if v.IsNil() {
				panic(stopped)
			}
			v = v.Elem()
		}
		if len(index) == 1 {
			return v.Field(first)
		}
		return v.FieldByIndex(index)
	}}
}

// throughPointer tells whether an embedded field lies behind a pointer, which may be nil.
func throughPointer(typ reflect.Type, index []int) bool {
	for _, i := range index[:len(index)-1] {
		if typ = typ.Field(i).Type; typ.Kind() != reflect.Struct {
			return true
		}
	}
	return false
}

// method reads the call of a method.
func (c *compiler) method(of expression, m reflect.Method, args []parse.Node, dot reflect.Type) expression {
	typ := m.Type // its first operand is what it is a method of
	fails := typ.NumOut() == 2 && typ.Out(1) == errorType
	if typ.IsVariadic() || typ.NumIn() != len(args)+1 || typ.NumOut() != 1 && !fails {
		panic(stopped)
	}
	given := make([]expression, len(args))
	for i, arg := range args {
		if given[i] = c.value(arg, nil, dot); given[i].known() != typ.In(i+1) {
			panic(stopped)
		}
	}
	pointed, index := of.typ.Kind() == reflect.Pointer, m.Index
	return expression{typ: typ.Out(0), eval: func(f *filling, dot reflect.Value) reflect.Value {
		v := of.eval(f, dot)
		if pointed && v.IsNil() {
			panic(stopped)
		}
		in := make([]reflect.Value, len(given))
		for i, g := range given {
			in[i] = g.eval(f, dot)
		}
		out := v.Method(index).Call(in)
		if fails && !out[1].IsNil() {
			panic(stopped)
		}
		return out[0]
	}}
}
