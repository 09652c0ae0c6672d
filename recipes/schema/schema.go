package schema

import (
	"bytes"
	"encoding/json"

	"labsite/recipes/source/tree"
)

// dialect is the version of JSON Schema that is written.
const dialect = "https://json-schema.org/draft/2020-12/schema"

// Of writes a table as a schema, with a title.
func Of(title string, table *tree.Entry) []byte {
	s := of(table)
	s["$schema"], s["title"] = dialect, title
	return written(s)
}

func written(v any) []byte {
	var b bytes.Buffer
	to := json.NewEncoder(&b)
	to.SetEscapeHTML(false)
	to.SetIndent("", "  ")
	if err := to.Encode(v); err != nil {
		panic(err) // maps of texts always encode
	}
	return b.Bytes()
}

type object = map[string]any

// of is the schema of an entry's value.
func of(e *tree.Entry) object {
	var ways []object
	if e.Reads != tree.Nowhere {
		ways = append(ways, text(e))
	}
	if e.Item != nil {
		ways = append(ways, object{"type": "array", "items": of(e.Item)})
	}
	if e.Keys != nil {
		ways = append(ways, keys(e))
	}
	if !e.Needed && e.Name != "" {
		ways = append(ways, object{"type": "null"})
	}
	out := object{"anyOf": ways}
	if len(ways) == 1 {
		out = ways[0]
	}
	if e.Says != "" {
		out["description"] = e.Says
	}
	return out
}

// text is the schema of a scalar. The program reads each as it is written; other readers of
// YAML turn some into numbers and truth values.
func text(e *tree.Entry) object {
	switch {
	case e.Words != nil:
		var all []any
		for _, w := range e.Words {
			if all = append(all, w); w == "true" || w == "false" {
				all = append(all, w == "true")
			}
		}
		return object{"enum": all}
	case e.Reads == tree.Whole:
		return object{"type": []string{"integer", "string"}, "pattern": "^[0-9]+$"}
	case e.Reads == tree.Date:
		return object{"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
	case e.Reads == tree.Quantity, e.Reads == tree.Formula, e.Reads == tree.Values, e.Reads == tree.Plain, e.Reads == tree.Cells:
		return object{"type": []string{"string", "number", "boolean"}}
	}
	return object{"type": []string{"string", "number"}}
}

// keys is the schema of a set of keys.
func keys(e *tree.Entry) object {
	known, required := object{}, []string{}
	out := object{"type": "object", "additionalProperties": false}
	for i := range e.Keys {
		k := &e.Keys[i]
		if k.Name == tree.Chosen {
			out["additionalProperties"] = of(k)
			if k.Names == tree.NewName {
				out["propertyNames"] = object{"pattern": "^[a-z][a-z0-9_]{0,59}$"}
			}
			continue
		}
		known[k.Name] = of(k)
		if k.Needed {
			required = append(required, k.Name)
		}
	}
	if len(known) > 0 {
		out["properties"] = known
	}
	if len(required) > 0 {
		out["required"] = required
	}
	return out
}
