package page

import (
	"labsite/recipes/formula"
	"labsite/recipes/source"
)

// order sorts figures, pages drawn on and added columns so that each comes after what it uses,
// and reports cycles.
func (s *Sheet) order() source.List {
	s.Sorted, s.Program = s.Sorted[:0], s.Program[:0]
	var all []namedTask
	for _, u := range s.Uses {
		all = append(all, namedTask{u.Name, Task{Use: u}})
	}
	for _, f := range s.Figures {
		all = append(all, namedTask{f.Name, Task{Figure: f}})
	}
	for _, d := range s.Data {
		for _, a := range d.Adds {
			all = append(all, namedTask{d.Name + "." + a.Column.Name, Task{Added: a}})
		}
	}
	for _, x := range all {
		*x.task.state() = unordered
	}
	o := &orderer{sheet: s}
	for _, x := range all {
		o.visit(x)
	}
	return o.list
}

// How far the ordering of a task has come.
const (
	unordered    = iota
	beingOrdered // what it uses is being visited
	ordered
)

// namedTask is a task under the name by which a cycle is reported.
type namedTask struct {
	name string
	task Task
}

func (t Task) state() *uint8 {
	switch {
	case t.Use != nil:
		return &t.Use.state
	case t.Added != nil:
		return &t.Added.state
	}
	return &t.Figure.state
}

func (t Task) span() source.Span {
	switch {
	case t.Use != nil:
		return t.Use.Span
	case t.Added != nil:
		return t.Added.Span
	}
	return t.Figure.Span
}

// orderer goes through the tasks of a sheet, depth first.
type orderer struct {
	sheet *Sheet
	path  []namedTask // from the task where the search began to the one being visited
	list  source.List
}

func (o *orderer) visit(x namedTask) {
	switch state := x.task.state(); *state {
	case ordered:
		return
	case beingOrdered:
		o.list = append(o.list, o.cycle(x).At(x.task.span()))
		return
	default:
		*state = beingOrdered
	}
	o.path = append(o.path, x)
	switch {
	case x.task.Use != nil:
		for _, set := range x.task.Use.At {
			o.follow(set.Formula, nil)
		}
	case x.task.Added != nil:
		o.follow(x.task.Added.Formula, x.task.Added.File)
	default:
		o.follow(x.task.Figure.Formula, nil)
	}
	o.path = o.path[:len(o.path)-1]
	*x.task.state() = ordered
	o.sheet.Program = append(o.sheet.Program, x.task)
	if x.task.Figure != nil {
		o.sheet.Sorted = append(o.sheet.Sorted, x.task.Figure)
	}
}

// follow visits all that a formula refers to; file is the data file over whose rows it is
// worked out, nil for none.
func (o *orderer) follow(f *formula.Formula, file *DataFile) {
	if f == nil {
		return
	}
	for _, r := range f.References() {
		if a := o.sheet.added(r.Of, r.Name); a != nil {
			o.visit(namedTask{r.Of + "." + r.Name, Task{Added: a}})
		} else if a := file.addedNamed(r.Name); a != nil && r.Of == "" {
			o.visit(namedTask{file.Name + "." + r.Name, Task{Added: a}})
		} else if u := o.sheet.UseNamed(r.Of); u != nil {
			o.visit(namedTask{u.Name, Task{Use: u}})
		} else if g, ok := o.sheet.figs[r.Name]; ok && r.Of == "" {
			o.visit(namedTask{g.Name, Task{Figure: g}})
		}
	}
}

// cycle describes the path that leads from a task back to it.
func (o *orderer) cycle(x namedTask) source.Problem {
	from := len(o.path) - 1
	for from > 0 && o.path[from].task != x.task {
		from--
	}
	names := ""
	for _, member := range o.path[from:] {
		names += member.name + " → "
	}
	out := source.Cycle(names + x.name)
	for _, member := range o.path[from+1:] {
		out = out.Also(member.task.span(), member.name+" is part of the circle")
	}
	return out
}
