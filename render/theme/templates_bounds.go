package theme

import (
	"errors"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"text/template/parse"

	"labsite/recipes/source"
)

// A lab's own template may range over a large number, over lists within lists, or have
// templates ask for one another without end. Three things bound it. What can be seen in the
// text is refused when it is read: circles of templates, and blocks within blocks, which
// take up the stack that no program gets back. What shows while it is filled is counted: an
// empty text is at the head of every round of a range and of every template, so that the
// engine comes to the writer there even where nothing is written. And the functions that make
// texts make none of more than a megabyte, or a few rounds of doubling would fill the memory.
const (
	mostFilled     = 64 << 20   // bytes that a template writes for one page
	mostSteps      = 10_000_000 // pieces written, rounds and templates for one page, a second or two
	mostTrialSteps = 200_000    // the same for made-up data, which has two of everything
	mostFormed     = 1 << 20    // bytes that a function of templates gives
	deepestBlock   = 50
	deepestRange   = 6 // the engine reads what is in a range twice, and so twice for each
	longestChain   = 50
)

// overspent is the writer's error of a template that was stopped, with the round or the
// template that it was in.
type overspent struct {
	what string
	in   source.Span
}

func (e *overspent) Error() string { return e.what }

// allowance is a writer that stops a template by an error.
type allowance struct {
	of           *Templates
	to           io.Writer
	steps, bytes int // that are left
	in           source.Span
}

// allow gives the writer for filling one template.
func (t *Templates) allow(to io.Writer, steps int) *allowance {
	return &allowance{of: t, to: to, steps: steps, bytes: mostFilled}
}

func (a *allowance) Write(b []byte) (int, error) {
	a.steps--
	a.bytes -= len(b)
	if len(b) == 0 && cap(b) > 0 {
		if in, is := a.of.heads[&b[:1][0]]; is {
			a.in = in
		}
	}
	switch {
	case a.steps < 0:
		return 0, &overspent{"it takes more steps than any page needs", a.in}
	case a.bytes < 0:
		return 0, &overspent{fmt.Sprintf("it writes more than %d MiB for one page", mostFilled>>20), a.in}
	case a.steps%1024 == 0 && a.of.until.Err() != nil:
		return 0, a.of.until.Err()
	}
	if len(b) == 0 {
		return 0, nil
	}
	return a.to.Write(b)
}

// bounded refuses templates that go round in circles or too deep, and makes the engine come
// to the writer in each round of a range. It is called once all are parsed and all that they
// ask for is there.
func (t *Templates) bounded() source.List {
	var list source.List
	all := t.set.Templates()
	slices.SortFunc(all, func(a, b *template.Template) int { return strings.Compare(a.Name(), b.Name()) })
	for _, x := range all {
		if x.Tree == nil || x.Tree.Root == nil {
			continue
		}
		if at, what, most := tooDeep(x.Tree.Root, 0, 0); at != nil {
			list = append(list, source.ThemeDeep(what, most).At(t.at(x, at.Position())))
			continue
		}
		t.count(x, x.Tree.Root, x.Tree.Root.Pos)
	}
	c := chains{t: t, length: map[string]int{}}
	for _, x := range all {
		c.follow(x.Name())
	}
	return append(list, c.list...)
}

// at is the line of a place in a template, whichever file it was defined in.
func (t *Templates) at(x *template.Template, pos parse.Pos) source.Span {
	file := t.files[x.Tree.ParseName]
	start := min(int(pos), len(file.Text))
	line, _, _ := strings.Cut(file.Text[start:], "\n")
	return file.Span(start, start+len(line))
}

// branches gives the parts of a block, and whether the first of them is gone through in
// rounds; nil for what is not a block.
func branches(n parse.Node) (b *parse.BranchNode, rounds bool) {
	switch n := n.(type) {
	case *parse.IfNode:
		return &n.BranchNode, false
	case *parse.WithNode:
		return &n.BranchNode, false
	case *parse.RangeNode:
		return &n.BranchNode, true
	}
	return nil, false
}

// tooDeep finds a block that is within too many others.
func tooDeep(list *parse.ListNode, blocks, ranges int) (at parse.Node, what string, most int) {
	for _, n := range list.Nodes {
		b, rounds := branches(n)
		if b == nil {
			continue
		}
		inner := ranges
		if rounds {
			inner++
		}
		switch {
		case blocks == deepestBlock:
			return n, "blocks", deepestBlock
		case inner > deepestRange:
			return n, "ranges", deepestRange
		}
		for _, part := range []*parse.ListNode{b.List, b.ElseList} {
			if part == nil {
				continue
			}
			if at, what, most := tooDeep(part, blocks+1, inner); at != nil {
				return at, what, most
			}
		}
	}
	return nil, "", 0
}

// count puts an empty text at the head of what a template ranges over, and at the head of the
// list itself where that is gone through in rounds or asked for by others: it is at head,
// -1 for neither. Each of these texts is the beginning of a byte of its own, by which the
// writer knows where it is.
func (t *Templates) count(x *template.Template, list *parse.ListNode, head parse.Pos) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		if b, rounds := branches(n); b != nil {
			inner := parse.Pos(-1)
			if rounds {
				inner = b.Pos
			}
			t.count(x, b.List, inner)
			t.count(x, b.ElseList, -1)
		}
	}
	if head >= 0 {
		mark := make([]byte, 1)
		t.heads[&mark[0]] = t.at(x, head)
		list.Nodes = slices.Insert(list.Nodes, 0, parse.Node(&parse.TextNode{NodeType: parse.NodeText, Pos: head, Text: mark[:0]}))
	}
}

// chains finds how long the way is from a template by those that it asks for.
type chains struct {
	t      *Templates
	length map[string]int // 0 while it is looked for
	way    []string
	list   source.List
}

func (c *chains) follow(name string) int {
	if n, known := c.length[name]; known {
		return n
	}
	c.length[name] = 0
	c.way = append(c.way, name)
	x := c.t.set.Lookup(name)
	longest := 1
	for _, call := range calls(x) {
		if i := slices.Index(c.way, call.Name); i >= 0 {
			circle := append(slices.Clone(c.way[i:]), call.Name)
			c.list = append(c.list, source.ThemeCircle(strings.Join(circle, " → ")).At(c.t.at(x, call.Position())))
			continue
		}
		before := longest
		longest = max(longest, 1+c.follow(call.Name))
		if longest > longestChain && before <= longestChain {
			c.list = append(c.list, source.ThemeDeep("templates", longestChain).At(c.t.at(x, call.Position())))
			longest = 1 // told once
		}
	}
	c.way = c.way[:len(c.way)-1]
	c.length[name] = longest
	return longest
}

// textFunctions are the engine's own functions that make texts, bounded.
var textFunctions = template.FuncMap{
	"print":    boundedText(fmt.Sprint),
	"println":  boundedText(fmt.Sprintln),
	"html":     boundedText(template.HTMLEscaper),
	"js":       boundedText(template.JSEscaper),
	"urlquery": boundedText(template.URLQueryEscaper),
	"printf": func(format string, args ...any) (string, error) {
		if wide.MatchString(format) {
			return "", errors.New("a width has at most three digits, and no value is named by its place")
		}
		return boundedText(func(args ...any) string { return fmt.Sprintf(format, args...) })(args...)
	},
}

// wide finds what makes a short format a long text.
var wide = regexp.MustCompile(`[0-9]{4}|[*\[]`)

func boundedText(make func(args ...any) string) func(args ...any) (string, error) {
	long := fmt.Errorf("the text is longer than %d MiB", mostFormed>>20)
	return func(args ...any) (string, error) {
		size := 0
		for _, a := range args {
			if v := reflect.ValueOf(a); v.Kind() == reflect.String {
				size += v.Len()
			} else {
				size += len(fmt.Sprint(a))
			}
			if size > mostFormed {
				return "", long
			}
		}
		out := make(args...)
		if len(out) > mostFormed {
			return "", long
		}
		return out, nil
	}
}
