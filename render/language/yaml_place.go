package language

import (
	"strings"

	"labsite/recipes/source"
)

// yamlPlace is a position in YAML, found from lines and indents alone, so that it is known while
// somebody types and the YAML is unfinished.
type yamlPlace struct {
	way      []string // keys from the outermost; "" is an item of a list
	key      bool     // a key is being typed, else a value
	typed    string   // what has been typed of it
	siblings []string // keys that the mapping already has
}

// part is a dash or a key that begins a line, with its column.
type part struct {
	column int
	key    string // "" for a dash
}

// yamlPlaceAt finds the position of a place, by its line and what the line holds before it.
func yamlPlaceAt(f *source.File, start, line int, before string) yamlPlace {
	own, rest, open := parts(before)
	column := len(before) - len(strings.TrimLeft(before, " "))
	if len(own) > 0 {
		column = own[0].column
	}
	first, _ := f.Place(start)
	var above []part
	var p yamlPlace
	innermost := column // the column of keys beside the one being typed, -1 once they are all found
	if n := len(own); n > 0 && own[n-1].key == "" {
		innermost = -1
	}
	for i := line - 1; i >= first && column > 0; i-- {
		text := f.Line(i)
		if strings.TrimSpace(text) == "" || strings.HasPrefix(strings.TrimSpace(text), "#") {
			continue
		}
		found, _, _ := parts(text + " ")
		for j := len(found) - 1; j >= 0; j-- {
			x := found[j]
			dash := len(above) == 0 && len(own) > 0 && own[0].key == "" || len(above) > 0 && above[0].key == ""
			switch {
			case x.column == innermost && x.key != "":
				p.siblings = append(p.siblings, x.key)
			case x.column < column, dash && x.column == column && x.key != "":
				above, column = append([]part{x}, above...), x.column
				innermost = -1
			}
		}
	}
	if column == 0 && innermost == 0 {
		for i := first; i <= f.Lines(); i++ {
			if found, _, _ := parts(f.Line(i) + " "); i != line && len(found) > 0 && found[0].column == 0 {
				p.siblings = append(p.siblings, found[0].key)
			}
		}
	}
	for _, x := range append(above, own...) {
		p.way = append(p.way, x.key)
	}
	p.key, p.typed = !open, rest
	if open {
		p.flow(rest)
	}
	return p
}

// parts takes a line apart: the dashes and the key that it begins with, and what follows. open
// says that a value has begun.
func parts(line string) (out []part, rest string, open bool) {
	at := 0
	for {
		for at < len(line) && line[at] == ' ' {
			at++
		}
		if !strings.HasPrefix(line[at:], "- ") {
			break
		}
		out = append(out, part{at, ""})
		at += 2
	}
	rest = line[at:]
	if i := strings.Index(rest, ": "); i > 0 && !strings.ContainsAny(rest[:i], "{}[]\"' ,#") {
		return append(out, part{at, rest[:i]}), strings.TrimLeft(rest[i+2:], " "), true
	}
	if i := len(rest) - 1; i > 0 && rest[i] == ':' && !strings.ContainsAny(rest[:i], "{}[]\"' ,#") {
		return append(out, part{at, rest[:i]}), "", true
	}
	return out, rest, strings.HasPrefix(rest, "{") || strings.HasPrefix(rest, "[") || strings.HasPrefix(rest, "\"")
}

// flow continues the position into braces and brackets that are open where the text ends.
func (p *yamlPlace) flow(text string) {
	type level struct {
		list     bool
		key      string
		siblings []string
	}
	var levels []level
	quote := byte(0)
	from := 0
	for i := 0; i < len(text); i++ {
		x := text[i]
		top := len(levels) - 1
		switch {
		case quote != 0:
			if x == quote {
				quote = 0
			}
		case (x == '"' || x == '\'') && strings.TrimSpace(text[from:i]) == "":
			quote, from = x, i+1
		case x == '{' || x == '[':
			if strings.TrimSpace(text[from:i]) == "" {
				levels, from = append(levels, level{list: x == '['}), i+1
			}
		case top < 0:
		case x == '}' || x == ']':
			levels, from = levels[:top], i+1
		case x == ',':
			levels[top].key, from = "", i+1
		case x == ':' && !levels[top].list && levels[top].key == "" && i+1 < len(text) && text[i+1] == ' ':
			levels[top].key = strings.TrimSpace(text[from:i])
			levels[top].siblings = append(levels[top].siblings, levels[top].key)
			from = i + 1
		}
	}
	p.typed = strings.TrimLeft(text[from:], " ")
	for _, l := range levels {
		switch {
		case l.list:
			p.way = append(p.way, "")
		case l.key != "":
			p.way = append(p.way, l.key)
		}
	}
	if n := len(levels); n > 0 && !levels[n-1].list && levels[n-1].key == "" {
		p.key, p.siblings = true, levels[n-1].siblings
	}
}
