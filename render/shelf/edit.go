package shelf

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"

	"labsite/recipes/source/tree"
)

// edit is a stretch of a page's text and what replaces it.
type edit struct {
	start, end int
	text       string
}

// changed is the text after all edits, which must not overlap.
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

// scalar is where a scalar is, its quotes included.
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

// say replaces a scalar by a text.
func (o *original) say(v *tree.Value, text string) edit {
	start, end := o.scalar(v)
	return edit{start, end, text}
}

// without removes a key and its value from a mapping; false if the key is not there.
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

// with adds a key and its text to a mapping, after its first one.
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

// quoted is a text in double quotes, as YAML reads it.
func quoted(text string) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.Encode(text)
	return strings.TrimSpace(b.String())
}
