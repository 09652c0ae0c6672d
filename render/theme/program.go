package theme

import (
	"errors"
	"html/template"
	"reflect"
	"sync"
	text "text/template"
	"text/template/parse"
)

// A program is a template read once for one type of data, so that filling it neither looks
// fields up by name nor calls functions by reflection: the engine of templates took a sixth
// of a publish. It is made from the template as html/template has left it, with the escaping
// of each place already chosen, and knows only a part of the language; a template with
// anything else in it is filled by the engine, and so is one whose program stops on the way,
// which gives up wherever the engine would report a mistake or the allowance ends.
// TestProgramsAgree and FuzzEscaping hold both to the same bytes.
type program struct {
	root  step
	slots int // values that its variables need
}

// step writes a part of a template.
type step func(f *filling, dot reflect.Value)

// filling is one use of a program.
type filling struct {
	out   []byte
	vars  []reflect.Value
	steps int // that are left, counted as allowance does
	of    *Templates
}

// stopped is thrown where a program gives up, and where there is none.
var stopped = errors.New("the engine must fill this template")

// spend counts what is written at once.
func (f *filling) spend() {
	f.steps--
	if f.steps < 0 || len(f.out) > mostFilled || f.steps%1024 == 0 && f.of.until.Err() != nil {
		panic(stopped)
	}
}

// fill gives what the template writes for some data, appended to a buffer; ok is false where
// the engine must do it.
func (p *program) fill(t *Templates, to []byte, data any) (out []byte, ok bool) {
	defer func() {
		if recover() != nil { // a method of the data may have panicked as well, which the engine reports
			out, ok = nil, false
		}
	}()
	f := &filling{out: to, vars: make([]reflect.Value, p.slots), steps: mostSteps, of: t}
	p.root(f, reflect.ValueOf(data))
	return f.out, true
}

// programs are those of a theme.
type programs struct {
	mu   sync.Mutex
	made map[programKey]*program // nil where there is none, or the template was filled once
	read map[programKey]bool     // whether made is final
}

type programKey struct {
	name string
	data reflect.Type
}

// program gives the program for a template; nil where the engine must fill it. It is made when
// a template is filled for the second time: then the engine has chosen how each place is
// escaped, and the work is worth it.
func (t *Templates) program(name string, data any) *program {
	key := programKey{name, reflect.TypeOf(data)}
	s := &t.programs
	s.mu.Lock()
	defer s.mu.Unlock()
	p, met := s.made[key]
	if s.read[key] {
		return p
	}
	if s.made == nil {
		s.made, s.read = map[programKey]*program{}, map[programKey]bool{}
	}
	if met {
		p = compiled(t.set, name, key.data)
		s.read[key] = true
	}
	s.made[key] = p
	return p
}

// compiled reads a template that the engine has filled once; nil where it has something in it
// that no program does.
func compiled(set *template.Template, name string, data reflect.Type) (p *program) {
	defer func() {
		if r := recover(); r != nil {
			if r != stopped {
				panic(r)
			}
			p = nil
		}
	}()
	if data == nil {
		return nil
	}
	c := &compiler{set: set, blocks: map[programKey]step{}}
	root := c.template(name, data)
	return &program{root, c.slots}
}

// compiler reads templates. It throws stopped at the first thing that it does not know.
type compiler struct {
	set    *template.Template
	blocks map[programKey]step // templates read, by name and data
	scope  []variable          // those in sight, the innermost last
	slots  int
}

// variable is a variable of a template, with its place among the values.
type variable struct {
	name string
	typ  reflect.Type
	slot int
}

func (c *compiler) declare(name string, typ reflect.Type) int {
	c.scope = append(c.scope, variable{name, typ, c.slots})
	c.slots++
	return c.slots - 1
}

// template reads a template for one type of data. None asks for itself, by whatever way
// (chains.follow), so that its variables need one place each.
func (c *compiler) template(name string, data reflect.Type) step {
	key := programKey{name, data}
	if s, read := c.blocks[key]; read {
		return s
	}
	tree := c.tree(name)
	if tree == nil || tree.Root == nil {
		panic(stopped)
	}
	outer := c.scope
	c.scope = nil
	slot := c.declare("$", data)
	list := c.list(tree.Root, data)
	c.scope = outer
	s := func(f *filling, dot reflect.Value) {
		f.vars[slot] = dot
		list(f, dot)
	}
	c.blocks[key] = s
	return s
}

// tree is a template as the engine has left it. Of one that is asked for within a tag it has
// made another, which html/template keeps to itself; it is looked for in the set of
// text/template that lies in each of its own, and where that is no more, there is no program.
func (c *compiler) tree(name string) *parse.Tree {
	if x := c.set.Lookup(name); x != nil {
		return x.Tree
	}
	inner := reflect.ValueOf(c.set).Elem().FieldByName("text")
	if !inner.IsValid() || inner.Type() != reflect.TypeFor[*text.Template]() || inner.IsNil() {
		return nil
	}
	if x := (*text.Template)(inner.UnsafePointer()).Lookup(name); x != nil {
		return x.Tree
	}
	return nil
}

// list reads what follows one another; what is declared in it ends with it.
func (c *compiler) list(l *parse.ListNode, dot reflect.Type) step {
	if l == nil {
		return func(*filling, reflect.Value) {}
	}
	mark := len(c.scope)
	var steps []step
	for _, n := range l.Nodes {
		if s := c.node(n, dot); s != nil {
			steps = append(steps, s)
		}
	}
	c.scope = c.scope[:mark]
	return func(f *filling, dot reflect.Value) {
		for _, s := range steps {
			s(f, dot)
		}
	}
}

// node reads a node; nil where there is nothing to do.
func (c *compiler) node(n parse.Node, dot reflect.Type) step {
	switch n := n.(type) {
	case *parse.TextNode:
		written := n.Text
		return func(f *filling, _ reflect.Value) {
			f.out = append(f.out, written...)
			f.spend()
		}
	case *parse.CommentNode:
		return nil
	case *parse.ActionNode:
		return c.action(n.Pipe, dot)
	case *parse.IfNode:
		return c.condition(&n.BranchNode, dot, false)
	case *parse.WithNode:
		return c.condition(&n.BranchNode, dot, true)
	case *parse.RangeNode:
		return c.rounds(n, dot)
	case *parse.TemplateNode:
		if n.Pipe == nil {
			break
		}
		of := c.pipe(n.Pipe, dot)
		inner := c.template(n.Name, of.known())
		return func(f *filling, dot reflect.Value) { inner(f, of.eval(f, dot)) }
	}
	panic(stopped)
}

// action reads what writes a value, or declares a variable.
func (c *compiler) action(p *parse.PipeNode, dot reflect.Type) step {
	if p.IsAssign || len(p.Decl) > 1 {
		panic(stopped)
	}
	if len(p.Decl) == 1 {
		v := c.commands(p.Cmds, dot)
		slot := c.declare(p.Decl[0].Ident[0], v.known())
		return func(f *filling, dot reflect.Value) { f.vars[slot] = v.eval(f, dot) }
	}
	first := len(p.Cmds)
	for first > 0 && escapers[functionOf(p.Cmds[first-1])] != nil {
		first--
	}
	v := c.commands(p.Cmds[:first], dot)
	write := escaping(v, p.Cmds[first:])
	return func(f *filling, dot reflect.Value) {
		f.out = write(f.out, v.eval(f, dot))
		f.spend()
	}
}

// functionOf names the function that a command calls without words of its own; "" for another.
func functionOf(cmd *parse.CommandNode) string {
	if name, is := cmd.Args[0].(*parse.IdentifierNode); is && len(cmd.Args) == 1 {
		return name.Ident
	}
	return ""
}

// condition reads if and with, which differ in what the dot is within.
func (c *compiler) condition(b *parse.BranchNode, dot reflect.Type, with bool) step {
	mark := len(c.scope)
	v := c.commands(b.Pipe.Cmds, dot)
	slot, inner := -1, dot
	if with {
		inner = v.known()
	}
	if len(b.Pipe.Decl) > 0 {
		if b.Pipe.IsAssign || len(b.Pipe.Decl) > 1 {
			panic(stopped)
		}
		slot = c.declare(b.Pipe.Decl[0].Ident[0], v.known())
	}
	holds, other := c.list(b.List, inner), c.list(b.ElseList, dot)
	c.scope = c.scope[:mark]
	return func(f *filling, dot reflect.Value) {
		value := v.eval(f, dot)
		if slot >= 0 {
			f.vars[slot] = value
		}
		switch {
		case !truth(value):
			other(f, dot)
		case with:
			holds(f, value)
		default:
			holds(f, dot)
		}
	}
}

// rounds reads what goes through a list.
func (c *compiler) rounds(r *parse.RangeNode, dot reflect.Type) step {
	mark := len(c.scope)
	v := c.commands(r.Pipe.Cmds, dot)
	typ := v.known()
	if typ.Kind() != reflect.Slice || r.Pipe.IsAssign {
		panic(stopped)
	}
	index, element := -1, -1
	switch decl := r.Pipe.Decl; len(decl) {
	case 2:
		index = c.declare(decl[0].Ident[0], intType)
		element = c.declare(decl[1].Ident[0], typ.Elem())
	case 1:
		element = c.declare(decl[0].Ident[0], typ.Elem())
	}
	round, other := c.list(r.List, typ.Elem()), c.list(r.ElseList, dot)
	c.scope = c.scope[:mark]
	return func(f *filling, dot reflect.Value) {
		all := v.eval(f, dot)
		n := all.Len()
		if n == 0 {
			other(f, dot)
		}
		for i := range n {
			one := all.Index(i)
			if index >= 0 {
				f.vars[index] = reflect.ValueOf(i)
			}
			if element >= 0 {
				f.vars[element] = one
			}
			round(f, one)
		}
	}
}
