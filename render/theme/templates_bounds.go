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

// A lab's own template may range over a large number, nest ranges, or have templates call one another
// without end. Three things bound it. What can be seen in the text is refused when it is read: circles
// of templates, and blocks nested so deep that they would overflow the stack. What shows only while it
// is filled is counted by the writer: an empty text at the head of every round of a range and of every
// template makes the engine call the writer even where nothing is written. And the functions that make
// texts make none of more than a megabyte, since a few rounds of doubling would fill the memory.
const (
	mostFilled     = 64 << 20   // bytes that a template writes for one page
	mostSteps      = 10_000_000 // pieces written, rounds and templates for one page: a second or two
	mostTrialSteps = 200_000    // the same for made-up data, which has two of everything
	mostFormed     = 1 << 20    // bytes that a function of templates returns
	deepestBlock   = 50
	deepestRange   = 6 // the engine parses the body of a range twice, so each level doubles the work
	longestChain   = 50
)

// overspent is the error with which the writer stops a template, with the round or the template in
// which it was.
type overspent struct {
	what string
	in   source.Span
}

func (e *overspent) Error() string { return e.what }

// allowance is a writer that stops a template once it has used up its steps or bytes.
type allowance struct {
	of           *Templates
	to           io.Writer
	steps, bytes int // how many are left
	in           source.Span
}

// allow makes the writer for filling one template.
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

// bounded refuses templates that call one another in circles or nest too deep, and makes the engine
// call the writer in each round of a range. All templates must be parsed, and all that they call must
// be there.
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

// at is the rest of the line at a place in a template, in whichever file that is defined.
func (t *Templates) at(x *template.Template, pos parse.Pos) source.Span {
	file := t.files[x.Tree.ParseName]
	start := min(int(pos), len(file.Text))
	line, _, _ := strings.Cut(file.Text[start:], "\n")
	return file.Span(start, start+len(line))
}

// branches returns the parts of a block, and whether the first of them is repeated; nil for a node
// that is no block.
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

// tooDeep finds a block that is nested in too many others.
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

// count puts an empty text at the head of the body of each range in a list, and, unless head is -1,
// at the head of the list itself: it is then the body of a range or a template that begins at head.
// Each of these texts points to a byte of its own, by which the writer knows where it is.
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

// chains finds how long the chains of templates are that call one another.
type chains struct {
	t      *Templates
	length map[string]int // of the longest chain from a template; 0 while it is being found
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
			longest = 1 // so that it is reported once
		}
	}
	c.way = c.way[:len(c.way)-1]
	c.length[name] = longest
	return longest
}

// textFunctions are bounded versions of the engine's own functions that make texts.
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

// wide finds what makes a long text of a short format.
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
