package shelf

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"

	"labsite/recipes/source/tree"
)

// edit is a stretch of a page's text and what takes its place.
type edit struct {
	start, end int
	text       string
}

// changed is the text after all edits, none of which may overlap another.
func changed(text string, edits []edit) string {
	slices.SortStableFunc(edits, func(a, b edit) int { return cmp.Compare(a.start, b.start) })
	var b strings.Builder
	at := 0
	for _, e := range edits {
		b.WriteString(text[at:e.start])
		b.WriteString(e.text)
		at = e.end
	}
	b.WriteString(text[at:])
	return b.String()
}

// scalar is where a scalar stands, its quotes included.
func (o *original) scalar(v *tree.Value) (start, end int) {
	start, end = v.Span.Start, v.Span.End
	text := o.file.Text
	if start > 0 && end < len(text) && (text[start-1] == '"' || text[start-1] == '\'') && text[end] == text[start-1] {
		return start - 1, end + 1
	}
	return start, end
}

// end is where a value ends, its closing bracket included.
func (o *original) end(v *tree.Value) int {
	if v.Shape == tree.Scalar {
		_, end := o.scalar(v)
		return end
	}
	end := v.Span.End
	for _, item := range v.Items {
		end = max(end, o.end(item))
	}
	if v.Flow {
		end += strings.IndexAny(o.file.Text[end:], "]}") + 1
	}
	return end
}

// say puts a text in a scalar's place.
func (o *original) say(v *tree.Value, text string) edit {
	start, end := o.scalar(v)
	return edit{start, end, text}
}

// without takes a key and its value out of a set of keys; false if the key is not there.
func (o *original) without(set *tree.Value, key string) (edit, bool) {
	v := set.Get(key)
	if v == nil {
		return edit{}, false
	}
	text := o.file.Text
	start, end := v.Key.Start, o.end(v)
	if set.Flow {
		if before := strings.TrimRight(text[:start], " \n"); strings.HasSuffix(before, ",") {
			return edit{len(before) - 1, end, ""}, true
		}
		for end < len(text) && (text[end] == ',' || text[end] == ' ') {
			end++
		}
		return edit{start, end, ""}, true
	}
	start = strings.LastIndexByte(text[:start], '\n') + 1
	if n := strings.IndexByte(text[end:], '\n'); n >= 0 {
		end += n + 1
	}
	return edit{start, end, ""}, true
}

// with adds a key and its text to a set of keys, after its first one.
func (o *original) with(set *tree.Value, key, value string) edit {
	text := o.file.Text
	first := set.Keys[0].Span.Start
	at := o.end(set.Items[0])
	if set.Flow {
		return edit{at, at, ", " + key + ": " + value}
	}
	indent := first - strings.LastIndexByte(text[:first], '\n') - 1
	return edit{at, at, "\n" + strings.Repeat(" ", indent) + key + ": " + value}
}

// quoted is a text as YAML takes it in double quotes.
func quoted(text string) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.Encode(text)
	return strings.TrimSpace(b.String())
}
