package language

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/hazard"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// named is something that a page names, remembered for while the page cannot be read.
type named struct {
	sort     sort
	of, name string
	detail   string
}

// completion offers what can be written at a place.
func (s *server) completion(p placeParams) (any, error) {
	out := completionList{Items: []completionItem{}}
	d := s.documentAt(p.TextDocument.URI)
	if d == nil {
		return out, nil
	}
	f := d.fileOf()
	offset := offsetOf(f, p.Position)
	s.look(func(l *lookup) {
		c := &completer{l: l, at: d.path, file: f, offset: offset, snippets: s.snippets}
		c.names = l.named(d)
		c.run()
		out.Items = append(out.Items, c.items...)
	})
	return out, nil
}

// named lists what the page names, or named when it could last be read.
func (l *lookup) named(d *document) []named {
	p := l.content.Page(d.path)
	if p == nil || !strings.HasSuffix(d.path, ".md") {
		return nil
	}
	full := l.desk.Resolved(p)
	if full.Sheet == nil {
		return d.names
	}
	var out []named
	for _, g := range full.Sheet.Given {
		out = append(out, named{value, "", g.Name, "given, " + g.Kind.Name()})
	}
	for _, x := range full.Sheet.Figures {
		out = append(out, named{value, "", x.Name, "figure, " + x.Kind.Name()})
	}
	for _, u := range full.Sheet.Uses {
		out = append(out, named{use, "", u.Name, "page " + u.Path})
		if u.Sheet == nil {
			continue
		}
		for _, g := range u.Sheet.Given {
			out = append(out, named{value, u.Name, g.Name, "given, " + g.Kind.Name()})
		}
		for _, x := range u.Sheet.Figures {
			out = append(out, named{value, u.Name, x.Name, "figure, " + x.Kind.Name()})
		}
	}
	for _, x := range full.Sheet.Data {
		out = append(out, named{dataFile, "", x.Name, "data file " + x.Path})
		if x.Table != nil {
			for _, c := range x.Table.Columns {
				out = append(out, named{column, x.Name, c.Name, "column, " + c.Kind.Name()})
			}
		}
		for _, a := range x.Adds {
			if a.Column != nil {
				out = append(out, named{column, x.Name, a.Column.Name, "column that this page adds"})
			}
		}
	}
	for _, x := range full.Sheet.Cautions {
		out = append(out, named{caution, "", x.Name, "caution"})
	}
	for _, x := range full.Sheet.Grids {
		out = append(out, named{block, "", x.Name, "table"})
	}
	for _, x := range full.Sheet.Charts {
		out = append(out, named{block, "", x.Name, "chart"})
	}
	d.names = out
	return out
}

type completer struct {
	l        *lookup
	at       string
	file     *source.File
	offset   int
	snippets bool
	names    []named
	items    []completionItem
	word     string // what has been typed of the current word
	seen     map[string]bool
}

func (c *completer) run() {
	line, _ := c.file.Place(c.offset)
	before := c.file.Text[c.file.Offset(line):c.offset]
	c.seen = map[string]bool{}
	switch start, end, body, ok := page.Parts(c.file); {
	case path.Ext(c.at) == ".yaml":
		c.yaml(tableFor(c.at), 0, line, before)
	case !strings.HasSuffix(c.at, ".md"):
	case ok && c.offset >= body:
		c.body(before)
	case ok && c.offset >= start && c.offset <= end:
		c.yaml(page.Front(), start, line, before)
	case !ok && line > 1: // the front matter is not closed yet
		c.yaml(page.Front(), 0, line, before)
	}
}

// tableFor returns the table of keys of a lab's YAML file, nil if it has none.
func tableFor(at string) *tree.Entry {
	switch at {
	case page.SettingsFile:
		return page.Lab()
	case hazard.OwnFile:
		return hazard.Own()
	}
	return nil
}

// offer adds an item that replaces the current word.
func (c *completer) offer(x completionItem, text string) {
	if c.seen[x.Label] || len(c.items) >= mostItems {
		return
	}
	c.seen[x.Label] = true
	x.TextEdit = &textEdit{rangeOf(c.file, c.offset-len(c.word), c.offset), text}
	c.items = append(c.items, x)
}

// mostItems bounds what one completion offers.
const mostItems = 1500

// nameAtEnd matches a name that is being typed, with the one before its dot.
var nameAtEnd = regexp.MustCompile(`(?:([a-zA-Z_][a-zA-Z0-9_]*)\.)?([a-zA-Z_][a-zA-Z0-9_]*)?$`)

// unitAtEnd matches a unit that is being typed after a number.
var unitAtEnd = regexp.MustCompile(`(?:^|[^a-zA-Z0-9_.])[0-9][0-9./ ]* ([^\s0-9,;(){}\[\]"'+*<>=!?:]*)$`)

// body offers what may stand in braces, and targets of links.
func (c *completer) body(before string) {
	if open := strings.LastIndexByte(before, '{'); open > strings.LastIndexByte(before, '}') {
		inside := before[open+1:]
		if i := strings.LastIndex(inside, " in "); i >= 0 {
			c.word = inside[i+4:]
			c.forms()
			return
		}
		for _, b := range page.BlockNames() {
			c.word = inside
			c.offer(completionItem{Label: b, Kind: itemField, Detail: "block of the page"}, b)
		}
		for _, n := range c.names {
			if n.sort == caution || n.sort == block {
				c.offer(completionItem{Label: n.name, Kind: itemField, Detail: n.detail}, n.name)
			}
		}
		c.formula(inside, "")
		return
	}
	if open := strings.LastIndex(before, "]("); open >= 0 && !strings.Contains(before[open:], ")") {
		c.word = before[open+2:]
		c.paths(true)
	}
}

// formula offers names, functions and units.
func (c *completer) formula(before, data string) {
	if m := unitAtEnd.FindStringSubmatch(before); m != nil {
		c.word = m[1]
		c.units(quantity.Kind{})
	}
	m := nameAtEnd.FindStringSubmatch(before)
	c.word = m[2]
	for _, n := range c.names {
		switch n.sort {
		case value, use, dataFile, column:
			if n.of == m[1] || n.of == data && m[1] == "" && n.sort == column {
				c.offer(completionItem{Label: n.name, Kind: itemVariable, Detail: n.detail, SortText: "0" + n.name}, n.name)
			}
		}
	}
	if m[1] != "" {
		return
	}
	for _, o := range formula.Operations() {
		if o.Name != "" {
			c.call(o.Name, o.Form, o.Gives, itemFunction)
		}
	}
	for _, name := range c.l.content.Formulas.Names() {
		e, ok := c.l.content.Formulas.Find(name)
		if ok {
			c.call(name, e.Call(), e.Sentence, itemFunction)
		}
	}
	for _, word := range []string{"and", "or", "not", "if", "let"} {
		c.offer(completionItem{Label: word, Kind: itemValue, SortText: "2" + word}, word)
	}
}

// call offers a function, with a place for each argument if the editor can fill them in.
func (c *completer) call(name, form, says string, kind int) {
	x := completionItem{Label: name, Kind: kind, Detail: form, Documentation: &markup{"markdown", says}, SortText: "1" + name}
	text := name
	_, args, found := strings.Cut(strings.TrimSuffix(form, ")"), "(")
	if c.snippets && found {
		var places []string
		for i, arg := range strings.Split(args, ",") {
			places = append(places, fmt.Sprintf("${%d:%s}", i+1, strings.NewReplacer("}", "", "$", "", `\`, "").Replace(strings.TrimSpace(arg))))
		}
		text, x.InsertTextFormat = name+"("+strings.Join(places, ", ")+")", 2
	}
	c.offer(x, text)
}

// units offers units, those of a kind first.
func (c *completer) units(kind quantity.Kind) {
	for _, e := range quantity.Entries() {
		order := "1"
		if e.Kind == kind {
			order = "0"
		}
		c.offer(completionItem{Label: e.Name, Kind: itemUnit, Detail: e.Kind.Name(), SortText: order + e.Name}, e.Name)
	}
}

// forms offers ways to show a value.
func (c *completer) forms() {
	for _, e := range quantity.Entries() {
		c.offer(completionItem{Label: e.Name, Kind: itemUnit, Detail: e.Kind.Name()}, e.Name)
	}
	for _, form := range []string{"1+n", "usual", "weekday"} {
		c.offer(completionItem{Label: form, Kind: itemValue}, form)
	}
}

// paths offers paths from the current file: to pages and their headings, or to data files.
func (c *completer) paths(pages bool) {
	if to, anchor, is := strings.Cut(c.word, "#"); is {
		p := c.l.content.Page(c.at)
		if p == nil {
			return
		}
		target := c.at
		if to != "" {
			target, _, _ = p.Find(to)
		}
		if r := c.l.reading(target); r != nil {
			c.word = anchor
			for _, h := range r.heads {
				c.offer(completionItem{Label: h.ID, Kind: itemValue, Detail: h.Text}, h.ID)
			}
		}
		return
	}
	for _, name := range c.l.content.Names() {
		if strings.HasSuffix(name, ".md") == pages && name != c.at && (pages || path.Ext(name) == ".csv") {
			rel := relative(path.Dir(c.at), name)
			detail := ""
			if p := c.l.content.Page(name); p != nil {
				detail = p.Title()
			}
			c.offer(completionItem{Label: rel, Kind: itemFile, Detail: detail}, rel)
		}
	}
}

// relative is the path from a folder to a file.
func relative(folder, name string) string {
	up := ""
	for folder != "." && !strings.HasPrefix(name, folder+"/") {
		folder, up = path.Dir(folder), up+"../"
	}
	if folder != "." {
		name = name[len(folder)+1:]
	}
	return up + name
}

// yaml offers keys or values, whichever belong at the place.
func (c *completer) yaml(table *tree.Entry, start, line int, before string) {
	if table == nil {
		return
	}
	at := yamlPlaceAt(c.file, start, line, before)
	e := table.Under(at.way...)
	if e == nil {
		return
	}
	if at.key {
		c.word = at.typed
		c.keys(e, at)
		return
	}
	c.word = at.typed[lastWord(at.typed):]
	c.value(e, at)
}

// keys offers the keys that a mapping may still have.
func (c *completer) keys(e *tree.Entry, at yamlPlace) {
	for _, k := range e.Keys {
		if k.Name != tree.Chosen && !slices.Contains(at.siblings, k.Name) {
			c.offer(completionItem{Label: k.Name, Kind: itemField, Documentation: &markup{"markdown", k.Says}}, k.Name+": ")
			continue
		}
		for _, n := range c.names {
			if n.sort == value && n.of == "" && (k.Names == tree.Given || k.Names == tree.Figure) && !slices.Contains(at.siblings, n.name) &&
				(k.Names == tree.Figure || strings.HasPrefix(n.detail, "given")) {
				c.offer(completionItem{Label: n.name, Kind: itemVariable, Detail: n.detail}, n.name+": ")
			}
			if k.Names == tree.Drawn && n.sort == value && len(at.way) > 1 && n.of == at.way[1] && strings.HasPrefix(n.detail, "given") {
				c.offer(completionItem{Label: n.name, Kind: itemVariable, Detail: n.detail}, n.name+": ")
			}
		}
	}
}

// lastWord is where the word at the end of a text begins.
func lastWord(text string) int {
	return strings.LastIndexAny(text, " \t[{,\"'") + 1
}

// value offers values for a key.
func (c *completer) value(e *tree.Entry, at yamlPlace) {
	if e.Item != nil && e.Reads == tree.Nowhere {
		e = e.Item
	}
	for _, w := range e.Words {
		c.offer(completionItem{Label: w, Kind: itemValue}, w)
	}
	switch e.Reads {
	case tree.Formula:
		data := ""
		if len(at.way) > 1 && at.way[0] == "data" {
			data = at.way[1]
		}
		c.formula(at.typed, data)
	case tree.Given, tree.Figure:
		c.list(value, func(n named) bool {
			return n.of == "" && (e.Reads == tree.Figure || strings.HasPrefix(n.detail, "given"))
		})
	case tree.DataFile:
		c.list(dataFile, nil)
	case tree.Column:
		c.list(column, nil)
	case tree.Warning:
		c.list(caution, nil)
		for _, x := range hazard.Built().Cautions {
			c.offer(completionItem{Label: x.Name, Kind: itemValue, Detail: x.Word, Documentation: &markup{"markdown", x.Text}}, x.Name)
		}
	case tree.Chemical:
		for _, x := range hazard.Built().Substances {
			c.offer(completionItem{Label: x.Name, Kind: itemValue, Detail: x.CAS}, x.Name)
		}
	case tree.Path:
		c.paths(at.way[0] == "draws_on")
	case tree.Prose:
		if open := strings.LastIndexByte(at.typed, '{'); open > strings.LastIndexByte(at.typed, '}') {
			c.formula(at.typed[open+1:], "")
		}
	case tree.Form:
		c.forms()
	case tree.Quantity, tree.Values, tree.Cells:
		c.quantity(e, at)
	}
}

// quantity offers units after a number, those of the value's kind first, or columns.
func (c *completer) quantity(e *tree.Entry, at yamlPlace) {
	if m := unitAtEnd.FindStringSubmatch(" " + at.typed); m != nil {
		c.word = m[1]
		kind := quantity.Kind{}
		if p := c.l.content.Page(c.at); p != nil {
			if full := c.l.desk.Resolved(p); full.Sheet != nil {
				for _, name := range at.way {
					if g := full.Sheet.GivenNamed(name); g != nil {
						kind = g.Kind
					} else if f := full.Sheet.Figure(name); f != nil {
						kind = f.Kind
					}
				}
			}
		}
		c.units(kind)
		return
	}
	if e.Reads == tree.Cells {
		m := nameAtEnd.FindStringSubmatch(at.typed)
		c.word = m[2]
		for _, n := range c.names {
			if n.of == m[1] && (n.sort == column || n.sort == dataFile && m[1] == "") {
				c.offer(completionItem{Label: n.name, Kind: itemVariable, Detail: n.detail}, n.name)
			}
		}
	}
}

func (c *completer) list(s sort, wanted func(n named) bool) {
	for _, n := range c.names {
		if n.sort == s && (wanted == nil || wanted(n)) {
			c.offer(completionItem{Label: n.name, Kind: itemVariable, Detail: n.detail}, n.name)
		}
	}
}
