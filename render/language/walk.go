package language

import (
	"strings"

	"labsite/recipes/formula"
	"labsite/recipes/page"
	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
	"labsite/render/markdown"
)

// sort is the sort of thing that a mark names.
type sort uint8

const (
	keyName   sort = iota // a key that the program knows
	value                 // a given value or a figure
	use                   // a page drawn on, by its name on this page
	dataFile              // a data file, by its name on this page
	column                // a column of a data file
	caution               // a caution
	block                 // a table or a chart
	function              // a function of the language, or a bench formula
	amount                // a quantity
	file                  // a path
	substance             // a substance of the hazard list
)

// mark is a part of a page that names something.
type mark struct {
	sort       sort
	of, name   string // of is the page drawn on or the data file that it belongs to, by its name on this page
	start, end int
	def        bool // it is declared here
	loose      bool // a bare name in a formula over rows: a value of the page, or a column of the file
	entry      *tree.Entry
	amount     *quantity.Value
}

// token is a part of a formula, with its place.
type token struct {
	kind       formula.TokenKind
	start, end int
}

// reading is a page as an editor sees it: what is where, found from the text alone.
type reading struct {
	file   *source.File
	front  *tree.Value // nil if the front matter cannot be read
	body   int
	marks  []mark
	tokens []token
	heads  []markdown.Heading
	data   map[string]string // paths of data files as written, by their names on this page
	uses   map[string]string // the same for pages drawn on
}

// read reads a page.
func read(f *source.File) *reading {
	r := &reading{file: f, data: map[string]string{}, uses: map[string]string{}}
	start, end, body, ok := page.Parts(f)
	if !ok {
		return r
	}
	r.body = body
	if r.front, _ = tree.Parse(f, start, end); r.front != nil {
		r.paths(r.front.Get("data"), "file", r.data)
		r.paths(r.front.Get("draws_on"), "page", r.uses)
		r.value(page.Front(), r.front, way{})
	}
	doc, _ := markdown.Parse(f, body)
	r.placements(doc, way{})
	for _, l := range doc.Links() {
		r.add(mark{sort: file, name: l.Destination, start: l.Span.Start, end: l.Span.End})
	}
	for _, p := range doc.Pictures() {
		r.add(mark{sort: file, name: p.Destination, start: p.Span.Start, end: p.Span.End})
	}
	r.heads = doc.Headings()
	r.settle()
	return r
}

func (r *reading) paths(v *tree.Value, key string, into map[string]string) {
	if v == nil || v.Shape != tree.Mapping {
		return
	}
	for i, k := range v.Keys {
		item := v.Items[i]
		if item.Shape == tree.Mapping {
			item = item.Get(key)
		}
		if item != nil && item.Shape == tree.Scalar {
			into[k.Text] = strings.TrimSpace(item.Text)
		} else {
			into[k.Text] = ""
		}
	}
}

// way says by which keys a value is reached.
type way struct {
	top  string // the page's key
	data string // the current data file
	use  string // the current page drawn on
	adds bool
}

func (r *reading) add(m mark) {
	if m.end > m.start {
		r.marks = append(r.marks, m)
	}
}

// value walks a value that an entry describes; either may be nil.
func (r *reading) value(e *tree.Entry, v *tree.Value, w way) {
	if e == nil || v == nil {
		return
	}
	switch v.Shape {
	case tree.Scalar:
		r.text(e, v, w)
	case tree.List:
		for _, item := range v.Items {
			r.value(e.Item, item, w)
		}
	case tree.Mapping:
		for _, key := range []string{"of", "each"} {
			if of := v.Get(key); of != nil && e.Key(key) != nil && of.Shape == tree.Scalar {
				w.data = strings.TrimSpace(of.Text)
			}
		}
		for i, k := range v.Keys {
			r.key(e, k, v.Items[i], w)
		}
	}
}

// key walks a key and its value.
func (r *reading) key(e *tree.Entry, k, item *tree.Value, w way) {
	inner := e.Key(k.Text)
	if inner == nil {
		return
	}
	m := mark{sort: keyName, name: k.Text, start: k.Span.Start, end: k.Span.End, entry: inner}
	if inner.Name == tree.Chosen {
		m.def = inner.Names == tree.NewName
		m.sort = value
		switch {
		case inner.Names == tree.Drawn:
			m.of = w.use
		case inner.Names == tree.Whole:
			m.sort = keyName
		case !m.def:
		case w.adds:
			m.sort, m.of = column, w.data
		case w.top == "draws_on":
			m.sort, w.use = use, k.Text
		case w.top == "data":
			m.sort, w.data = dataFile, k.Text
		case w.top == "cautions":
			m.sort = caution
		case w.top == "tables", w.top == "charts":
			m.sort = block
		}
	} else if w.top == "" {
		w.top = k.Text
	} else if k.Text == "adds" {
		w.adds = true
	}
	r.add(m)
	r.value(inner, item, w)
}

// text walks a text of the front matter.
func (r *reading) text(e *tree.Entry, v *tree.Value, w way) {
	text := strings.TrimSpace(v.Text)
	lead := strings.Index(v.Text, text)
	at := v.Place(lead, lead+len(text))
	whole := mark{name: text, start: at.Start, end: at.End, entry: e}
	switch e.Reads {
	case tree.Formula:
		r.formula(v.Text, v.Place, w)
	case tree.Prose:
		if strings.Contains(v.Text, "{") {
			doc, _ := markdown.ParseText(v.Text, v.Place, false)
			r.placements(doc, w)
		}
	case tree.Given, tree.Figure:
		whole.sort = value
		r.add(whole)
	case tree.DataFile:
		whole.sort = dataFile
		r.add(whole)
	case tree.Column:
		name := strings.TrimSpace(strings.TrimPrefix(text, "-"))
		whole.sort, whole.of, whole.name, whole.start = column, w.data, name, at.End-len(name)
		r.add(whole)
	case tree.Cells, tree.Quantity, tree.Values:
		r.cells(whole, e)
	case tree.Warning:
		whole.sort = caution
		r.add(whole)
	case tree.Path:
		whole.sort = file
		r.add(whole)
	case tree.Chemical:
		whole.sort = substance
		r.add(whole)
	}
}

// cells marks a column of a data file, or a quantity.
func (r *reading) cells(whole mark, e *tree.Entry) {
	of, name, dotted := strings.Cut(whole.name, ".")
	if _, is := r.data[of]; dotted && is && e.Reads == tree.Cells {
		r.add(mark{sort: dataFile, name: of, start: whole.start, end: whole.start + len(of)})
		r.add(mark{sort: column, of: of, name: name, start: whole.end - len(name), end: whole.end})
		return
	}
	if q, trouble := quantity.Parse(whole.name); trouble == nil {
		whole.sort, whole.amount = amount, &q
		r.add(whole)
	}
}

// formula marks the names and quantities of a formula.
func (r *reading) formula(text string, place func(start, end int) source.Span, w way) {
	f, _ := formula.Parse(text, place)
	if f == nil {
		return
	}
	at := func(start, end int) (int, int) {
		s := f.SpanOf(&formula.Node{Start: start, End: end})
		return s.Start, s.End
	}
	for _, t := range f.Tokens() {
		start, end := at(t.Start, t.End)
		r.tokens = append(r.tokens, token{t.Kind, start, end})
		switch t.Kind {
		case formula.Function:
			r.add(mark{sort: function, name: f.Normal()[t.Start:t.End], start: start, end: end})
		case formula.Literal:
			r.add(mark{sort: amount, name: f.Normal()[t.Start:t.End], start: start, end: end, amount: t.Value})
		}
	}
	for _, ref := range f.References() {
		if ref.Of == "" {
			start, end := at(ref.Start, ref.End)
			r.add(mark{sort: value, of: "", name: ref.Name, start: start, end: end, loose: w.data != ""})
			if w.data != "" {
				r.marks[len(r.marks)-1].of = w.data
			}
			continue
		}
		start, end := at(ref.Start, ref.Start+len(ref.Of))
		left := mark{sort: use, name: ref.Of, start: start, end: end}
		start, end = at(ref.End-len(ref.Name), ref.End)
		right := mark{sort: value, of: ref.Of, name: ref.Name, start: start, end: end}
		if _, is := r.data[ref.Of]; is {
			left.sort, right.sort = dataFile, column
		}
		r.add(left)
		r.add(right)
	}
}

// placements marks what the braces of a text hold.
func (r *reading) placements(doc *markdown.Document, w way) {
	for _, p := range doc.Placements() {
		name := p.Formula
		if r.placeable(name) {
			b := mark{sort: block, name: name, start: p.FormulaSpan.Start, end: p.FormulaSpan.End}
			if r.names("cautions", name) {
				b.sort = caution
			}
			r.add(b)
			continue
		}
		if _, is := page.BlockNamed(name); is {
			continue
		}
		if q, trouble := quantity.Parse(name); trouble == nil {
			r.add(mark{sort: amount, name: name, amount: &q, start: p.FormulaSpan.Start, end: p.FormulaSpan.End})
			continue
		}
		r.formula(name, p.FormulaSpan.Sub, way{data: w.data})
	}
}

// placeable reports whether a name is one of the page's cautions, tables or charts.
func (r *reading) placeable(name string) bool {
	return r.names("cautions", name) || r.names("tables", name) || r.names("charts", name)
}

// names reports whether something under a key of the page has a name.
func (r *reading) names(key, name string) bool {
	if r.front == nil {
		return false
	}
	v := r.front.Get(key)
	return v != nil && v.Shape == tree.Mapping && v.Get(name) != nil
}

// settle decides what bare names over rows are, once all names are known.
func (r *reading) settle() {
	for i := range r.marks {
		m := &r.marks[i]
		if !m.loose {
			continue
		}
		if r.names("given", m.name) || r.names("figures", m.name) {
			m.of = ""
		} else {
			m.sort = column
		}
	}
}

// markAt finds the mark at an offset, the narrowest one.
func (r *reading) markAt(offset int) (found mark, ok bool) {
	for _, m := range r.marks {
		if m.start <= offset && offset <= m.end && (!ok || m.end-m.start < found.end-found.start) {
			found, ok = m, true
		}
	}
	return found, ok
}
