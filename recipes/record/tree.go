package record

import (
	"encoding/json"
	"errors"
	"io"
	"strings"

	"labsite/recipes/source"
)

// Bounds of a record. A run of a hundred steps with a note each takes about 30 KB.
const (
	MostBytes = 512 << 10
	mostDeep  = 6
	mostNodes = 20_000
	mostText  = 1_000 // bytes of one text
)

// node is one value of the file.
type node struct {
	shape byte // '{', '[', or '"' for a single value
	text  string
	null  bool
	span  source.Span
	keys  []string
	items []*node
}

// get finds the value of a key, nil if it is missing.
func (n *node) get(key string) *node {
	if n == nil {
		return nil
	}
	for i, k := range n.keys {
		if k == key {
			return n.items[i]
		}
	}
	return nil
}

// reader reads JSON with the place of each value.
type reader struct {
	file  *source.File
	json  *json.Decoder
	nodes int
	// at is where reading failed.
	at source.Span
}

// parse reads a file as a tree; the diagnostic says why it cannot.
func parse(f *source.File) (*node, *source.Diagnostic) {
	r := &reader{file: f, json: json.NewDecoder(strings.NewReader(f.Text))}
	r.json.UseNumber()
	n, err := r.value(0)
	if err == nil {
		if _, more := r.json.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("something follows its end")
			r.place()
		}
	}
	if err == nil && n.shape != '{' {
		err = errors.New("it is not a set of keys")
	}
	if err == nil {
		return n, nil
	}
	why := err.Error()
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		why = "it ends too soon"
	case errors.As(err, &syntax):
		why = "it is not JSON here"
		end := min(int(syntax.Offset), len(f.Text))
		r.at = f.Span(max(0, end-1), end)
	}
	d := source.RecordNotRead(why).At(r.at)
	return nil, &d
}

// place notes the place of the token that was read last.
func (r *reader) place() source.Span {
	end := min(int(r.json.InputOffset()), len(r.file.Text))
	start := max(0, end-1)
	r.at = r.file.Span(start, end)
	return r.at
}

// value reads one value, at a depth.
func (r *reader) value(depth int) (*node, error) {
	from := int(r.json.InputOffset())
	t, err := r.json.Token()
	r.place()
	if err != nil {
		return nil, err
	}
	for from < len(r.file.Text) && strings.IndexByte(" \t\r\n,:", r.file.Text[from]) >= 0 {
		from++
	}
	n := &node{shape: '"', span: r.file.Span(from, max(from, int(r.json.InputOffset())))}
	if r.nodes++; r.nodes > mostNodes {
		return nil, errors.New("it holds more than any run could")
	}
	switch t := t.(type) {
	case json.Delim:
		if depth >= mostDeep {
			return nil, errors.New("its parts are nested too deeply")
		}
		n.shape = byte(t)
		return n, r.inside(n, depth)
	case string:
		n.text = t
	case json.Number:
		n.text = t.String()
	case bool:
		n.text = map[bool]string{true: "true", false: "false"}[t]
	default:
		n.null = true
	}
	if len(n.text) > mostText {
		r.at = n.span
		return nil, errors.New("it has a text of more than 1,000 bytes")
	}
	return n, nil
}

// inside reads what is in an object or a list, and its end.
func (r *reader) inside(n *node, depth int) error {
	for r.json.More() {
		if n.shape == '{' {
			key, err := r.json.Token()
			r.place()
			if err != nil {
				return err
			}
			name, _ := key.(string)
			if n.get(name) != nil {
				return errors.New("it says " + name + " twice")
			}
			n.keys = append(n.keys, name)
		}
		item, err := r.value(depth + 1)
		if err != nil {
			return err
		}
		n.items = append(n.items, item)
	}
	_, err := r.json.Token()
	r.place()
	return err
}
